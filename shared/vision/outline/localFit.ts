// Short curves through outline points: a parabola by arc length in each coordinate, which follows a bent edge where a
// straight line would cut the bend. Corners, tangents and smoothing all come from this one fit.
import type { Point } from '../../base/points.ts';

export interface LocalCurve {
  /** Place and direction of travel (unit) at s = 0. */
  readonly at: Point;
  readonly tangent: Point;
  /** Root mean square distance of the points. */
  readonly residualMm: number;
  /** Standard deviation of `at` across the curve over that of single points. */
  readonly placeGain: number;
  /** Signed turn of the direction for each millimetre, radians; 0 where no bend is proven. */
  readonly bendPerMm: number;
}

/** A bend counts when it stands out of the scatter by this many standard deviations; otherwise the line is straight. */
const BEND_PROOF = 4;
/** Neighbouring outline points share noise; the scatter of fitted values is larger than for independent points by its root. */
const CORRELATED_POINTS = 3;

/**
 * Least squares of x(s), y(s) = a + b s + c s^2, evaluated at s = 0; a straight line when the bend is not proven, which
 * extrapolates far better. Null with fewer than two points or without any extent.
 * @param s arc length of each point relative to the place of interest, millimetres
 */
export function localCurve(points: readonly Point[], s: readonly number[]): LocalCurve | null {
  if (points.length < 2) return null;
  let reach = 0;
  for (const value of s) reach = Math.max(reach, Math.abs(value));
  if (!(reach > 0)) return null;
  const moments = [0, 0, 0, 0, 0];
  const xs = [0, 0, 0];
  const ys = [0, 0, 0];
  for (let i = 0; i < points.length; i++) {
    const u = s[i]! / reach;
    const point = points[i]!;
    let power = 1;
    for (let k = 0; k < 5; k++) {
      moments[k]! += power;
      if (k < 3) {
        xs[k]! += power * point[0];
        ys[k]! += power * point[1];
      }
      power *= u;
    }
  }
  const straight = solved(inverse2(moments), xs, ys, points, s, reach);
  if (points.length < 6) return straight?.curve ?? null;
  const bent = solved(inverse3(moments), xs, ys, points, s, reach);
  if (bent === null || straight === null) return straight?.curve ?? null;
  const proofMm = BEND_PROOF * bent.bendGain * bent.curve.residualMm * Math.sqrt(CORRELATED_POINTS);
  return bent.bendMm > proofMm ? bent.curve : straight.curve;
}

interface Solved {
  readonly curve: LocalCurve;
  /** Size of the quadratic term across the curve at the reach, and its standard deviation per unit scatter. */
  readonly bendMm: number;
  readonly bendGain: number;
}

function solved(
  inverse: readonly number[] | null,
  xs: readonly number[],
  ys: readonly number[],
  points: readonly Point[],
  s: readonly number[],
  reach: number,
): Solved | null {
  if (inverse === null) return null;
  const ax = rowTimes(inverse, 0, xs);
  const bx = rowTimes(inverse, 1, xs);
  const cx = rowTimes(inverse, 2, xs);
  const ay = rowTimes(inverse, 0, ys);
  const by = rowTimes(inverse, 1, ys);
  const cy = rowTimes(inverse, 2, ys);
  const speed = Math.hypot(bx, by);
  if (!(speed > 0)) return null;
  let squares = 0;
  for (let i = 0; i < points.length; i++) {
    const u = s[i]! / reach;
    const point = points[i]!;
    const dx = point[0] - (ax + bx * u + cx * u * u);
    const dy = point[1] - (ay + by * u + cy * u * u);
    // along the curve the spacing of the points says nothing: count the part across it
    const across = (dx * by - dy * bx) / speed;
    squares += across * across;
  }
  const curve: LocalCurve = {
    at: [ax, ay],
    tangent: [bx / speed, by / speed],
    residualMm: Math.sqrt(squares / points.length),
    placeGain: Math.sqrt(inverse[0]! * CORRELATED_POINTS),
    bendPerMm: (2 * (bx * cy - by * cx)) / speed ** 3,
  };
  return { curve, bendMm: Math.abs(cx * by - cy * bx) / speed, bendGain: Math.sqrt(inverse[8]!) };
}

function rowTimes(matrix: readonly number[], row: number, v: readonly number[]): number {
  return matrix[3 * row]! * v[0]! + matrix[3 * row + 1]! * v[1]! + matrix[3 * row + 2]! * v[2]!;
}

/** Inverse of the 3 x 3 moment matrix [s0 s1 s2; s1 s2 s3; s2 s3 s4]. */
function inverse3(m: readonly number[]): number[] | null {
  const a = m[0]!;
  const b = m[1]!;
  const c = m[2]!;
  const d = m[3]!;
  const e = m[4]!;
  const determinant = a * (c * e - d * d) - b * (b * e - d * c) + c * (b * d - c * c);
  if (!(determinant > 0)) return null;
  const xx = (c * e - d * d) / determinant;
  const xy = (c * d - b * e) / determinant;
  const xz = (b * d - c * c) / determinant;
  const yy = (a * e - c * c) / determinant;
  const yz = (b * c - a * d) / determinant;
  const zz = (a * c - b * b) / determinant;
  return [xx, xy, xz, xy, yy, yz, xz, yz, zz];
}

/** Same layout, for a straight line: the third parameter stays zero. */
function inverse2(m: readonly number[]): number[] | null {
  const [a, b, c] = m as [number, number, number];
  const determinant = a * c - b * b;
  if (!(determinant > 0)) return null;
  return [c / determinant, -b / determinant, 0, -b / determinant, a / determinant, 0, 0, 0, 0];
}

/** Where the line through `a.at` along a.tangent meets that of b; null when they are parallel within a degree. */
export function meeting(a: LocalCurve, b: LocalCurve): Point | null {
  const sine = a.tangent[0] * b.tangent[1] - a.tangent[1] * b.tangent[0];
  if (Math.abs(sine) < Math.sin(Math.PI / 180)) return null;
  const dx = b.at[0] - a.at[0];
  const dy = b.at[1] - a.at[1];
  const u = (dx * b.tangent[1] - dy * b.tangent[0]) / sine;
  return [a.at[0] + u * a.tangent[0], a.at[1] + u * a.tangent[1]];
}
