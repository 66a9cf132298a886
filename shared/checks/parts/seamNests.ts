// Every seam in all of its sizes, compared once for the rules that read the nest.
import type { Seam } from '../../pattern/model.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import { compareSizes, type SizeCompared } from '../../sizes/oddSizes.ts';
import type { CheckContext } from '../context.ts';
import { judgedAsRatio } from '../seams/compareSeam.ts';
import { inSeams, type Subjects } from '../subjects.ts';
import { type Decision, judgeDifference } from '../verdict.ts';
import { meetsItsBand, slackMm } from './meetsItsBand.ts';

export interface SeamNest {
  readonly seam: Seam;
  /** At least two, in the order of the sizes. */
  readonly walks: readonly SeamWalk[];
  readonly toleranceMm: number;
  /** Every size but the one that the others are compared with; empty for joins that are judged by their ratio. */
  readonly compared: readonly (SizeCompared & { readonly decision: Decision })[];
  readonly byRatio: boolean;
}

/** Every nest of which this is true is a subject. */
export function nestsThat(isWanted: (nest: SeamNest) => boolean): Subjects<SeamNest> {
  return inSeams((seam, context) => {
    const nest = context.once(nestOf, seam);
    return nest !== null && isWanted(nest) ? [nest] : [];
  });
}

export function seamNests(context: CheckContext): readonly SeamNest[] {
  return context.set.seams.flatMap((seam) => context.once(nestOf, seam) ?? []);
}

/** Null where the seam is in one size only, or its sides are not compared. */
function nestOf(context: CheckContext, seam: Seam): SeamNest | null {
  const walks = context.sizes.flatMap((size) => {
    const walk = context.walk(seam, size);
    return walk.ok && walk.value.sorted.sort !== 'mirror' && walk.value.sorted.sort !== 'rises' ? [walk.value] : [];
  });
  const [first, second] = walks;
  if (first === undefined || second === undefined) return null;
  const toleranceMm = slackMm(first, context);
  const byRatio = judgedAsRatio(first, context) !== null;
  if (byRatio) return { seam, walks, toleranceMm, compared: [], byRatio };
  const compared = compareSizes(walks, {
    sizes: context.sizes,
    baseSize: context.set.baseSize,
    toleranceMm,
    meets: (walk) => meetsItsBand(walk, context) === 'clear',
  }).map((one) => ({
    ...one,
    decision: judgeDifference(one.departure.valueMm, one.departure.sigmaMm, toleranceMm),
  }));
  return { seam, walks, toleranceMm, compared, byRatio };
}

/** True where a line was traced along another size's: its edge, not its partner, is the one to redraw. */
export function isStrayed(one: SeamNest['compared'][number]): boolean {
  return one.decision === 'fault' && one.twice !== null && !one.twice.isTowardBase;
}
