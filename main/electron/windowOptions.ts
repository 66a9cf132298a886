// How the desktop's window is made: a plain object, so that a test can read every security setting.
import type { BrowserWindowConstructorOptions } from 'electron';

export function windowOptions(preloadFile: string): BrowserWindowConstructorOptions {
  return {
    width: 1280,
    height: 860,
    minWidth: 720,
    minHeight: 520,
    show: false,
    title: 'Notchwise',
    backgroundColor: '#ffffff',
    webPreferences: {
      preload: preloadFile,
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      webviewTag: false,
      spellcheck: false,
    },
  };
}
