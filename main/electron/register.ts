// The one place where messages from a window come in: known channels only, from our page's main frame only.
import { CALL_NAMES } from '../../shared/contract/contract.ts';
import type { Dispatch } from '../service/dispatch.ts';
import { APP_ORIGIN, callChannel } from './channels.ts';

/** The little of an IPC event that is looked at. */
export interface CallEvent {
  readonly senderFrame: { readonly url: string } | null;
  readonly sender: { readonly mainFrame: unknown };
}

export interface MainIpc {
  readonly handle: (channel: string, listener: (event: CallEvent, args: unknown) => Promise<unknown>) => void;
}

/** `log` hears of every refusal. */
export function registerCalls(ipc: MainIpc, dispatch: Dispatch, log: (sentence: string) => void): void {
  for (const name of CALL_NAMES) {
    ipc.handle(callChannel(name), async (event, args) => {
      if (isOurPage(event)) return dispatch(name, args);
      log(`${name} was refused to ${event.senderFrame?.url ?? 'a frame that is gone'}`);
      return {
        ok: false,
        error: { code: 'not-our-page', sentence: 'Only the program’s own window may ask for this.' },
      };
    });
  }
}

/** Main frame of its window, and a page of ours. */
function isOurPage({ senderFrame, sender }: CallEvent): boolean {
  if (senderFrame === null || senderFrame !== sender.mainFrame) return false;
  return URL.canParse(senderFrame.url) && senderFrame.url.startsWith(`${APP_ORIGIN}/`);
}
