// Undo and redo as data: every state that was, with the words for what led away from it. Nothing is ever changed in place,
// so going back is keeping the old value.

export interface Step<T> {
  readonly value: T;
  /** What the change after this value did, in words: "Move a corner of Sleeve". */
  readonly label: string;
  /** Changes that follow one another with the same key are one step (arrow keys held down); null = a step of its own. */
  readonly mergeKey: string | null;
}

export interface History<T> {
  readonly past: readonly Step<T>[];
  readonly present: T;
  readonly future: readonly Step<T>[];
}

/** Enough for an evening's corrections; older steps are forgotten first. */
const MOST_STEPS = 500;

export function startHistory<T>(present: T): History<T> {
  return { past: [], present, future: [] };
}

/** A change made: redo is emptied. The same value again is no change. */
export function commit<T>(history: History<T>, next: T, label: string, mergeKey: string | null = null): History<T> {
  if (next === history.present) return history;
  const last = history.past.at(-1);
  if (mergeKey !== null && last?.mergeKey === mergeKey && history.future.length === 0) {
    return { ...history, present: next };
  }
  const past = [...history.past, { value: history.present, label, mergeKey }].slice(-MOST_STEPS);
  return { past, present: next, future: [] };
}

/** One step back; the same history when there is none. */
export function undo<T>(history: History<T>): History<T> {
  const last = history.past.at(-1);
  if (last === undefined) return history;
  return {
    past: history.past.slice(0, -1),
    present: last.value,
    future: [{ value: history.present, label: last.label, mergeKey: null }, ...history.future],
  };
}

/** One step forward again; the same history when there is none. */
export function redo<T>(history: History<T>): History<T> {
  const [next, ...future] = history.future;
  if (next === undefined) return history;
  return {
    past: [...history.past, { value: history.present, label: next.label, mergeKey: null }],
    present: next.value,
    future,
  };
}

/** What undo would take back, in words; null = nothing. */
export function undoLabel<T>(history: History<T>): string | null {
  return history.past.at(-1)?.label ?? null;
}

export function redoLabel<T>(history: History<T>): string | null {
  return history.future[0]?.label ?? null;
}
