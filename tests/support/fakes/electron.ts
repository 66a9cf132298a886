// The desktop runtime as the whole suite sees it: its package downloads a program on import, so it is replaced here, once.
// Records what it is told; does nothing by itself.

type Listener = (event: unknown, value: unknown) => void;

type Partially<T> = T extends (...args: never[]) => unknown ? T : { readonly [K in keyof T]?: Partially<T[K]> };

export const exposed = new Map<string, unknown>();
export const invoked: { channel: string; args: unknown }[] = [];
const heard = new Map<string, Set<Listener>>();

/** Plays a message of the main process to the page. */
export function playEvent(channel: string, value: unknown): void {
  for (const listener of heard.get(channel) ?? []) listener({ senderId: 1 }, value);
}

export const contextBridge = {
  exposeInMainWorld: (key: string, api: unknown) => {
    exposed.set(key, api);
  },
} satisfies Partially<typeof import('electron').contextBridge>;

export const ipcRenderer = {
  invoke: async (channel: string, args: unknown) => {
    invoked.push({ channel, args });
    return { ok: true, value: { channel } };
  },
  on: (channel: string, listener: Listener) => {
    const listeners = heard.get(channel) ?? new Set();
    heard.set(channel, listeners.add(listener));
    return ipcRenderer as never;
  },
  removeListener: (channel: string, listener: Listener) => {
    heard.get(channel)?.delete(listener);
    return ipcRenderer as never;
  },
} satisfies Partially<typeof import('electron').ipcRenderer>;
