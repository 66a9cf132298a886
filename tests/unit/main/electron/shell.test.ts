import { readFileSync } from 'node:fs';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { appProtocol, SCHEME_PRIVILEGES } from '../../../../main/electron/appProtocol.ts';
import { APP_ORIGIN } from '../../../../main/electron/channels.ts';
import { makeDialogs } from '../../../../main/electron/dialogs.ts';
import { lockContents, lockSession } from '../../../../main/electron/lockdown.ts';
import { menuTemplate } from '../../../../main/electron/menu.ts';
import { windowOptions } from '../../../../main/electron/windowOptions.ts';
import { CONTENT_SECURITY_POLICY } from '../../../../main/service/pageFiles.ts';

describe('the desktop’s window', () => {
  it('is isolated, sandboxed and without Node', () => {
    expect(windowOptions('/app/preload.cjs').webPreferences).toEqual({
      preload: '/app/preload.cjs',
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      webviewTag: false,
      spellcheck: false,
    });
  });

  it('may not navigate, open windows or attach web views', () => {
    const prevented: string[] = [];
    const listeners = new Map<string, (event: { preventDefault(): void }) => void>();
    let open: () => { action: string } = () => ({ action: 'allow' });
    lockContents({
      on: (event: string, listener: (event: { preventDefault(): void }) => void) => listeners.set(event, listener),
      setWindowOpenHandler: (handler) => {
        open = handler;
      },
    });
    for (const [name, listener] of listeners) listener({ preventDefault: () => prevented.push(name) });
    expect(prevented.sort()).toEqual(['will-attach-webview', 'will-frame-navigate', 'will-navigate']);
    expect(open()).toEqual({ action: 'deny' });
  });

  it('gets no permission, asked or checked', () => {
    const answers: unknown[] = [];
    lockSession({
      setPermissionRequestHandler: (handler) => handler({}, 'media', (granted) => answers.push(granted)),
      setPermissionCheckHandler: (handler) => answers.push(handler()),
    });
    expect(answers).toEqual([false, false]);
  });
});

describe('our own scheme', () => {
  it('bypasses nothing', () => {
    expect(SCHEME_PRIVILEGES).toEqual({ standard: true, secure: true, supportFetchAPI: true });
  });

  it('serves the folder’s files with the policy, and 404 for everything else', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'notchwise-scheme-'));
    await writeFile(join(folder, 'index.html'), 'the page');
    const serve = appProtocol(folder);
    const page = await serve(new Request(`${APP_ORIGIN}/index.html?x#y`));
    expect([page.status, await page.text()]).toEqual([200, 'the page']);
    expect(page.headers.get('content-security-policy')).toBe(CONTENT_SECURITY_POLICY);
    for (const url of [
      `${APP_ORIGIN}/../index.html/../../x.html`,
      `${APP_ORIGIN}/%2e%2e/x.html`,
      `${APP_ORIGIN}/..%2fx.html`,
      `${APP_ORIGIN}/missing.html`,
      'notchwise://other/index.html',
      'https://evil.example/index.html',
    ]) {
      expect((await serve(new Request(url))).status).toBe(404);
    }
    expect((await serve(new Request(`${APP_ORIGIN}/index.html`, { method: 'POST' }))).status).toBe(404);
    await rm(folder, { recursive: true });
  });
});

describe('menu and dialogs', () => {
  it('sends what the window does itself', () => {
    const chosen: string[] = [];
    const template = menuTemplate('linux', (item) => chosen.push(item));
    for (const menu of template) {
      for (const entry of Array.isArray(menu.submenu) ? menu.submenu : []) {
        // The click of our own entries uses none of electron's arguments.
        if (entry.click) (entry.click as () => void)();
      }
    }
    expect(chosen).toEqual(['new', 'open', 'save', 'save-as', 'report', 'undo', 'redo']);
  });

  it('has the application menu first on a Mac', () => {
    expect(menuTemplate('darwin', () => {})[0]).toEqual({ role: 'appMenu' });
  });

  it('gives nothing when the person changes their mind', async () => {
    const dialogs = makeDialogs(
      {
        showOpenDialog: async () => ({ canceled: true, filePaths: ['/x'] }),
        showSaveDialog: async () => ({ canceled: true, filePath: '/x' }),
      },
      '/home',
    );
    expect(await dialogs.pickFiles('photos')).toEqual([]);
    expect(await dialogs.pickTarget('a.svg')).toBeNull();
  });
});

describe('packaging', () => {
  const config = parse(readFileSync('electron-builder.yml', 'utf8')) as Record<string, unknown>;

  it('flips every fuse that lets the runtime be talked into something', () => {
    expect(config.electronFuses).toMatchObject({
      runAsNode: false,
      enableNodeOptionsEnvironmentVariable: false,
      enableNodeCliInspectArguments: false,
      grantFileProtocolExtraPrivileges: false,
      enableEmbeddedAsarIntegrityValidation: true,
      onlyLoadAppFromAsar: true,
    });
  });

  it('uses only words that the builder knows', () => {
    // The builder's own schema, from the registry.
    const schema = JSON.parse(readFileSync('node_modules/app-builder-lib/scheme.json', 'utf8')) as {
      readonly properties: Record<string, unknown>;
      readonly definitions: { readonly FuseOptionsV1: { readonly properties: Record<string, unknown> } };
    };
    expect(Object.keys(config).filter((key) => !(key in schema.properties))).toEqual([]);
    const fuses = Object.keys(config.electronFuses as object);
    expect(fuses.filter((key) => !(key in schema.definitions.FuseOptionsV1.properties))).toEqual([]);
  });

  it('packs an archive and starts the built shell', () => {
    expect(config).toMatchObject({
      appId: 'org.notchwise.app',
      asar: true,
      extraMetadata: { main: 'dist/electron/index.js' },
    });
  });
});
