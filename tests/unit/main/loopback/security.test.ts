import { describe, expect, it } from 'vitest';
import { browserCommand, hasDisplay } from '../../../../main/loopback/openBrowser.ts';
import { isOwnHost, isOwnOrigin, isToken } from '../../../../main/loopback/security.ts';
import { CONTENT_SECURITY_POLICY, servedFile } from '../../../../main/service/pageFiles.ts';

describe('which files are served', () => {
  it('only those inside the very folder, of a kind a page needs', () => {
    expect(servedFile('/app/renderer', '/')).toEqual({
      path: '/app/renderer/index.html',
      mime: 'text/html; charset=utf-8',
    });
    expect(servedFile('/app/renderer', '/assets/index-1.js')?.path).toBe('/app/renderer/assets/index-1.js');
  });
  for (const hostile of [
    '/../secret.html',
    '/%2e%2e/secret.html',
    '/assets/..%2f..%2fsecret.html',
    '/assets/%2e%2e/%2e%2e/secret.html',
    '//etc/secret.html/../../..',
    '/..%5csecret.html',
    '/C:/secret.html',
    '/index.html%00.js',
    '/%',
    '/../renderer-of-another/index.html',
    '/index.ts',
    '/.env',
    '/assets',
    'index.html',
    '',
  ]) {
    it(`not ${JSON.stringify(hostile)}`, () => expect(servedFile('/app/renderer', hostile)).toBeNull());
  }
  it('a name that only looks hostile stays inside', () => {
    expect(servedFile('/app/renderer', '/assets/../index.html')?.path).toBe('/app/renderer/index.html');
  });
});

describe('who may ask', () => {
  it('our own address, by no other name', () => {
    for (const host of ['127.0.0.1:5000', 'localhost:5000']) expect(isOwnHost(host, 5000)).toBe(true);
    for (const host of ['evil.example:5000', '127.0.0.1', '127.0.0.1:5001', '127.0.0.1:5000.evil.example', undefined]) {
      expect(isOwnHost(host, 5000)).toBe(false);
    }
  });
  it('our own page, or a request that comes from no page', () => {
    for (const origin of [undefined, 'http://127.0.0.1:5000']) expect(isOwnOrigin(origin, 5000)).toBe(true);
    for (const origin of ['null', 'http://evil.example', 'https://127.0.0.1:5000', 'http://127.0.0.1:5001']) {
      expect(isOwnOrigin(origin, 5000)).toBe(false);
    }
  });
  it('with the whole token', () => {
    expect(isToken('abc', 'abc')).toBe(true);
    for (const given of ['ab', 'abcd', '', undefined]) expect(isToken(given, 'abc')).toBe(false);
  });
});

describe('what the page may load', () => {
  it('nothing by default, never eval or inline script, nothing from elsewhere', () => {
    expect(CONTENT_SECURITY_POLICY).toContain("default-src 'none'");
    expect(CONTENT_SECURITY_POLICY).not.toMatch(/'unsafe-eval'|unsafe-inline|https?:|\*/);
  });
});

describe('the browser', () => {
  it('is opened where there is a display', () => {
    expect(hasDisplay({ platform: 'linux', env: {} })).toBe(false);
    expect(hasDisplay({ platform: 'linux', env: { WAYLAND_DISPLAY: 'wayland-0' } })).toBe(true);
    expect(hasDisplay({ platform: 'win32', env: {} })).toBe(true);
  });
  it('gets the address as an argument that no shell reads', () => {
    for (const platform of ['linux', 'darwin', 'win32'] as const) {
      expect(browserCommand(platform, 'http://a/#b&c')[1]).toContain('http://a/#b&c');
    }
  });
});
