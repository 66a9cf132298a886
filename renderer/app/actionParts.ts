// What every group of actions works with: the state, the host, and how things are said to the person.
import type { Failure } from '../../shared/base/result.ts';
import type { Bridge } from '../../shared/contract/contract.ts';
import type { Store } from '../state/store.ts';
import type { WindowState } from '../state/windowState.ts';
import type { makeKeeper } from './keeper.ts';

export interface ActionParts {
  readonly store: Store<WindowState>;
  readonly bridge: Bridge;
  readonly tell: (kind: 'error' | 'done', sentence: string) => void;
  /** Shows a refusal; not choosing a file is no error. */
  readonly refuse: (error: Failure) => void;
  readonly keeper: ReturnType<typeof makeKeeper>;
  /** Runs long work with words for what is being waited for. */
  readonly during: <R>(words: string, work: () => Promise<R>) => Promise<R>;
}
