// What an earlier run found out and this one need not find out again. A rule looks at one thing after another (a shape, a
// walked seam, the set) and reads it and its context; while it looks, every reading of the context is noted. What it said of a
// thing stands as long as the thing is the same object and everything it read still gives the same answer: nobody declares
// what a rule depends on, so nobody can forget to. Only the run before is kept.
import { memoised } from '../base/memoised.ts';
import { isSame } from '../base/sameValue.ts';
import type { EdgeSpan, PatternSet, Size } from '../pattern/model.ts';
import { type CheckContext, contextOf, type Kept, nothingKept } from './context.ts';
import type { Judged, Recall } from './rule.ts';
import type { Things } from './subjects.ts';

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
  readonly read: readonly Cell[];
  /** The run in which it was found: it is true as long as nothing it read has changed since. */
  readonly inRun: number;
}

/** What a rule said of each of its things, source by source, in the order of the things. */
type RuleMemory = readonly (readonly Found<readonly Judged[]>[])[];

/** Things in the order in which this run looks at them. */
interface Row {
  readonly things: readonly unknown[];
  /** Where each of them stood in the run before; −1 for a new one. */
  readonly from: readonly number[];
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
  let before = new Map<string, RuleMemory>();
  let now = new Map<string, RuleMemory>();
  let rowsBefore = new Map<Things, Row>();
  let rows = new Map<Things, Row>();
  const cells = new Map<unknown, Map<unknown, Cell>>();
  /** Where readings are noted: by what is being found out at the moment. */
  let reading: Cells | null = null;

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
  const stillTrue = ({ read, inRun }: Found<unknown>): boolean => {
    for (const cell of read) {
      refresh(cell);
      if (cell.changedIn > inRun) return false;
    }
    return true;
  };
  const findOut = <T>(find: () => T): Found<T> => {
    const outer = reading;
    const read: Cells = [];
    reading = read;
    try {
      const value = find();
      return { value, read: read.length === 0 ? NOTHING_READ : read, inRun: run };
    } finally {
      reading = outer;
    }
  };
  const get = <T>(kind: unknown, of: unknown, again: (was: unknown) => T): T => {
    const some = memoised(cells, kind, () => new Map<unknown, Cell>());
    const cell = memoised(
      some,
      of,
      (): Cell => ({ value: again(undefined), again, seenIn: run, changedIn: run, notedIn: null }),
    );
    if (reading !== null && cell.notedIn !== reading) {
      cell.notedIn = reading;
      reading.push(cell);
    }
    // Under one kind and key stands what `again` gives.
    return refresh(cell) as T;
  };

  const field = <K extends keyof CheckContext>(name: K): CheckContext[K] => get(name, null, () => current()[name]);
  const setNoting = (kind: string, whole: () => PatternSet): PatternSet => {
    const noted = {};
    for (const key of SET_FIELDS) {
      Object.defineProperty(noted, key, { enumerable: true, get: () => get(kind, key, () => whole()[key]) });
    }
    // It has every field of the set, each read through its cell.
    return noted as PatternSet;
  };
  const whole = setNoting('set', () => current().set);
  const inSizes = new Map<Size, PatternSet>();

  /** The context of whatever run goes on: notes what is read of it. */
  const noting: CheckContext = {
    set: whole,
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
    setIn: (size) => memoised(inSizes, size, () => setNoting(`set in ${size}`, () => current().setIn(size))),
    walk: (seam, size) => get(seam, size, () => current().walk(seam, size)),
    seamsInSizes: () => get('seams in sizes', null, () => current().seamsInSizes()),
    walks: () => get('walks', null, () => current().walks()),
    shapes: () => get('shapes', null, () => current().shapes()),
    claims: (piece, edge) => get<readonly EdgeSpan[]>(`claims on ${piece}`, edge, () => current().claims(piece, edge)),
    once: <K, T>(work: (context: CheckContext, of: K) => T, of: K): T => get(work, of, derivation(work, of)),
  };

  /** Worked out again only when something it read has changed. */
  const derivation = <K, T>(work: (context: CheckContext, of: K) => T, of: K): ((was: unknown) => T) => {
    let last: Found<T> | undefined;
    return (was) => {
      // What stands in the cell was given by an earlier call.
      if (last !== undefined && stillTrue(last)) return was as T;
      last = findOut(() => work(noting, of));
      return last.value;
    };
  };

  const rowOf = (things: Things): Row =>
    memoised(rows, things, () => {
      const list = things(current());
      return { things: list, from: placesBefore(list, rowsBefore.get(things)?.things ?? []) };
    });

  const recall: Recall = (rule, sources) => {
    const known = before.get(rule);
    const all: Judged[] = [];
    const looked = sources.map(({ things, look }, source) => {
      const row = rowOf(things);
      const earlier = known?.[source];
      return row.things.map((thing, i) => {
        const last = earlier?.[row.from[i]!];
        const here = last !== undefined && stillTrue(last) ? last : findOut(() => look(thing, noting));
        for (const one of here.value) all.push(one);
        return here;
      });
    });
    now.set(rule, looked);
    return all;
  };

  return {
    begin: (set) => {
      run++;
      before = now;
      now = new Map();
      rowsBefore = rows;
      rows = new Map();
      const keptNow = nothingKept();
      plain = contextOf(set, kept, keptNow);
      kept = keptNow;
      return { context: plain, recall };
    },
    end: () => {
      plain = null;
      before = new Map();
      rowsBefore = new Map();
      for (const [kind, some] of cells) {
        for (const [of, cell] of some) if (cell.seenIn !== run) some.delete(of);
        if (some.size === 0) cells.delete(kind);
      }
    },
  };
}

const NOTHING_READ: readonly Cell[] = [];

const SET_FIELDS = Object.keys({
  format: true,
  name: true,
  displayUnits: true,
  preset: true,
  sizes: true,
  baseSize: true,
  pieces: true,
  seams: true,
  expectedPieces: true,
  bodies: true,
  fabric: true,
  shots: true,
  history: true,
} satisfies Record<keyof PatternSet, true>) as readonly (keyof PatternSet)[];

/** Where each thing stood before; one that stands there twice is found twice. */
function placesBefore(things: readonly unknown[], before: readonly unknown[]): readonly number[] {
  const places = new Map<unknown, number[]>();
  before.forEach((thing, i) => {
    const known = places.get(thing);
    if (known === undefined) places.set(thing, [i]);
    else known.push(i);
  });
  return things.map((thing) => places.get(thing)?.shift() ?? -1);
}
