// What a window may not do: navigate, open windows, attach web views, ask for permissions.

interface Preventable {
  preventDefault(): void;
}

/** The little of a web page's contents that is used. */
export interface ContentsPort {
  readonly on: {
    (event: 'will-navigate', listener: (event: Preventable) => void): unknown;
    (event: 'will-frame-navigate', listener: (event: Preventable) => void): unknown;
    (event: 'will-attach-webview', listener: (event: Preventable) => void): unknown;
  };
  readonly setWindowOpenHandler: (handler: () => { action: 'deny' }) => void;
}

export interface SessionPort {
  readonly setPermissionRequestHandler: (
    handler: (contents: unknown, permission: string, answer: (granted: boolean) => void) => void,
  ) => void;
  readonly setPermissionCheckHandler: (handler: () => boolean) => void;
}

export function lockContents(contents: ContentsPort): void {
  contents.on('will-navigate', (event) => event.preventDefault());
  contents.on('will-frame-navigate', (event) => event.preventDefault());
  contents.on('will-attach-webview', (event) => event.preventDefault());
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
}

/** The program needs no permission of the browser's at all. */
export function lockSession(session: SessionPort): void {
  session.setPermissionRequestHandler((_contents, _permission, answer) => answer(false));
  session.setPermissionCheckHandler(() => false);
}
