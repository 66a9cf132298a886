// The names under which the contract travels between preload and main process.
import type { CallName, EventName } from '../../shared/contract/contract.ts';

export const callChannel = (name: CallName) => `notchwise:call:${name}`;
export const eventChannel = (name: EventName) => `notchwise:event:${name}`;

/** Our own scheme and its only host: pages are never read from file:// or the network. */
export const APP_SCHEME = 'notchwise';
export const APP_ORIGIN = `${APP_SCHEME}://app`;
