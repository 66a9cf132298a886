// Every seam in all of its sizes, compared once for the rules that read the nest.
import type { Seam } from '../../pattern/model.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import { compareSizes, type SizeCompared } from '../../sizes/oddSizes.ts';
import type { CheckContext } from '../context.ts';
import { judgedAsRatio } from '../seams/compareSeam.ts';
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

const known = new WeakMap<CheckContext, readonly SeamNest[]>();

export function seamNests(context: CheckContext): readonly SeamNest[] {
  let nests = known.get(context);
  if (nests === undefined) {
    nests = context.sizes.length < 2 ? [] : nestsOf(context);
    known.set(context, nests);
  }
  return nests;
}

function nestsOf(context: CheckContext): SeamNest[] {
  const bySeam = new Map<Seam, SeamWalk[]>();
  for (const walk of context.walks()) {
    if (walk.sorted.sort === 'mirror' || walk.sorted.sort === 'rises') continue;
    const walks = bySeam.get(walk.seam);
    if (walks === undefined) bySeam.set(walk.seam, [walk]);
    else walks.push(walk);
  }
  return [...bySeam].flatMap(([seam, walks]): SeamNest[] => {
    if (walks.length < 2) return [];
    const toleranceMm = slackMm(walks[0]!, context);
    const byRatio = judgedAsRatio(walks[0]!, context) !== null;
    if (byRatio) return [{ seam, walks, toleranceMm, compared: [], byRatio }];
    const compared = compareSizes(walks, {
      sizes: context.sizes,
      baseSize: context.set.baseSize,
      toleranceMm,
      meets: (walk) => meetsItsBand(walk, context) === 'clear',
    }).map((one) => ({
      ...one,
      decision: judgeDifference(one.departure.valueMm, one.departure.sigmaMm, toleranceMm),
    }));
    return [{ seam, walks, toleranceMm, compared, byRatio }];
  });
}

/** True where a line was traced along another size's: its edge, not its partner, is the one to redraw. */
export function isStrayed(one: SeamNest['compared'][number]): boolean {
  return one.decision === 'fault' && one.twice !== null && !one.twice.isTowardBase;
}
