// The desktop runtime as the whole suite sees it: its package downloads a program on import, so it is replaced here, once.
// Records what it is told; does nothing by itself.

import type { IpcRendererEvent } from 'electron';

type Listener = (event: IpcRendererEvent, value: unknown) => void;

type Partially<T> = T extends (...args: never[]) => unknown ? T : { readonly [K in keyof T]?: Partially<T[K]> };

export const exposed = new Map<string, unknown>();
export const invoked: { channel: string; args: unknown }[] = [];
const heard = new Map<string, Set<Listener>>();

/** Never looked at; the preload's test proves that it is not passed on. */
const EVENT = { senderId: 1 } as unknown as IpcRendererEvent;
/** The runtime's functions give themselves back for chaining, which nobody here does. */
const CHAIN = undefined as never;

/** Plays a message of the main process to the page. */
export function playEvent(channel: string, value: unknown): void {
  for (const listener of heard.get(channel) ?? []) listener(EVENT, value);
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
    return CHAIN;
  },
  removeListener: (channel: string, listener: Listener) => {
    heard.get(channel)?.delete(listener);
    return CHAIN;
  },
} satisfies Partially<typeof import('electron').ipcRenderer>;
