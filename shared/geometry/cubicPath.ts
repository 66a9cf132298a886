// A chain of cubic Bézier segments as one flat list of control points: the only curve the model knows. Evaluation,
// cutting and joining; measuring lives in arcLength.ts.
import type { Point } from '../base/points.ts';
import { NO_DIRECTION_RATIO } from './tolerances.ts';
import { type Affine, apply } from './transform.ts';
import { cross, distance, dot, lerp, norm, sub, unit } from './vector.ts';

/** 3n+1 control points of n cubics, n ≥ 1: end, handle, handle, end, handle, handle, end … */
export type CubicPath = readonly Point[];
export type Cubic = readonly [Point, Point, Point, Point];

/** Number of cubics. Throws when the list is not 3n+1 points with n ≥ 1. */
export function segmentCount(path: CubicPath): number {
  const count = (path.length - 1) / 3;
  if (count < 1 || !Number.isInteger(count)) throw new Error(`a cubic path has 3n+1 points, not ${path.length}`);
  return count;
}

/** The control points of cubic i, 0 ≤ i < segmentCount. */
export function segment(path: CubicPath, i: number): Cubic {
  return [path[3 * i]!, path[3 * i + 1]!, path[3 * i + 2]!, path[3 * i + 3]!];
}

export function startOf(path: CubicPath): Point {
  return path[0]!;
}

export function endOf(path: CubicPath): Point {
  return path[path.length - 1]!;
}

/** The cubic that holds parameter t and the place in it; t is clamped to [0, n], a joint belongs to the cubic after it. */
export function locate(path: CubicPath, t: number): { readonly index: number; readonly u: number } {
  const count = segmentCount(path);
  const clamped = Math.min(Math.max(t, 0), count);
  const index = Math.min(Math.floor(clamped), count - 1);
  return { index, u: clamped - index };
}

/** The point at t in [0, n]; t outside is clamped. */
export function pointAt(path: CubicPath, t: number): Point {
  const { index, u } = locate(path, t);
  return cubicPoint(segment(path, index), u);
}

/** The derivative by t at t in [0, n], millimetres per unit of t; at a joint that of the cubic after it. */
export function derivativeAt(path: CubicPath, t: number): Point {
  const { index, u } = locate(path, t);
  return cubicDerivative(segment(path, index), u);
}

/**
 * Unit tangent in the direction of travel at t in [0, n]; at a joint that of the cubic after it. Where handles coincide
 * with an end the limit direction is taken; [0, 0] only when the whole cubic is one point.
 */
export function tangentAt(path: CubicPath, t: number): Point {
  const { index, u } = locate(path, t);
  return cubicTangent(segment(path, index), u);
}

/** Unit tangent with which the path arrives at its last point. */
export function endTangent(path: CubicPath): Point {
  return tangentAt(path, segmentCount(path));
}

/**
 * Signed curvature, 1/mm, at t in [0, n]; positive bends clockwise as seen on the screen (y down). 0 where the derivative
 * vanishes, since curvature has no finite value there.
 */
export function curvatureAt(path: CubicPath, t: number): number {
  const { index, u } = locate(path, t);
  const cubic = segment(path, index);
  const first = cubicDerivative(cubic, u);
  const speed = norm(first);
  if (speed <= NO_DIRECTION_RATIO * cubicSize(cubic)) return 0;
  return cross(first, cubicSecondDerivative(cubic, u)) / speed ** 3;
}

/** Both parts of the path cut at t in [0, n]; a part of no length is one cubic of four equal points. */
export function splitAt(path: CubicPath, t: number): readonly [CubicPath, CubicPath] {
  const { index, u } = locate(path, t);
  const here = pointAt(path, t);
  const atStart = index === 0 && u === 0;
  const atEnd = index === segmentCount(path) - 1 && u === 1;
  if (atStart) return [pointPath(here), path];
  if (atEnd) return [path, pointPath(here)];
  if (u === 0) return [path.slice(0, 3 * index + 1), path.slice(3 * index)];
  const [left, right] = splitCubic(segment(path, index), u);
  return [
    [...path.slice(0, 3 * index), ...left],
    [...right, ...path.slice(3 * index + 4)],
  ];
}

/** The part of the path between two parameters, 0 ≤ fromT ≤ toT ≤ n. */
export function slicePath(path: CubicPath, fromT: number, toT: number): CubicPath {
  const end = locate(path, toT);
  const start = locate(path, fromT);
  if (start.index + start.u >= end.index + end.u) return pointPath(pointAt(path, fromT));
  const head = splitAt(path, toT)[0];
  // The cubic that holds both cuts was shortened to [0, end.u]: its parameter is stretched accordingly.
  const stretched = start.index === end.index && end.u > 0 ? start.u / end.u : start.u;
  return splitAt(head, start.index + stretched)[1];
}

export function reversePath(path: CubicPath): CubicPath {
  return path.toReversed();
}

/** Paths laid end to start; the first end is kept and the next start dropped, so they should coincide. */
export function joinPaths(paths: readonly CubicPath[]): CubicPath {
  return paths.flatMap((path, i) => (i === 0 ? path : path.slice(1)));
}

export function transformPath(targetFromSource: Affine, path: CubicPath): CubicPath {
  return path.map((point) => apply(targetFromSource, point));
}

/** Straight cubics through two or more points, handles at the thirds so that t runs evenly along each. */
export function polylinePath(points: readonly Point[]): CubicPath {
  const first = points[0];
  if (first === undefined || points.length < 2) throw new Error('a polyline path needs two points');
  const path: Point[] = [first];
  for (let i = 1; i < points.length; i++) {
    const from = points[i - 1]!;
    const to = points[i]!;
    path.push(lerp(from, to, 1 / 3), lerp(from, to, 2 / 3), to);
  }
  return path;
}

/** One cubic of no length. */
export function pointPath(point: Point): CubicPath {
  return [point, point, point, point];
}

export function cubicPoint(cubic: Cubic, u: number): Point {
  if (u === 0) return cubic[0];
  if (u === 1) return cubic[3];
  const v = 1 - u;
  const a = v * v * v;
  const b = 3 * v * v * u;
  const c = 3 * v * u * u;
  const d = u * u * u;
  const p = cubic[0];
  const q = cubic[1];
  const r = cubic[2];
  const s = cubic[3];
  return [a * p[0] + b * q[0] + c * r[0] + d * s[0], a * p[1] + b * q[1] + c * r[1] + d * s[1]];
}

export function cubicDerivative(cubic: Cubic, u: number): Point {
  const v = 1 - u;
  const a = 3 * v * v;
  const b = 6 * v * u;
  const c = 3 * u * u;
  const p = cubic[0];
  const q = cubic[1];
  const r = cubic[2];
  const s = cubic[3];
  return [
    a * (q[0] - p[0]) + b * (r[0] - q[0]) + c * (s[0] - r[0]),
    a * (q[1] - p[1]) + b * (r[1] - q[1]) + c * (s[1] - r[1]),
  ];
}

export function cubicSecondDerivative(cubic: Cubic, u: number): Point {
  const [p, q, r, s] = cubic;
  const v = 1 - u;
  return [
    6 * (v * (r[0] - 2 * q[0] + p[0]) + u * (s[0] - 2 * r[0] + q[0])),
    6 * (v * (r[1] - 2 * q[1] + p[1]) + u * (s[1] - 2 * r[1] + q[1])),
  ];
}

/** Both halves of one cubic cut at u (de Casteljau). */
export function splitCubic(cubic: Cubic, u: number): readonly [Cubic, Cubic] {
  const [p, q, r, s] = cubic;
  const pq = lerp(p, q, u);
  const qr = lerp(q, r, u);
  const rs = lerp(r, s, u);
  const pqr = lerp(pq, qr, u);
  const qrs = lerp(qr, rs, u);
  const middle = lerp(pqr, qrs, u);
  return [
    [p, pq, pqr, middle],
    [middle, qrs, rs, s],
  ];
}

/** Extent of the control polygon, millimetres: the yardstick for "no direction". */
export function cubicSize(cubic: Cubic): number {
  return Math.max(distance(cubic[0], cubic[1]), distance(cubic[0], cubic[2]), distance(cubic[0], cubic[3]));
}

function cubicTangent(cubic: Cubic, u: number): Point {
  const least = NO_DIRECTION_RATIO * cubicSize(cubic);
  const first = cubicDerivative(cubic, u);
  if (norm(first) > least) return unit(first);
  const [p, q, r, s] = cubic;
  const candidates = u < 0.5 ? [sub(q, p), sub(r, p), sub(s, p)] : [sub(s, r), sub(s, q), sub(s, p)];
  const atEnd = u <= NO_DIRECTION_RATIO || u >= 1 - NO_DIRECTION_RATIO;
  if (atEnd) return unit(candidates.find((candidate) => norm(candidate) > least) ?? [0, 0]);
  // A cusp inside: leave along the second derivative, the direction the curve takes right after it.
  const second = cubicSecondDerivative(cubic, u);
  return dot(second, second) > 0 ? unit(second) : unit(sub(s, p));
}
