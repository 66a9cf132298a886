// What the preload puts on the window: one function for each entry of the contract, values only. Never the raw channel, never
// an event object.
import { type Bridge, CALL_NAMES, EVENT_NAMES } from '../../shared/contract/contract.ts';
import { callChannel, eventChannel } from './channels.ts';

/** The little of the renderer's side of IPC that is used. */
export interface RendererIpc {
  readonly invoke: (channel: string, args: unknown) => Promise<unknown>;
  readonly on: (channel: string, listener: (event: unknown, value: unknown) => void) => unknown;
  readonly removeListener: (channel: string, listener: (event: unknown, value: unknown) => void) => unknown;
}

export function makeBridge(ipc: RendererIpc): Bridge {
  const call = Object.fromEntries(
    CALL_NAMES.map((name) => [name, (args: unknown) => ipc.invoke(callChannel(name), args)]),
  );
  const on = Object.fromEntries(
    EVENT_NAMES.map((name) => [
      name,
      (listener: (value: unknown) => void) => {
        const heard = (_event: unknown, value: unknown) => listener(value);
        ipc.on(eventChannel(name), heard);
        return () => {
          ipc.removeListener(eventChannel(name), heard);
        };
      },
    ]),
  );
  // Built from the same lists that the type is derived from; the compiler cannot follow the names through fromEntries.
  return { call, on } as unknown as Bridge;
}
