// The desktop shell's entry: wires the host to electron. Everything that decides something is in the files beside this one,
// where it can be tested without the runtime.
import { randomBytes } from 'node:crypto';
import { homedir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { app, BrowserWindow, dialog, ipcMain, Menu, protocol, session } from 'electron';
import { realDisk } from '../files/disk.ts';
import { reportBug } from '../files/errorLog.ts';
import { userFolders } from '../files/userFolders.ts';
import { makeWorkerPool } from '../imaging/workerPool.ts';
import { makeDispatch } from '../service/dispatch.ts';
import { makeHost } from '../service/host.ts';
import { appProtocol, SCHEME_PRIVILEGES } from './appProtocol.ts';
import { APP_ORIGIN, APP_SCHEME, eventChannel } from './channels.ts';
import { makeDialogs } from './dialogs.ts';
import { lockContents, lockSession } from './lockdown.ts';
import { menuTemplate } from './menu.ts';
import { registerCalls } from './register.ts';
import { windowOptions } from './windowOptions.ts';

// Bundled to dist/electron/index.js; preload and renderer lie beside it.
const HERE = fileURLToPath(new URL('.', import.meta.url));
const folders = userFolders({ platform: process.platform, home: homedir(), env: process.env });
const bug = (error: unknown) => reportBug(realDisk, folders.logs, error, new Date());

protocol.registerSchemesAsPrivileged([{ scheme: APP_SCHEME, privileges: SCHEME_PRIVILEGES }]);
app.on('window-all-closed', () => app.quit());
app.whenReady().then(start).catch(stop);

async function start(): Promise<void> {
  const named = process.argv.slice(1).find((argument) => /\.(notchwise|json)$/i.test(argument));
  const host = await makeHost({
    kind: 'desktop',
    version: app.getVersion(),
    disk: realDisk,
    folders,
    pool: makeWorkerPool(),
    dialogs: makeDialogs(
      {
        showOpenDialog: (options) => dialog.showOpenDialog(options),
        showSaveDialog: (options) => dialog.showSaveDialog(options),
      },
      folders.archive,
    ),
    now: () => new Date(),
    newHandle: () => randomBytes(16).toString('hex'),
    openAtStart: named ?? null,
    reportBug: bug,
  });
  if (!host.ok) {
    dialog.showErrorBox('Notchwise', host.error.sentence);
    return app.quit();
  }
  lockSession(session.defaultSession);
  protocol.handle(APP_SCHEME, appProtocol(join(HERE, '..', 'renderer')));
  registerCalls(ipcMain, makeDispatch(host.value.handlers, bug), (sentence) => process.stderr.write(`${sentence}\n`));

  const window = new BrowserWindow(windowOptions(join(HERE, 'preload.cjs')));
  lockContents(window.webContents);
  host.value.listen((name, value) => window.webContents.send(eventChannel(name), value));
  Menu.setApplicationMenu(
    Menu.buildFromTemplate(
      menuTemplate(process.platform, (item) => window.webContents.send(eventChannel('menu.chosen'), { item })),
    ),
  );
  window.once('ready-to-show', () => window.show());
  app.on('before-quit', () => void host.value.close());
  await window.loadURL(`${APP_ORIGIN}/index.html`);
}

async function stop(error: unknown): Promise<void> {
  dialog.showErrorBox('Notchwise', await bug(error));
  app.exit(1);
}
