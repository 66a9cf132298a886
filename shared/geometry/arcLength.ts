// How long a path is, and which place lies so many millimetres along it. Gauss-Legendre quadrature with interval halving
// to a stated error bound, never chords: a flattened curve cannot answer these questions.
import type { Point } from '../base/points.ts';
import {
  type Cubic,
  type CubicPath,
  cubicDerivative,
  locate,
  pointAt,
  reversePath,
  segment,
  segmentCount,
  slicePath,
  tangentAt,
} from './cubicPath.ts';
import { LENGTH_ERROR_MM, LENGTH_ERROR_RATIO, MAX_HALVINGS, MAX_NEWTON_STEPS } from './tolerances.ts';
import { norm } from './vector.ts';

/**
 * Length of a path, millimetres; error per cubic at most LENGTH_ERROR_MM (or LENGTH_ERROR_RATIO of a very long one).
 * 0 when all points coincide.
 * Method: Gauss-Legendre with interval halving (Davis & Rabinowitz, Methods of Numerical Integration).
 */
export function pathLengthMm(path: CubicPath): number {
  return cumulativeLengths(path).at(-1)!;
}

/** Millimetres along the path from its start to parameter t in [0, n]. */
export function lengthToParameter(path: CubicPath, t: number): number {
  const { index, u } = locate(path, t);
  const before = cumulativeLengths(path)[index]!;
  return u === 0 ? before : before + cubicLengthMm(segment(path, index), 0, u);
}

/** The parameter t in [0, n] that lies sMm along the path; clamped to its ends. */
export function parameterAtLength(path: CubicPath, sMm: number): number {
  const cumulative = cumulativeLengths(path);
  const count = segmentCount(path);
  const total = cumulative[count]!;
  if (sMm <= 0) return 0;
  if (sMm >= total) return count;
  let index = 0;
  while (index < count - 1 && cumulative[index + 1]! <= sMm) index++;
  const lengthMm = cumulative[index + 1]! - cumulative[index]!;
  return index + solveCubicLength(segment(path, index), sMm - cumulative[index]!, lengthMm);
}

/** The point and the unit tangent sMm along the path; clamped to its ends. */
export function pointAtLength(path: CubicPath, sMm: number): { readonly point: Point; readonly tangent: Point } {
  const t = parameterAtLength(path, sMm);
  return { point: pointAt(path, t), tangent: tangentAt(path, t) };
}

/** The point sMm along the path; clamped to its ends. */
export function placeAtLength(path: CubicPath, sMm: number): Point {
  return pointAt(path, parameterAtLength(path, sMm));
}

/** The part of the path between two lengths, clamped to its ends; walked backwards when fromMm > toMm. */
export function subPath(path: CubicPath, fromMm: number, toMm: number): CubicPath {
  if (fromMm > toMm) return reversePath(subPath(path, toMm, fromMm));
  return slicePath(path, parameterAtLength(path, fromMm), parameterAtLength(path, toMm));
}

/** Length of one cubic between two parameters, 0 ≤ fromU ≤ toU ≤ 1. */
export function cubicLengthMm(cubic: Cubic, fromU: number, toU: number): number {
  const straightMm = straightLengthMm(cubic);
  if (straightMm !== null) return (toU - fromU) * straightMm;
  const whole = gaussLength(cubic, fromU, toU);
  return refineLength(cubic, fromU, toU, whole, LENGTH_ERROR_MM + LENGTH_ERROR_RATIO * whole, 0);
}

/** The length of a cubic whose handles lie at its thirds, a straight line run through evenly; null for every other. */
function straightLengthMm([p, q, r, s]: Cubic): number | null {
  const x = s[0] - p[0];
  const y = s[1] - p[1];
  const isEven =
    isThird(q[0] - p[0], x) && isThird(q[1] - p[1], y) && isThird(s[0] - r[0], x) && isThird(s[1] - r[1], y);
  return isEven ? Math.sqrt(x * x + y * y) : null;
}

/** To what the rounding of coordinates leaves; far below LENGTH_ERROR_MM. */
function isThird(part: number, whole: number): boolean {
  return Math.abs(3 * part - whole) < EVEN_MM;
}

const EVEN_MM = 1e-9;

/** Paths never change once made, so the lengths of their cubics are worked out once for each. */
const knownLengths = new WeakMap<CubicPath, Float64Array>();

/** Lengths from the start to each joint: n + 1 values, first 0, last the whole. */
function cumulativeLengths(path: CubicPath): Float64Array {
  const known = knownLengths.get(path);
  if (known !== undefined) return known;
  const count = segmentCount(path);
  const lengths = new Float64Array(count + 1);
  for (let i = 0; i < count; i++) lengths[i + 1] = lengths[i]! + cubicLengthMm(segment(path, i), 0, 1);
  knownLengths.set(path, lengths);
  return lengths;
}

function refineLength(cubic: Cubic, from: number, to: number, whole: number, errorMm: number, depth: number): number {
  const middle = (from + to) / 2;
  const left = gaussLength(cubic, from, middle);
  const right = gaussLength(cubic, middle, to);
  if (Math.abs(left + right - whole) <= errorMm || depth >= MAX_HALVINGS) return left + right;
  return (
    refineLength(cubic, from, middle, left, errorMm / 2, depth + 1) +
    refineLength(cubic, middle, to, right, errorMm / 2, depth + 1)
  );
}

/** Newton steps on the length, kept inside a shrinking bracket: the speed is never negative, so there is one answer. */
function solveCubicLength(cubic: Cubic, sMm: number, lengthMm: number): number {
  const closeEnough = LENGTH_ERROR_MM + LENGTH_ERROR_RATIO * lengthMm;
  let low = 0;
  let high = 1;
  let u = sMm / lengthMm;
  let reached = cubicLengthMm(cubic, 0, u);
  for (let step = 0; step < MAX_NEWTON_STEPS + MAX_HALVINGS; step++) {
    const short = sMm - reached;
    if (Math.abs(short) <= closeEnough) return u;
    if (short > 0) low = u;
    else high = u;
    const speed = norm(cubicDerivative(cubic, u));
    const newton = u + short / speed;
    const next = newton > low && newton < high ? newton : (low + high) / 2;
    reached += next > u ? cubicLengthMm(cubic, u, next) : -cubicLengthMm(cubic, next, u);
    u = next;
  }
  return u;
}

/** Written out without points or library calls: nearly all the time of measuring is spent here. */
function gaussLength(cubic: Cubic, from: number, to: number): number {
  const p = cubic[0];
  const q = cubic[1];
  const r = cubic[2];
  const s = cubic[3];
  // Derivative of the cubic as a quadratic in u, each axis, from the control polygon's sides (exactly 0 when they are).
  const px = q[0] - p[0];
  const py = q[1] - p[1];
  const qx = r[0] - q[0];
  const qy = r[1] - q[1];
  const rx = s[0] - r[0];
  const ry = s[1] - r[1];
  const ax = 3 * px;
  const ay = 3 * py;
  const bx = 6 * (qx - px);
  const by = 6 * (qy - py);
  const cx = 3 * (rx - 2 * qx + px);
  const cy = 3 * (ry - 2 * qy + py);
  const half = (to - from) / 2;
  const middle = (from + to) / 2;
  let sum = 0;
  for (let k = 0; k < GAUSS_NODES.length; k++) {
    const reach = half * GAUSS_NODES[k]!;
    const low = middle - reach;
    const high = middle + reach;
    const lowX = ax + low * (bx + low * cx);
    const lowY = ay + low * (by + low * cy);
    const highX = ax + high * (bx + high * cx);
    const highY = ay + high * (by + high * cy);
    sum += GAUSS_WEIGHTS[k]! * (Math.sqrt(lowX * lowX + lowY * lowY) + Math.sqrt(highX * highX + highY * highY));
  }
  return half * sum;
}

/** Positive nodes and their weights of the 12-point Gauss-Legendre rule (Abramowitz & Stegun, table 25.4). */
const GAUSS_NODES = [
  0.125233408511469, 0.36783149899818, 0.587317954286617, 0.769902674194305, 0.904117256370475, 0.981560634246719,
] as const;
const GAUSS_WEIGHTS = [
  0.249147045813403, 0.233492536538355, 0.203167426723066, 0.160078328543346, 0.106939325995318, 0.047175336386512,
] as const;
