// What the window can do, each as one function: changes of the set go through the history and to the host, requests to the
// host come back as state or as one sentence. Components call these and nothing else.
import type { Failure } from '../../shared/base/result.ts';
import type { Bridge } from '../../shared/contract/contract.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { commit, redo, redoLabel, undo, undoLabel } from '../state/history.ts';
import type { Store } from '../state/store.ts';
import { type Area, currentSet, type GoTo, type Selection, type WindowState } from '../state/windowState.ts';
import type { ActionParts } from './actionParts.ts';
import { makeCaptureActions } from './captureActions.ts';
import { makeChangeActions } from './changeActions.ts';
import { makeFileActions } from './fileActions.ts';
import { makeFitActions } from './fitActions.ts';
import { makeKeeper } from './keeper.ts';

export type Actions = ReturnType<typeof makeActions>;

/** How long a sentence about something done stays; errors stay until they are closed. */
const DONE_SHOWN_MS = 6000;

export function makeActions(store: Store<WindowState>, bridge: Bridge) {
  let messages = 0;
  const tell: ActionParts['tell'] = (kind, sentence) => {
    const id = ++messages;
    store.set((s) => ({ ...s, messages: [...s.messages.slice(-3), { id, kind, sentence }] }));
    if (kind === 'done') setTimeout(() => dismiss(id), DONE_SHOWN_MS);
  };
  const dismiss = (id: number) => store.set((s) => ({ ...s, messages: s.messages.filter((m) => m.id !== id) }));
  const refuse = (error: Failure) => {
    if (error.code !== 'not-chosen') tell('error', error.sentence);
  };
  const keeper = makeKeeper(store, bridge, refuse);
  const during: ActionParts['during'] = async (words, work) => {
    store.set((s) => ({ ...s, waiting: words }));
    try {
      return await work();
    } finally {
      store.set((s) => ({ ...s, waiting: null }));
    }
  };
  const parts: ActionParts = { store, bridge, tell, refuse, keeper, during };

  /** A change of the set as one step that can be undone. Refused while photos are read into the same set. */
  const edit = (label: string, change: (set: PatternSet) => PatternSet, mergeKey: string | null = null): void => {
    const { open, capture } = store.get();
    if (open === null) return;
    if (capture.job !== null) {
      tell('error', 'Photos are being read into this set; make the change when that is done, or cancel the reading.');
      return;
    }
    const history = commit(open.history, change(open.history.present), label, mergeKey);
    store.set((s) => ({
      ...s,
      draft: null,
      preview: null,
      measured: null,
      open: { ...open, history, unsaved: history !== open.history || open.unsaved },
    }));
    if (history !== open.history) keeper.changed();
  };
  const travel = (way: typeof undo, say: string, labelOf: typeof undoLabel) => {
    const { open, capture } = store.get();
    if (open === null || capture.job !== null) return;
    const label = labelOf(open.history);
    const history = way(open.history);
    if (history === open.history) return;
    store.set((s) => ({ ...s, draft: null, preview: null, measured: null, open: { ...open, history, unsaved: true } }));
    if (label !== null) tell('done', `${say}: ${label}`);
    keeper.changed();
  };

  const goTo = (place: GoTo) => store.set((s) => ({ ...s, goTo: { ...place } }));
  const select = (change: Partial<Selection>) => store.set((s) => ({ ...s, selection: { ...s.selection, ...change } }));
  const show = (area: Area) =>
    store.set((s) => ({
      ...s,
      area,
      draft: null,
      preview: null,
      walking: null,
      measured: null,
      selection: { ...s.selection, mark: null, picking: null, ...(area === 'findings' ? {} : { finding: null }) },
      goTo:
        area === 'pieces' && s.selection.piece !== null ? { kind: 'piece', piece: s.selection.piece } : { kind: 'all' },
    }));
  const proposeSeams = async (): Promise<void> => {
    const set = currentSet(store.get());
    if (set === null) return;
    const reply = await during('Looking for edges that belong together', () =>
      bridge.call['seams.propose']({ set: keeper.documentOf(set) }),
    );
    if (!reply.ok) return refuse(reply.error);
    const proposed = keeper.modelOf(reply.value.set);
    if (proposed === null) return;
    const count = proposed.seams.length - set.seams.length;
    if (count > 0) edit('Propose seams', () => proposed);
    tell(
      'done',
      count > 0
        ? `${count} seams proposed; look at each and confirm it.`
        : 'No further seam could be proposed; name the kinds and edges of the pieces, or add seams by hand.',
    );
  };

  return {
    begin: async () => {
      const info = await bridge.call['app.info']({});
      if (!info.ok) {
        store.set((s) => ({ ...s, starting: false }));
        return refuse(info.error);
      }
      store.set((s) => ({ ...s, host: info.value }));
      const current = await bridge.call['set.current']({});
      store.set((s) => ({ ...s, starting: false }));
      if (!current.ok) return refuse(current.error);
      if (current.value !== null) keeper.take(current.value);
    },
    /** The newest state, which may be a moment ahead of what is drawn. */
    now: store.get,
    tell,
    dismiss,
    edit,
    undo: () => travel(undo, 'Undone', undoLabel),
    redo: () => travel(redo, 'Done again', redoLabel),
    select,
    show,
    goTo,
    patch: (change: Partial<WindowState>) => store.set((s) => ({ ...s, ...change })),
    proposeSeams,
    ...makeFileActions(parts),
    ...makeCaptureActions(parts),
    ...makeChangeActions(parts, edit),
    ...makeFitActions(parts, edit),
    bridge,
  };
}
