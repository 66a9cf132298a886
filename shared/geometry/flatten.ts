// Curves as straight chords, for drawing, hit-testing and areas. Never for lengths: see arcLength.ts.
import type { Point } from '../base/points.ts';
import { type Cubic, type CubicPath, cubicPoint, segment, segmentCount } from './cubicPath.ts';

/**
 * Points along the path, both ends included, such that no chord is farther than chordMm from the curve.
 * Bound: a chord over a step h of t strays at most h²/8 · max|B''|, and |B''| of a cubic is greatest at an end.
 */
export function flattenPath(path: CubicPath, chordMm: number): Point[] {
  const points: Point[] = [path[0]!];
  addChords(path, chordMm, points);
  return points;
}

/** A closed ring of paths as one polygon; the first point is not repeated. */
export function flattenRing(ring: readonly CubicPath[], chordMm: number): Point[] {
  const points: Point[] = [];
  for (const path of ring) {
    points.push(path[0]!);
    addChords(path, chordMm, points);
    points.pop();
  }
  return points;
}

/** The points after the first. */
function addChords(path: CubicPath, chordMm: number, points: Point[]): void {
  if (!(chordMm > 0)) throw new Error('a chord tolerance is a positive number of millimetres');
  for (let i = 0; i < segmentCount(path); i++) {
    const cubic = segment(path, i);
    const steps = stepsFor(cubic, chordMm);
    for (let k = 1; k <= steps; k++) points.push(cubicPoint(cubic, k / steps));
  }
}

function stepsFor(cubic: Cubic, chordMm: number): number {
  const secondDerivative = 6 * Math.max(bend(cubic[0], cubic[1], cubic[2]), bend(cubic[1], cubic[2], cubic[3]));
  return Math.max(1, Math.ceil(Math.sqrt(secondDerivative / (8 * chordMm))));
}

/** How far the middle of three control points is off the line through evenly spaced ones, twice. */
function bend(p: Point, q: Point, r: Point): number {
  const x = p[0] - 2 * q[0] + r[0];
  const y = p[1] - 2 * q[1] + r[1];
  return Math.sqrt(x * x + y * y);
}
