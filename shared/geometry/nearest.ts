// The place on a path that is nearest to a point.
import type { Point } from '../base/points.ts';
import { lengthToParameter } from './arcLength.ts';
import { bernsteinRoots } from './bernstein.ts';
import { type Cubic, type CubicPath, cubicPoint, segment, segmentCount } from './cubicPath.ts';
import { distance } from './vector.ts';

export interface NearestPlace {
  readonly point: Point;
  readonly distanceMm: number;
  /** Millimetres along the path from its start. */
  readonly atMm: number;
  /** Parameter in [0, n]. */
  readonly t: number;
}

/** The nearest place on the path; of several equally near ones the first. Exact: every foot of a perpendicular is found. */
export function nearestOnPath(path: CubicPath, point: Point): NearestPlace {
  let t = 0;
  let distanceMm = distance(path[0]!, point);
  for (let i = 0; i < segmentCount(path); i++) {
    const cubic = segment(path, i);
    if (distanceToHull(cubic, point) >= distanceMm) continue;
    for (const u of [...bernsteinRoots(footPolynomial(cubic, point)), 1]) {
      const awayMm = distance(cubicPoint(cubic, u), point);
      if (awayMm < distanceMm) {
        distanceMm = awayMm;
        t = i + u;
      }
    }
  }
  const index = Math.min(Math.floor(t), segmentCount(path) - 1);
  return { point: cubicPoint(segment(path, index), t - index), distanceMm, atMm: lengthToParameter(path, t), t };
}

/** Bernstein coefficients (degree 5) of (B(u) − point) · B'(u) / 3, zero at the foot of every perpendicular. */
function footPolynomial(cubic: Cubic, point: Point): number[] {
  const coefficients = [0, 0, 0, 0, 0, 0];
  for (let i = 0; i <= 3; i++) {
    const cx = cubic[i]![0] - point[0];
    const cy = cubic[i]![1] - point[1];
    for (let j = 0; j <= 2; j++) {
      const dx = cubic[j + 1]![0] - cubic[j]![0];
      const dy = cubic[j + 1]![1] - cubic[j]![1];
      const share = (BINOMIAL_3[i]! * BINOMIAL_2[j]!) / BINOMIAL_5[i + j]!;
      coefficients[i + j] = coefficients[i + j]! + share * (cx * dx + cy * dy);
    }
  }
  return coefficients;
}

const BINOMIAL_2 = [1, 2, 1];
const BINOMIAL_3 = [1, 3, 3, 1];
const BINOMIAL_5 = [1, 5, 10, 10, 5, 1];

/** A lower bound of the distance: to the upright box around the control points, which holds the whole cubic. */
function distanceToHull(cubic: Cubic, point: Point): number {
  const dx = gap(point[0], cubic[0][0], cubic[1][0], cubic[2][0], cubic[3][0]);
  const dy = gap(point[1], cubic[0][1], cubic[1][1], cubic[2][1], cubic[3][1]);
  return Math.sqrt(dx * dx + dy * dy);
}

function gap(value: number, a: number, b: number, c: number, d: number): number {
  return Math.max(0, Math.min(a, b, c, d) - value, value - Math.max(a, b, c, d));
}
