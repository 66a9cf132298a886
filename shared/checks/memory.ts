// What an earlier run found out and this one need not find out again. A rule reads its subject and its context; while it
// judges, every reading of the context is noted. A judgement stands as long as its subject is the same and everything it read
// still gives the same answer: nobody declares what a rule depends on, so nobody can forget to. Only the run before is kept.
import { hasSameParts, isSame } from '../base/sameValue.ts';
import type { EdgeSpan, PatternSet, Size } from '../pattern/model.ts';
import { type CheckContext, contextOf, type Kept, nothingKept } from './context.ts';
import type { Judged, Recall } from './rule.ts';

/** One thing that can be read of a context, with the run in which its answer was last looked up and last changed. */
interface Cell {
  value: unknown;
  /** Looks the answer up; gives `was` itself back where it still holds and that is cheaper to know than to compare. */
  readonly again: (was: unknown) => unknown;
  seenIn: number;
  changedIn: number;
  /** The list that noted it last, so that most lists name it once. */
  notedIn: Cells | null;
}

type Cells = Cell[];

interface Found<T> {
  readonly value: T;
  readonly read: Cells;
  /** The last run in which it was true. */
  inRun: number;
}

interface RuleMemory {
  readonly subjects: Found<readonly unknown[]>;
  /** In the order of the subjects. */
  readonly judged: readonly JudgedSubject[];
}

interface JudgedSubject extends Found<readonly Judged[]> {
  readonly subject: unknown;
}

export interface Memory {
  /** Begins a run over a set: its context for the whole run, and what rules may take from the run before. */
  readonly begin: (set: PatternSet) => { readonly context: CheckContext; readonly recall: Recall };
  /** Ends it: what it has not used is forgotten. */
  readonly end: () => void;
}

export function makeMemory(): Memory {
  let run = 0;
  let kept: Kept = nothingKept();
  let plain: CheckContext | null = null;
  let before = new Map<unknown, RuleMemory>();
  let now = new Map<unknown, RuleMemory>();
  const cells = new Map<unknown, Map<unknown, Cell>>();

  const current = (): CheckContext => {
    if (plain === null) throw new Error('the memory is read outside of a run');
    return plain;
  };

  /** The answer that is true now; the object of the earlier run where it says the same. */
  const refresh = (cell: Cell): unknown => {
    if (cell.seenIn === run) return cell.value;
    cell.seenIn = run;
    const value = cell.again(cell.value);
    if (!isSame(cell.value, value)) {
      cell.value = value;
      cell.changedIn = run;
    }
    return cell.value;
  };
  const stillTrue = ({ read, inRun }: Found<unknown>): boolean =>
    read.every((cell) => {
      refresh(cell);
      return cell.changedIn <= inRun;
    });
  /** What was found in the run before, or else looked for now. */
  const found = <T>(known: Found<T> | undefined, find: (context: CheckContext) => T): Found<T> => {
    if (known !== undefined && stillTrue(known)) {
      known.inRun = run;
      return known;
    }
    const read: Cells = [];
    return { value: find(noting(read)), read, inRun: run };
  };
  const cellFor = (kind: unknown, of: unknown, again: Cell['again']): Cell => {
    let some = cells.get(kind);
    if (some === undefined) {
      some = new Map();
      cells.set(kind, some);
    }
    let cell = some.get(of);
    if (cell === undefined) {
      cell = { value: again(undefined), again, seenIn: run, changedIn: run, notedIn: null };
      some.set(of, cell);
    }
    return cell;
  };

  /** A context that notes what is read of it. */
  const noting = (read: Cells): CheckContext => {
    const get: Get = <T>(kind: unknown, of: unknown, again: (was: unknown) => T): T => {
      const cell = cellFor(kind, of, again);
      if (cell.notedIn !== read) {
        cell.notedIn = read;
        read.push(cell);
      }
      // Under one kind and key stands what `again` gives.
      return refresh(cell) as T;
    };
    const field = <K extends keyof CheckContext>(name: K): CheckContext[K] => get(name, null, () => current()[name]);
    let set: PatternSet | null = null;
    const context: CheckContext = {
      get set() {
        set ??= notingSet(get, null);
        return set;
      },
      get limits() {
        return field('limits');
      },
      get measuring() {
        return field('measuring');
      },
      get say() {
        return field('say');
      },
      get sizes() {
        return field('sizes');
      },
      setIn: (size) => notingSet(get, size),
      walk: (seam, size) => get(seam, size, () => current().walk(seam, size)),
      walks: () => get('walks', null, () => current().walks()),
      shapes: () => get('shapes', null, () => current().shapes()),
      claims: (piece, edge) =>
        get<readonly EdgeSpan[]>('claims', JSON.stringify([piece, edge]), () => current().claims(piece, edge)),
      once: <K, T>(work: (context: CheckContext, of: K) => T, of: K): T => get(work, of, derivation(work, of)),
    };
    LIVE.add(context);
    return context;
  };

  const notingSet = (get: Get, size: Size | null): PatternSet => {
    const whole = () => (size === null ? current().set : current().setIn(size));
    const kind = size === null ? 'set' : `set in ${size}`;
    const noted = {};
    for (const key of Object.keys(whole()) as (keyof PatternSet)[]) {
      Object.defineProperty(noted, key, { enumerable: true, get: () => get(kind, key, () => whole()[key]) });
    }
    LIVE.add(noted);
    // It has every field of the set, each read through its cell.
    return noted as PatternSet;
  };

  /** Worked out again only when something it read has changed. */
  const derivation = <K, T>(work: (context: CheckContext, of: K) => T, of: K): ((was: unknown) => T) => {
    let last: Found<T> | undefined;
    return (was) => {
      const next = found(last, (context) => work(context, of));
      // Where nothing it read has changed, what stands in the cell was given by an earlier call.
      const value = next === last ? (was as T) : next.value;
      last = next;
      return value;
    };
  };

  const recall: Recall = (rule, find, judge) => {
    const known = before.get(rule);
    const subjects = found(known?.subjects, find);
    const entries: JudgedSubject[] = [];
    const all: Judged[] = [];
    let at = 0;
    // This rule found them, in this run or an earlier one.
    for (const subject of subjects.value as ReturnType<typeof find>) {
      const place = placeOf(subject, known?.judged ?? [], at);
      const entry = place < 0 ? undefined : known?.judged[place];
      if (place >= 0) at = place + 1;
      const judged = found(entry, (context) => judge(subject, context));
      if (entry !== undefined && judged === entry) entries.push(entry);
      else if (!isLive(subject)) entries.push({ ...judged, subject });
      for (const one of judged.value) all.push(one);
    }
    now.set(rule, { subjects, judged: entries });
    return all;
  };

  return {
    begin: (set) => {
      run++;
      before = now;
      now = new Map();
      const found = nothingKept();
      plain = contextOf(set, kept, found);
      kept = found;
      return { context: plain, recall };
    },
    end: () => {
      plain = null;
      before = new Map();
      for (const [kind, some] of cells) {
        for (const [of, cell] of some) if (cell.seenIn !== run) some.delete(of);
        if (some.size === 0) cells.delete(kind);
      }
    },
  };
}

type Get = <T>(kind: unknown, of: unknown, again: (was: unknown) => T) => T;

/** Contexts and sets that note what is read of them: they always show the present, so they cannot tell whether it changed. */
const LIVE = new WeakSet<object>();

function isLive(subject: unknown): boolean {
  return isObject(subject) && (LIVE.has(subject) || Object.values(subject).some((part) => LIVE.has(part)));
}

/** How far ahead a subject is looked for: a piece that was taken out leaves a gap of all its sizes. */
const LOOK_AHEAD = 40;

/** Where the subject stands among those of the run before, which are nearly always in the same order; −1 for a new one. */
function placeOf(subject: unknown, known: readonly JudgedSubject[], from: number): number {
  if (from < known.length && isSame(known[from]!.subject, subject)) return from;
  const end = Math.min(known.length, from + LOOK_AHEAD);
  for (let i = from + 1; i < end; i++) if (hasSameParts(known[i]!.subject, subject)) return i;
  return -1;
}

function isObject(x: unknown): x is object {
  return typeof x === 'object' && x !== null;
}
