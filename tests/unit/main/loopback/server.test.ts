import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type LoopbackServer, startLoopback } from '../../../../main/loopback/server.ts';
import { CONTENT_SECURITY_POLICY } from '../../../../main/service/pageFiles.ts';
import type { EventListener } from '../../../../main/service/parts.ts';
import { ask } from '../../../support/loopbackClient.ts';

const TOKEN = 'test-token-of-this-run';
let folder: string;
let server: LoopbackServer;
let tell: EventListener = () => {};
const asked: unknown[] = [];

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'notchwise-page-'));
  await writeFile(join(folder, 'index.html'), '<!doctype html><title>page</title>');
  const started = await startLoopback({
    dispatch: async (name, args) => {
      asked.push([name, args]);
      if (name === 'explode') throw new Error('no dispatch may do this');
      return { ok: true, value: { bytes: new Uint8Array([1, 2, 3]), name } } as never; // any value: only the carrier is tested
    },
    listen: (listener) => {
      tell = listener;
      return () => {};
    },
    rendererFolder: folder,
    token: TOKEN,
    port: 0,
    reportBug: async () => 'A fault of the program.',
  });
  if (!started.ok) throw new Error(started.error.sentence);
  server = started.value;
});
afterAll(async () => {
  await server.close();
  await rm(folder, { recursive: true });
});

/** A raw request, because fetch will not send another Host or a path with dots. */
function raw(
  path: string,
  headers: Record<string, string> = {},
  method = 'GET',
): Promise<{ status: number; body: string }> {
  return new Promise((done, failed) => {
    const { hostname, port } = new URL(server.origin);
    const sent = request({ hostname, port, path, method, headers }, (response) => {
      let body = '';
      response.on('data', (chunk: Buffer) => {
        body += chunk.toString();
      });
      response.on('end', () => done({ status: response.statusCode ?? 0, body }));
    });
    sent.on('error', failed);
    sent.end();
  });
}

describe('the loopback server', () => {
  it('listens on 127.0.0.1 only and keeps the token out of every request line', () => {
    expect(new URL(server.address).hostname).toBe('127.0.0.1');
    expect(server.address).toBe(`${server.origin}/#${TOKEN}`);
  });

  it('serves the page with its policy', async () => {
    const response = await fetch(server.origin);
    expect(await response.text()).toContain('<title>page</title>');
    expect(response.headers.get('content-security-policy')).toBe(CONTENT_SECURITY_POLICY);
    expect(response.headers.get('x-content-type-options')).toBe('nosniff');
  });

  it('serves nothing outside the folder', async () => {
    for (const path of ['/../package.json', '/%2e%2e/package.json', '/..%2f..%2fetc/passwd', '/nothing.js']) {
      expect((await raw(path)).status).toBe(404);
    }
  });

  it('carries requests and bytes', async () => {
    const answer = await ask(server.origin, TOKEN, 'photos.add', { a: new Uint8Array([9]) });
    expect(answer).toEqual({
      status: 200,
      reply: { ok: true, value: { bytes: new Uint8Array([1, 2, 3]), name: 'photos.add' } },
    });
    expect(asked.at(-1)).toEqual(['photos.add', { a: new Uint8Array([9]) }]);
  });

  it('answers nobody without the token, from another page, by another name or in another form', async () => {
    const before = asked.length;
    expect((await ask(server.origin, 'wrong', 'app.info', {})).status).toBe(403);
    expect((await ask(server.origin, TOKEN, 'app.info', {}, { Origin: 'http://evil.example' })).status).toBe(403);
    expect((await ask(server.origin, TOKEN, 'app.info', {}, { 'Content-Type': 'text/plain' })).status).toBe(415);
    expect((await raw('/', { Host: 'evil.example' })).status).toBe(403);
    expect((await raw('/api/app.info', { 'X-Notchwise-Token': TOKEN })).status).toBe(405);
    expect((await raw('/', {}, 'POST')).status).toBe(405);
    expect((await raw('/api/events?token=wrong')).status).toBe(403);
    expect(asked.length).toBe(before);
  });

  it('says that a damaged message is damaged', async () => {
    const response = await fetch(`${server.origin}/api/app.info`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/x-notchwise-frame', 'X-Notchwise-Token': TOKEN },
      body: new Uint8Array([0, 0, 0, 99, 1]),
    });
    expect(await response.text()).toContain('broken-message');
  });

  it('shows a sentence, not a trace, when something breaks that should not', async () => {
    const { status, body } = await (async () => {
      const answer = await fetch(`${server.origin}/api/explode`, {
        method: 'POST',
        headers: { 'Content-Type': 'application/x-notchwise-frame', 'X-Notchwise-Token': TOKEN },
        body: new Uint8Array([0, 0, 0, 2, 0x7b, 0x7d]),
      });
      return { status: answer.status, body: await answer.text() };
    })();
    expect([status, body]).toEqual([500, 'A fault of the program.']);
  });

  it('streams events', async () => {
    const response = await fetch(`${server.origin}/api/events?token=${TOKEN}`);
    const reader = response.body!.pipeThrough(new TextDecoderStream()).getReader();
    await reader.read(); // the comment that opens the stream
    tell('job.ended', { job: 'j1', state: 'done' });
    expect((await reader.read()).value).toBe('event: job.ended\ndata: {"job":"j1","state":"done"}\n\n');
    await reader.cancel();
  });

  it('a port that is taken is a sentence', async () => {
    const taken = await startLoopback({
      dispatch: async () => ({ ok: false, error: { code: 'x', sentence: 'x' } }),
      listen: () => () => {},
      rendererFolder: folder,
      token: TOKEN,
      port: Number(new URL(server.origin).port),
      reportBug: async () => '',
    });
    expect(taken).toMatchObject({ ok: false, error: { code: 'no-port' } });
  });
});
