// Curves as straight chords, for drawing, hit-testing and areas. Never for lengths: see arcLength.ts.
import type { Point } from '../base/points.ts';
import { type Cubic, type CubicPath, cubicPoint, segment, segmentCount } from './cubicPath.ts';
import { norm } from './vector.ts';

/**
 * Points along the path, both ends included, such that no chord is farther than chordMm from the curve.
 * Bound: a chord over a step h of t strays at most h²/8 · max|B''|, and |B''| of a cubic is greatest at an end.
 */
export function flattenPath(path: CubicPath, chordMm: number): Point[] {
  if (!(chordMm > 0)) throw new Error('a chord tolerance is a positive number of millimetres');
  const points: Point[] = [path[0]!];
  for (let i = 0; i < segmentCount(path); i++) {
    const cubic = segment(path, i);
    const steps = stepsFor(cubic, chordMm);
    for (let k = 1; k <= steps; k++) points.push(cubicPoint(cubic, k / steps));
  }
  return points;
}

/** A closed ring of paths as one polygon; the first point is not repeated. */
export function flattenRing(ring: readonly CubicPath[], chordMm: number): Point[] {
  return ring.flatMap((path) => flattenPath(path, chordMm).slice(0, -1));
}

function stepsFor([p, q, r, s]: Cubic, chordMm: number): number {
  const bendStart = norm([p[0] - 2 * q[0] + r[0], p[1] - 2 * q[1] + r[1]]);
  const bendEnd = norm([q[0] - 2 * r[0] + s[0], q[1] - 2 * r[1] + s[1]]);
  const secondDerivative = 6 * Math.max(bendStart, bendEnd);
  return Math.max(1, Math.ceil(Math.sqrt(secondDerivative / (8 * chordMm))));
}
