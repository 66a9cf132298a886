// Cuts away the loops of a parallel curve: stretches between two passes through one point that come closer to the original
// than the parallel may.
import { type CubicPath, joinPaths, pointAt, segmentCount, slicePath } from './cubicPath.ts';
import { selfCrossingsOfPath } from './intersect.ts';
import { nearestOnPath } from './nearest.ts';
import { distance, sub, turnDeg } from './vector.ts';

/**
 * The parallel without its false loops.
 * @param parallel the raw parallel, as long as the path runs
 * @param original the path it belongs to
 * @param distanceMm how far from the original every true point of the parallel lies, ≥ 0
 */
export function trimLoops(
  parallel: CubicPath,
  original: CubicPath,
  distanceMm: number,
  toleranceMm: number,
): CubicPath {
  if (controlTurnDeg(parallel) < 180) return parallel; // a loop needs half a turn
  const kept: CubicPath[] = [];
  let from = 0;
  for (const { tA, tB } of selfCrossingsOfPath(parallel).toSorted((a, b) => a.tA - b.tA || b.tB - a.tB)) {
    if (tA < from || !isFalseLoop(parallel, original, tA, tB, distanceMm - SLACK_FACTOR * toleranceMm)) continue;
    kept.push(slicePath(parallel, from, tA));
    from = tB;
  }
  if (kept.length === 0) return parallel;
  return joinPaths([...kept, slicePath(parallel, from, segmentCount(parallel))]);
}

/** A true point may be nearer than the distance by the tolerance of the approximation; this leaves room for it. */
const SLACK_FACTOR = 4;
/** Places along a loop that are asked; a false loop is too near over most of its length. */
const PROBES = [0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875];

function isFalseLoop(parallel: CubicPath, original: CubicPath, fromT: number, toT: number, leastMm: number): boolean {
  return PROBES.some((ratio) => {
    const place = pointAt(parallel, fromT + (toT - fromT) * ratio);
    return nearestOnPath(original, place).distanceMm < leastMm;
  });
}

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
