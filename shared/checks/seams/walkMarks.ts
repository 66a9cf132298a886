// What is seen while one side of a seam is rolled along the other: each notch or joint with its partner, whether they met, and
// by how much they miss. The same limits and the same rule for doubt as the checks have; the checks alone say what is a fault,
// since on an eased seam a miss may be the ease.
import type { Point } from '../../base/points.ts';
import { pointAtLength } from '../../geometry/arcLength.ts';
import { apply } from '../../geometry/transform.ts';
import type { Meeting } from '../../pattern/matchNotches.ts';
import { type Length, subtractLength } from '../../pattern/measure.ts';
import type { RolledPiece, RolledSeam, Rolling } from '../../pattern/rollSeam.ts';
import { openMm, type SideNotch, sectionLength, spanAt, type WalkedSide } from '../../pattern/spans.ts';
import type { Anchor, SeamWalk } from '../../pattern/walk.ts';
import type { CheckContext } from '../context.ts';
import { judgeDifference } from '../verdict.ts';

/** `ahead`: not reached yet. `unsure`: the measurement cannot tell whether they meet. `alone`: nothing to meet. */
export type MarkState = 'ahead' | 'meets' | 'misses' | 'unsure' | 'alone';

export interface WalkMark {
  readonly state: MarkState;
  /** "notch", "double notch", "joint", "end". */
  readonly name: string;
  /** Along each side from the start, mouths closed; null on the side that has no such mark. */
  readonly atMm: readonly [number | null, number | null];
  /** How far the second side's mark lies beyond the first one's, as rolled; null when there is only one. */
  readonly miss: { readonly valueMm: number; readonly sigmaMm: number } | null;
  /** What the second side has had more up to here, spread between the marks; null when it is rolled evenly. */
  readonly easedMm: number | null;
}

/** Marks in the order of the walk, the end last. `rolled` is the walk rolled so far in the same way. */
export function walkMarks(
  walk: SeamWalk,
  rolled: RolledSeam,
  rolling: Rolling,
  context: CheckContext,
): readonly WalkMark[] {
  const paired = walk.anchors
    .filter(({ kind }) => kind !== 'start')
    .map((anchor): WalkMark => {
      const between = differenceTo(walk, anchor.atMm, context);
      const valueMm = rolling === 'even' ? between.valueMm : 0;
      const limitMm = anchor.kind === 'end' ? context.limits.seam.valueMm : context.limits.notch.valueMm;
      const miss = { valueMm, sigmaMm: between.sigmaMm };
      const state = anchor.atMm[0] > rolled.atMm[0] ? 'ahead' : stateOf(miss, limitMm, rolling);
      const easedMm = rolling === 'eased' ? between.valueMm : null;
      return { state, name: nameOf(anchor), atMm: anchor.atMm, miss, easedMm };
    });
  const alone = walk.matched.alone.flatMap((notches, side) =>
    notches.map((notch): WalkMark => {
      const state = notch.atMm > rolled.atMm[side === 0 ? 0 : 1] ? 'ahead' : 'alone';
      const atMm = side === 0 ? ([notch.atMm, null] as const) : ([null, notch.atMm] as const);
      return { state, name: notchName(notch), atMm, miss: null, easedMm: null };
    }),
  );
  return [...paired, ...alone].toSorted((a, b) => placeOf(a) - placeOf(b));
}

/** What the second side has had more than the first up to where they touch, with its uncertainty. */
export function runningDifference(walk: SeamWalk, rolled: RolledSeam, context: CheckContext): Length {
  const [a] = rolled.atMm;
  const length = differenceTo(walk, [a, a + rolled.runningMm], context);
  return { ...length, valueMm: rolled.runningMm };
}

/** The place of a length along a side, in the frame of the first piece, as the chain of pieces lies. */
export function pointOnChain(side: WalkedSide, chain: readonly RolledPiece[], sideMm: number): Point {
  const walked = spanAt(side, sideMm);
  const { point } = pointAtLength(walked.seam.path, openMm(walked, sideMm));
  return apply(chain[side.spans.indexOf(walked)]!.firstFromPiece, point);
}

function differenceTo({ sides }: SeamWalk, [a, b]: readonly [number, number], { measuring }: CheckContext): Length {
  const length = subtractLength(sectionLength(sides[1], 0, b, measuring), sectionLength(sides[0], 0, a, measuring));
  return { ...length, valueMm: b - a };
}

function stateOf(
  { valueMm, sigmaMm }: { readonly valueMm: number; readonly sigmaMm: number },
  limitMm: number,
  rolling: Rolling,
): MarkState {
  // As it is sewn every pair is brought together: that they meet is no measurement.
  if (rolling === 'eased') return 'meets';
  const decision = judgeDifference(valueMm, sigmaMm, limitMm);
  return decision === 'clear' ? 'meets' : decision === 'fault' ? 'misses' : 'unsure';
}

function placeOf({ atMm: [first, second] }: WalkMark): number {
  return first ?? second ?? 0;
}

function nameOf({ kind, pair }: Anchor): string {
  if (kind === 'end') return 'end';
  const notch = [pair?.first, pair?.second].find(isNotch);
  return notch === undefined ? 'joint' : notchName(notch.notch);
}

function isNotch(meeting: Meeting | undefined): meeting is Extract<Meeting, { kind: 'notch' }> {
  return meeting?.kind === 'notch';
}

function notchName({ notch: { count } }: SideNotch): string {
  return count === 1 ? 'notch' : count === 2 ? 'double notch' : 'triple notch';
}
