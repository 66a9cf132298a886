// What the window asks about fit: the table for one body in one size, and changes of the bodies and the cloth, each one step.
import type { Failure, Result } from '../../shared/base/result.ts';
import type { CallArgs, CallReply, CallValue } from '../../shared/contract/contract.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { currentSet } from '../state/windowState.ts';
import type { ActionParts } from './actionParts.ts';
import { readFiles } from './files.ts';

export type FitTable = CallValue<'fit.read'>;
export type FitNames = CallValue<'fit.names'>;
type BodyChange = CallArgs<'fit.setBody'>['body'];
type Edit = (label: string, change: (set: PatternSet) => PatternSet) => void;

export function makeFitActions({ store, bridge, tell, refuse, keeper }: ActionParts, edit: Edit) {
  type Ask = (set: ReturnType<typeof keeper.documentOf>) => Promise<CallReply<'fit.setBody'>>;
  let last: Promise<void> = Promise.resolve();
  /**
   * A change that the host works out on the set as it is, kept as one step of the history. Changes wait for one another, so
   * that fields may be filled faster than the host answers; a set that was changed elsewhere meanwhile is asked about anew.
   */
  const change = (ask: Ask): Promise<void> => {
    last = last.then(() => changeNow(ask));
    return last;
  };
  const changeNow = async (ask: Ask): Promise<void> => {
    const from = currentSet(store.get());
    if (from === null) return;
    const reply = await ask(keeper.documentOf(from));
    if (!reply.ok) return refuse(reply.error);
    if (currentSet(store.get()) !== from) return changeNow(ask);
    const set = keeper.modelOf(reply.value.set);
    if (set !== null) edit(reply.value.sentence.replace(/\.$/, ''), () => set);
  };
  return {
    fitNames: async (): Promise<FitNames | null> => {
      const reply = await bridge.call['fit.names']({});
      if (reply.ok) return reply.value;
      refuse(reply.error);
      return null;
    },
    readFit: async (set: PatternSet, body: string | null, size: string | null): Promise<Result<FitTable, Failure>> =>
      bridge.call['fit.read']({ set: keeper.documentOf(set), body, size }),
    setBody: (body: BodyChange): Promise<void> => change((set) => bridge.call['fit.setBody']({ set, body })),
    removeBody: (name: string): Promise<void> => change((set) => bridge.call['fit.removeBody']({ set, name })),
    importBodies: async (files: Iterable<File> | 'pick'): Promise<void> => {
      if (files === 'pick') return change((set) => bridge.call['fit.importTable']({ set, from: { kind: 'pick' } }));
      const { files: given, unread } = await readFiles(files);
      if (unread !== null) return tell('error', unread);
      const from = { kind: 'given' as const, files: [...given] };
      await change((set) => bridge.call['fit.importTable']({ set, from }));
    },
    useTable: (table: string, columns: Readonly<Record<string, string>>): Promise<void> =>
      change((set) => bridge.call['fit.useTable']({ set, table, columns: { ...columns } })),
    setFabric: (widthMm: number | null): Promise<void> =>
      change((set) => bridge.call['fit.setFabric']({ set, widthMm })),
  };
}
