// Keeps the host and the findings in step with the set: every change goes to the host's journal in order, the newest only,
// and is checked again a moment after the last one.
import type { Failure } from '../../shared/base/result.ts';
import type { FindingsJson } from '../../shared/checks/toFindingsJson.ts';
import type { Bridge } from '../../shared/contract/contract.ts';
import type { OpenDocument, SetDocument } from '../../shared/contract/values.ts';
import { readSetDocument } from '../../shared/formats/set/read.ts';
import { setDocument } from '../../shared/formats/set/write.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { commit, startHistory } from '../state/history.ts';
import type { Store } from '../state/store.ts';
import { currentSet, initialState, NOTHING_SELECTED, type WindowState } from '../state/windowState.ts';

/** Long enough not to check in the middle of a drag, short enough to feel at once. */
const CHECK_AFTER_MS = 250;

export function makeKeeper(store: Store<WindowState>, bridge: Bridge, refuse: (error: Failure) => void) {
  let sent: PatternSet | null = null;
  let sending: Promise<void> | null = null;
  let timer: ReturnType<typeof setTimeout> | null = null;

  const documentOf = (set: PatternSet): SetDocument => ({ ...setDocument(set) });
  const modelOf = (document: SetDocument): PatternSet | null => {
    const read = readSetDocument('The set', document);
    if (read.ok) return read.value.set;
    refuse(read.error);
    return null;
  };

  /** Sends what has not been sent, one after the other, until the host has the newest. */
  const send = async (): Promise<void> => {
    for (;;) {
      const { open } = store.get();
      const set = open?.history.present;
      if (open === null || set === undefined || set === sent) return;
      sent = set;
      const reply = await bridge.call['set.update']({ document: open.handle, set: documentOf(set) });
      if (!reply.ok) return refuse(reply.error);
    }
  };
  const flush = (): Promise<void> => {
    sending ??= send().finally(() => {
      sending = null;
    });
    return sending;
  };
  const check = async (): Promise<void> => {
    const set = currentSet(store.get());
    if (set === null || !isTraced(set)) {
      store.set((s) => ({ ...s, findings: null, checking: false }));
      return;
    }
    store.set((s) => ({ ...s, checking: true }));
    const reply = await bridge.call['checks.run']({ set: documentOf(set) });
    if (currentSet(store.get()) !== set) return; // a later change has its own check under way
    // The host's own writer made it (shared/checks/toFindingsJson.ts); the contract carries it as an open object.
    const findings = reply.ok ? (reply.value as unknown as FindingsJson) : store.get().findings;
    store.set((s) => ({ ...s, checking: false, findings }));
    if (!reply.ok) refuse(reply.error);
  };
  const checkSoon = () => {
    if (timer !== null) clearTimeout(timer);
    timer = setTimeout(() => void check(), CHECK_AFTER_MS);
  };
  const told = ({ document: handle, savedAs, unsaved, pictures }: OpenDocument) => ({
    handle,
    savedAs,
    unsaved,
    pictures,
  });

  return {
    documentOf,
    modelOf,
    flush,
    changed: () => {
      void flush();
      checkSoon();
    },
    /** Another document: the history starts anew, at its findings where there is something to find, else at the photos. */
    take: (document: OpenDocument): boolean => {
      const set = modelOf(document.set);
      if (set === null) return false;
      sent = set;
      const fresh = set.shots[0];
      store.set((s) => ({
        ...s,
        open: { ...told(document), history: startHistory(set) },
        area: isTraced(set) ? 'findings' : 'photos',
        size: set.baseSize,
        selection: NOTHING_SELECTED,
        findings: null,
        draft: null,
        preview: null,
        altering: initialState.altering,
        walking: null,
        measured: null,
        shown: fresh === undefined ? null : { kind: 'shot', shot: fresh.id },
        capture: {
          ...s.capture,
          photos: [],
          kept: [],
          refused: [],
          again: null,
          tapes: [],
          taping: null,
          warnings: document.warnings.map(({ message }) => message),
        },
        goTo: { kind: 'all' },
      }));
      void check();
      return true;
    },
    /** The same document after the host changed it: one step that can be undone. */
    takeChange: (document: OpenDocument, label: string): PatternSet | null => {
      const set = modelOf(document.set);
      if (set === null) return null;
      sent = set;
      store.set((s) =>
        s.open === null
          ? s
          : { ...s, open: { ...told(document), history: commit(s.open.history, set, label) }, goTo: { kind: 'all' } },
      );
      void check();
      return set;
    },
  };
}

function isTraced({ pieces }: PatternSet): boolean {
  return pieces.some(({ shapes }) => Object.keys(shapes).length > 0);
}
