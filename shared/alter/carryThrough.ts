// A change carried through to the pieces that are sewn to it: the cap to the armhole, the band to the neck, the skirt to the
// waist. Carrying may itself leave something behind (a waist moves a side), so it goes on until every seam meets again.
import { fail, ok, type Result } from '../base/result.ts';
import { capSections } from '../pattern/capSections.ts';
import { edgeLabels } from '../pattern/guessEdges.ts';
import { bodySide } from '../pattern/kinds.ts';
import type { EdgeSpan, PatternSet, Size } from '../pattern/model.ts';
import { sortSeam } from '../pattern/seamSort.ts';
import { type SeamWalk, walkSeam } from '../pattern/walk.ts';
import { type Follower, followersOf } from './alteration.ts';
import { redrawCap } from './kernel/cap.ts';
import { EXACT } from './kernel/corners.ts';
import { freerEnd, lengthenEdge } from './kernel/followLength.ts';
import { type ChangedShape, withChanges } from './record.ts';
import { changeWords, edgeWords } from './words.ts';

export interface Carried {
  readonly set: PatternSet;
  /** Every seam that was carried, in the order in which it was. */
  readonly done: readonly CarriedSeam[];
  /** What still has to follow, and why it was not carried. */
  readonly left: readonly { readonly follower: Follower; readonly reason: string | null }[];
}

export interface CarriedSeam {
  readonly seam: string;
  readonly size: Size;
  /** Change of the sewn length of the side that followed; 0 where only its marks moved. */
  readonly byMm: number;
  readonly sentence: string;
}

/** Rounds of carrying: a chain of seams is at most a few pieces long. */
const MAX_ROUNDS = 6;

/** The altered set with its followers redrawn, each to the ease that the plan wants or that the seam had before. */
export function carryThrough(before: PatternSet, altered: PatternSet): Carried {
  let set = altered;
  const done: CarriedSeam[] = [];
  const refused = new Map<string, string>();
  for (let round = 0; round < MAX_ROUNDS; round++) {
    const open = followersOf(before, set).filter((follower) => !refused.has(keyOf(follower)));
    const [next] = open;
    if (next === undefined) break;
    for (const follower of open) {
      // An earlier step of this round may have settled it or moved it: it is measured afresh.
      const current = followersOf(before, set).find((candidate) => keyOf(candidate) === keyOf(follower));
      if (current === undefined) continue;
      const carried = carryOne(before, set, current);
      if (carried.ok) {
        set = carried.value.set;
        done.push(carried.value.done);
      } else refused.set(keyOf(current), carried.error.sentence);
    }
  }
  const left = followersOf(before, set).map((follower) => ({ follower, reason: refused.get(keyOf(follower)) ?? null }));
  return { set, done, left };
}

function keyOf({ seam, size }: Follower): string {
  return JSON.stringify([seam.id, size]);
}

interface CarriedOne {
  readonly set: PatternSet;
  readonly done: CarriedSeam;
}

function carryOne(before: PatternSet, set: PatternSet, follower: Follower): Result<CarriedOne> {
  const redrawn = redrawFollower(before, set, follower);
  if (!redrawn.ok) return redrawn;
  const { changes, byMm, what } = redrawn.value;
  const name = `Carried along the seam "${follower.seam.name}" in size ${follower.size}`;
  const sentence =
    Math.abs(byMm) < LEAST_TOLD_MM
      ? `${name}: the marks of ${what} moved.`
      : `${name}: ${what} made ${changeWords(set, byMm)}.`;
  const params = { seam: follower.seam.id, size: follower.size, byMm };
  return ok({ set: withChanges(set, changes, { what: 'carry', params, sentence }), done: { ...params, sentence } });
}

/** What of one seam must be redrawn so that it meets again as it did before, or as the plan wants. */
export function redrawFollower(before: PatternSet, set: PatternSet, follower: Follower): Result<Redrawn> {
  const { sort } = sortSeam(set, follower.seam);
  return sort === 'cap' ? capChanges(before, set, follower) : edgeChangesFor(set, follower);
}

export interface Redrawn {
  readonly changes: readonly ChangedShape[];
  readonly byMm: number;
  /** The edges that were redrawn, in words. */
  readonly what: string;
}

/** Below this a length did not change as far as anyone can draw it. */
const LEAST_TOLD_MM = 0.05;

/** Whichever side changed, the cap is what is redrawn: an armhole is fitted to the body. */
function capChanges(before: PatternSet, set: PatternSet, follower: Follower): Result<Redrawn> {
  const old = before.seams.find(({ id }) => id === follower.seam.id) ?? follower.seam;
  const was = walkSeam(before, old, follower.size, EXACT);
  const now = walkSeam(set, follower.seam, follower.size, EXACT);
  if (!was.ok || !now.ok) return fail('no-walk', `The seam "${follower.seam.name}" cannot be walked.`);
  const wanted = wantedChanges(was.value, now.value);
  const changed = redrawCap(set, now.value, wanted);
  if (!changed.ok) return changed;
  return ok({ changes: changed.value, byMm: wanted.reduce((sum, mm) => sum + mm, 0), what: 'the cap' });
}

/** What each section of the cap lacks against the plan's sections, or against the ease that it had before. */
function wantedChanges(was: SeamWalk, now: SeamWalk): readonly number[] {
  const sign = now.sorted.fuller === 1 ? 1 : -1;
  const ease = (walk: SeamWalk) => walk.sections.map((section) => sign * section.difference.valueMm);
  const isNow = ease(now);
  const planned = now.seam.wantedSectionsMm;
  if (planned !== null && planned.length === isNow.length) return planned.map((mm, i) => sign * mm - isNow[i]!);
  const kept = was.sections.length === isNow.length ? ease(was) : evenly(ease(was), isNow);
  const wantedMm = now.seam.wantedEaseMm;
  const extraMm = wantedMm === null ? 0 : sign * wantedMm - kept.reduce((sum, mm) => sum + mm, 0);
  const shares = overShares(now);
  return kept.map((mm, i) => mm + extraMm * (shares[i] ?? 0) - isNow[i]!);
}

/** The marks changed in number: the ease that was lost goes in the proportion of what is there. */
function evenly(was: readonly number[], now: readonly number[]): readonly number[] {
  const lostMm = was.reduce((sum, mm) => sum + mm, 0) - now.reduce((sum, mm) => sum + mm, 0);
  return now.map((mm) => mm + lostMm / now.length);
}

/** The back half of a cap takes a little more ease than the front, as drafts do: 5 parts to 4. Common practice, no source. */
const BACK_PARTS = 5;
const FRONT_PARTS = 4;

/** How extra ease is shared: over the top only, a little more behind than in front. */
export function overShares(walk: SeamWalk): readonly number[] {
  const parts = capSections(walk);
  const armhole = walk.sides[walk.sorted.fuller === 1 ? 0 : 1];
  const firstIsBack = bodySide(armhole.spans[0]!.piece) === 'back';
  const weights = walk.sections.map((_, i): number => {
    const part = parts[i];
    if (part === undefined) return 1;
    if (part.part === 'underarm') return 0;
    return (part.half === 'first') === firstIsBack ? BACK_PARTS : FRONT_PARTS;
  });
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return weights.map((weight) => (total === 0 ? 1 / weights.length : weight / total));
}

/** Edges of the follower made longer or shorter: paired with those of the other side where both have as many. */
function edgeChangesFor(set: PatternSet, follower: Follower): Result<Redrawn> {
  const spans = follower.seam.sides[follower.follower];
  if (spans.some((span) => span.stretch !== null))
    return fail(
      'stretch',
      `The seam "${follower.seam.name}" takes only a part of its edge; move the marks of that part by hand.`,
    );
  const shares = sharesOf(set, follower, spans);
  const changes: ChangedShape[] = [];
  for (const [i, span] of spans.entries()) {
    const byMm = follower.missingMm * shares[i]!;
    const piece = set.pieces.find(({ id }) => id === span.piece);
    const shape = changes.find((change) => change.piece === span.piece)?.shape ?? piece?.shapes[follower.size];
    const edge = shape?.ring.find(({ id }) => id === span.edge);
    if (piece === undefined || shape === undefined || edge === undefined)
      return fail('no-edge', `The seam "${follower.seam.name}" names an edge that was not traced.`);
    if (Math.abs(byMm) < LEAST_TOLD_MM / 2) continue;
    const place = { piece, size: follower.size, shape, labels: edgeLabels(piece, shape) };
    const changed = lengthenEdge(place, edge, byMm, freerEnd(place, edge));
    if (!changed.ok) return changed;
    changes.push({ piece: piece.id, size: follower.size, ...changed.value });
  }
  const names = spans.map((span) => edgeWords(set, span.piece, span.edge, follower.size));
  return ok({ changes, byMm: follower.missingMm, what: names.join(' with ') });
}

function sharesOf(set: PatternSet, follower: Follower, spans: readonly EdgeSpan[]): readonly number[] {
  const bySection = follower.missingBySectionMm;
  if (bySection !== null && bySection.length === spans.length && Math.abs(follower.missingMm) >= LEAST_TOLD_MM)
    return bySection.map((mm) => mm / follower.missingMm);
  const walk = walkSeam(set, follower.seam, follower.size, EXACT);
  if (!walk.ok) return spans.map(() => 1 / spans.length);
  const side = walk.value.sides[follower.follower];
  return side.spans.map((walked) => walked.length.valueMm / side.total.valueMm);
}
