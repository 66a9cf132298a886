// Whether a seam is as it should be by itself, in one size: the band of its sort, or for a cap the range of its cloth and what
// the plan wants. For rules that compare a seam with itself: before and after a change, in one size and in another.
import { CAP_EASE } from '../../limits/capEase.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import type { CheckContext } from '../context.ts';
import { comparisonsOf, decide, judgedAsRatio } from '../seams/compareSeam.ts';
import { type Decision, judgeDifference, judgeInterval } from '../verdict.ts';

/** `clear` for joins that are judged by their ratio: a gathered edge may be of many lengths. */
export function meetsItsBand(walk: SeamWalk, context: CheckContext): Decision {
  if (walk.sorted.sort === 'cap') return capMeets(walk, context);
  if (judgedAsRatio(walk, context) !== null) return 'clear';
  const decisions = comparisonsOf(walk, context).map(decide);
  return decisions.find((d) => d === 'fault') ?? decisions.find((d) => d === 'unsure') ?? 'clear';
}

function capMeets(walk: SeamWalk, context: CheckContext): Decision {
  const { valueMm, sigmaMm } = walk.difference;
  const { wantedEaseMm } = walk.seam;
  if (wantedEaseMm !== null) return judgeDifference(valueMm - wantedEaseMm, sigmaMm, context.limits.seam.valueMm);
  const band = CAP_EASE[context.set.preset.cloth];
  return judgeInterval(walk.sorted.fuller === 1 ? valueMm : -valueMm, sigmaMm, band.fromMm, band.toMm);
}

/** What a seam may differ by as it is compared: twice as much where the whole round is compared. */
export function slackMm(walk: SeamWalk, context: CheckContext): number {
  return walk.basis === 'round' ? 2 * context.limits.seam.valueMm : context.limits.seam.valueMm;
}
