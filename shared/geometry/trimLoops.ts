// Cuts the false stretches out of a parallel curve: where it crosses itself, the parts that come closer to the original
// than a parallel may.
import { type CubicPath, endOf, joinPaths, pointAt, segmentCount, slicePath, startOf } from './cubicPath.ts';
import { selfCrossingsOfPath } from './intersect.ts';
import { nearestOnPath } from './nearest.ts';
import { distance, sub, turnDeg } from './vector.ts';

/**
 * The parallel without its false stretches; null when nothing true is left.
 * @param parallel the raw parallel, as long as the path runs
 * @param original the path it belongs to
 * @param distanceMm how far from the original every true point of the parallel lies, ≥ 0
 */
export function trimLoops(
  parallel: CubicPath,
  original: CubicPath,
  distanceMm: number,
  toleranceMm: number,
): CubicPath | null {
  if (controlTurnDeg(parallel) < 180) return parallel; // a loop needs half a turn
  const crossings = selfCrossingsOfPath(parallel);
  if (crossings.length === 0) return parallel;
  const cuts = [0, ...crossings.flatMap(({ tA, tB }) => [tA, tB]), segmentCount(parallel)].sort((a, b) => a - b);
  const leastMm = distanceMm - SLACK_FACTOR * toleranceMm;
  const kept: CubicPath[] = [];
  for (let i = 0; i + 1 < cuts.length; i++) {
    const [from, to] = [cuts[i]!, cuts[i + 1]!];
    if (from === to) continue;
    const isTrue = nearestOnPath(original, pointAt(parallel, (from + to) / 2)).distanceMm >= leastMm;
    if (isTrue) kept.push(slicePath(parallel, from, to));
  }
  if (kept.length === 0) return null;
  // True stretches follow one another through crossings; where they do not, cutting would leave a hole.
  const unbroken = kept.every((part, i) => i === 0 || distance(endOf(kept[i - 1]!), startOf(part)) <= toleranceMm);
  return unbroken ? joinPaths(kept) : parallel;
}

/** A true point may be nearer than the distance by the tolerance of the approximation; this leaves room for it. */
const SLACK_FACTOR = 4;

/** All turning of the control polygon, which turns at least as much as the curve; sides of no length do not count. */
function controlTurnDeg(path: CubicPath): number {
  let total = 0;
  let before = null;
  for (let i = 1; i < path.length; i++) {
    if (distance(path[i - 1]!, path[i]!) === 0) continue;
    const side = sub(path[i]!, path[i - 1]!);
    if (before !== null) total += Math.abs(turnDeg(before, side));
    before = side;
  }
  return total;
}
