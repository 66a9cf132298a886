// A set altered or mended, with what follows and the re-check: what window and command line both call. The given set is
// never changed; undo is keeping it.
import {
  type Alteration,
  alter,
  type EdgeChange,
  edgeChanges,
  type Follower,
  followersOf,
} from '../alter/alteration.ts';
import { ALTERATIONS, alterationById } from '../alter/alterations.ts';
import { type Carried, carryThrough } from '../alter/carryThrough.ts';
import { EVERYWHERE, type Scope } from '../alter/kernel/find.ts';
import type { Params } from '../alter/params.ts';
import { REMEDIES, remedyById } from '../alter/remedies.ts';
import { applyRemedy, type RemedyAction } from '../alter/remedy.ts';
import { fail, ok, type Result } from '../base/result.ts';
import type { FindingJson } from '../checks/toFindingsJson.ts';
import type { HistoryStep, PatternSet } from '../pattern/model.ts';
import { verify } from './verify.ts';

export interface AlterRequest {
  /** Id of an alteration or of a remedy. */
  readonly what: string;
  readonly params: Params;
  readonly scope?: Scope;
  /** Also redraw what must follow. */
  readonly carry: boolean;
}

/** A change worked out, not judged yet. */
export interface Change {
  readonly set: PatternSet;
  readonly sentence: string;
  readonly changed: readonly EdgeChange[];
  /** What had to follow the change itself. */
  readonly followers: readonly Follower[];
  readonly carried: Carried['done'];
  /** What still has to follow. */
  readonly left: Carried['left'];
}

export interface AlterReport extends Change {
  /** What the checks say about the pieces and seams that changed, before and after. */
  readonly findingsBefore: readonly FindingJson[];
  readonly findingsAfter: readonly FindingJson[];
}

/** Everything that can be done to a set, in the order in which it is listed. */
export const ALL_CHANGES: readonly (Alteration | RemedyAction)[] = [...ALTERATIONS, ...REMEDIES];

/** The change and its followers alone: quick enough to follow a slider. */
export function changeSet(before: PatternSet, request: AlterRequest): Result<Change> {
  const altered = changedSet(before, request);
  if (!altered.ok) return altered;
  const followers = followersOf(before, altered.value);
  const carried: Carried = request.carry
    ? carryThrough(before, altered.value)
    : { set: altered.value, done: [], left: followers.map((follower) => ({ follower, reason: null })) };
  return ok({
    set: carried.set,
    sentence: altered.value.history.at(-1)?.sentence ?? '',
    changed: edgeChanges(before, carried.set),
    followers,
    carried: carried.done,
    left: carried.left,
  });
}

/** The change with what the checks say about what it touched, before and after. */
export function alterSet(before: PatternSet, request: AlterRequest): Result<AlterReport> {
  const change = changeSet(before, request);
  if (!change.ok) return change;
  const touched = touchedBy(before, change.value.set);
  const followed = new Set(change.value.followers.map(({ seam }) => seam.id));
  return ok({
    ...change.value,
    findingsBefore: findingsAbout(before, touched, followed),
    findingsAfter: findingsAbout(change.value.set, touched, followed),
  });
}

/** A recorded step done again, on this set or on another: the amounts are those of the history. */
export function repeatStep(set: PatternSet, step: HistoryStep): Result<PatternSet> {
  const { pieces, sizes, ...amounts } = step.params;
  const named = (value: HistoryStep['params'][string] | undefined) =>
    value === undefined ? null : String(value).split(',');
  const params = Object.fromEntries(
    Object.entries(amounts).map(([name, value]) => [name, typeof value === 'boolean' ? String(value) : value]),
  );
  const what = step.what.replace(/^(alter|remedy):/, '');
  return changedSet(set, { what, params, scope: { pieces: named(pieces), sizes: named(sizes) }, carry: false });
}

/** Shapes that differ between two states of a set. */
export function changedShapes(before: PatternSet, after: PatternSet): readonly { piece: string; size: string }[] {
  return after.pieces.flatMap((piece) => {
    const was = before.pieces.find(({ id }) => id === piece.id)?.shapes ?? {};
    const sizes = Object.keys(piece.shapes).filter((size) => piece.shapes[size] !== was[size]);
    return sizes.map((size) => ({ piece: piece.id, size }));
  });
}

export interface Repeated {
  readonly set: PatternSet;
  /** Sentences of the steps that were done again. */
  readonly done: readonly string[];
  /** Steps that could not be done on this set, and why. */
  readonly skipped: readonly { readonly sentence: string; readonly reason: string }[];
}

/**
 * The changes of another set done again on this one, in their order and with their amounts. What was carried through there is
 * carried through here, along the same seams, to what this set needs.
 */
export function repeatHistory(set: PatternSet, history: readonly HistoryStep[]): Repeated {
  let now = set;
  const done: string[] = [];
  const skipped: Repeated['skipped'][number][] = [];
  let isCarried = false;
  for (const step of history) {
    if (!/^(alter|remedy|carry)/.test(step.what)) continue;
    // Carrying follows its alteration: all of it is done at the first of its steps.
    if (step.what === 'carry') {
      if (isCarried) continue;
      isCarried = true;
      const carried = carryThrough(set, now);
      now = carried.set;
      done.push(...carried.done.map(({ sentence }) => sentence));
      continue;
    }
    isCarried = false;
    const again = repeatStep(now, step);
    if (again.ok) {
      now = again.value;
      done.push(now.history.at(-1)?.sentence ?? step.sentence);
    } else skipped.push({ sentence: step.sentence, reason: again.error.sentence });
  }
  return { set: now, done, skipped };
}

function changedSet(before: PatternSet, { what, params, scope = EVERYWHERE }: AlterRequest): Result<PatternSet> {
  const alteration = alterationById(what);
  if (alteration !== undefined) {
    const altered = alter(before, alteration, params, scope);
    return altered.ok ? ok(altered.value.set) : altered;
  }
  const remedy = remedyById(what);
  if (remedy !== undefined) return applyRemedy(before, remedy, params);
  return fail(
    'unknown-change',
    `There is no alteration "${what}"; possible are ${ALL_CHANGES.map(({ id }) => id).join(', ')}.`,
  );
}

interface Touched {
  readonly pieces: ReadonlySet<string>;
  readonly seams: ReadonlySet<string>;
}

function touchedBy(before: PatternSet, after: PatternSet): Touched {
  const pieces = new Set(
    after.pieces
      .filter((piece) => before.pieces.find(({ id }) => id === piece.id)?.shapes !== piece.shapes)
      .map(({ id }) => id),
  );
  const seams = after.seams.filter((seam) => seam.sides.flat().some((span) => pieces.has(span.piece)));
  return { pieces, seams: new Set(seams.map(({ id }) => id)) };
}

/** Faults and doubts about what was touched; of the seams that had to follow also what is right, with its numbers. */
function findingsAbout(
  set: PatternSet,
  { pieces, seams }: Touched,
  followed: ReadonlySet<string>,
): readonly FindingJson[] {
  return verify(set).findings.findings.filter(({ verdict, measured, subjects }) => {
    if (verdict === 'not-applicable') return false;
    if (verdict === 'clear')
      return measured?.unit === 'mm' && subjects.some(({ seam }) => seam !== undefined && followed.has(seam));
    return subjects.some(
      ({ piece, seam }) => (piece !== undefined && pieces.has(piece)) || (seam !== undefined && seams.has(seam)),
    );
  });
}
