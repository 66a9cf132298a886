// A smooth cubic path through noisy points: least squares with reparametrisation, cut in two where the error is too large,
// the same tangent on both sides of each cut. After Schneider, "An algorithm for automatically fitting digitized curves",
// Graphics Gems (1990); own implementation, with free end tangents where none is given and joints smoothed over neighbours.
import type { Point } from '../base/points.ts';
import { type Cubic, type CubicPath, cubicDerivative, cubicPoint, cubicSecondDerivative } from './cubicPath.ts';
import { solveLinear } from './solveLinear.ts';
import { COINCIDENT_MM } from './tolerances.ts';
import { add, distance, dot, scale, sub, unit } from './vector.ts';

export interface FitOptions {
  /** No input point lies farther than this from the path, millimetres. Noise needs room: four times its sigma or more. */
  readonly toleranceMm: number;
  /** Directions of travel at the two ends; left free when absent. */
  readonly startTangent?: Point;
  readonly endTangent?: Point;
}

/**
 * A G1 cubic path that starts at the first and ends at the last point and passes within toleranceMm of all of them.
 * Two points give a straight cubic. Repeated points are dropped; throws when fewer than two different ones remain.
 */
export function fitCubicPath(points: readonly Point[], options: FitOptions): CubicPath {
  const distinct = points.filter((point, i) => i === 0 || distance(point, points[i - 1]!) > COINCIDENT_MM);
  if (distinct.length < 2) throw new Error('fitting needs two different points');
  const cubics: Cubic[] = [];
  fitRun(
    {
      points: distinct,
      startTangent: options.startTangent === undefined ? null : unit(options.startTangent),
      endTangent: options.endTangent === undefined ? null : unit(options.endTangent),
    },
    options.toleranceMm,
    cubics,
  );
  return [cubics[0]![0], ...cubics.flatMap(([, q, r, s]) => [q, r, s])];
}

/** Points to be met by one cubic or more; a tangent that is null is free. */
interface Run {
  readonly points: readonly Point[];
  readonly startTangent: Point | null;
  readonly endTangent: Point | null;
}

function fitRun(run: Run, toleranceMm: number, cubics: Cubic[]): void {
  const { cubic, worstIndex, worstMm } = fitOne(run, toleranceMm);
  if (worstMm <= toleranceMm || run.points.length <= 2) {
    cubics.push(cubic);
    return;
  }
  const cut = Math.min(Math.max(worstIndex, 1), run.points.length - 2);
  const joint = jointAt(run.points, cut, toleranceMm);
  const left = [...run.points.slice(0, cut), joint.point];
  const right = [joint.point, ...run.points.slice(cut + 1)];
  fitRun({ points: left, startTangent: run.startTangent, endTangent: joint.tangent }, toleranceMm, cubics);
  fitRun({ points: right, startTangent: joint.tangent, endTangent: run.endTangent }, toleranceMm, cubics);
}

interface Fit {
  readonly cubic: Cubic;
  readonly worstIndex: number;
  readonly worstMm: number;
}

/** Rounds of fitting and reparametrising; more hardly moves a fit that is going to succeed. */
const MAX_ROUNDS = 24;
/** A fit still worse than this many tolerances after the first rounds is given up: cutting it in two costs less. */
const HOPELESS_FACTOR = 8;
const FIRST_ROUNDS = 4;
/** A round that betters the worst error by less than this share is the last. */
const WORTHWHILE_RATIO = 0.02;

function fitOne(run: Run, toleranceMm: number): Fit {
  let parameters = chordParameters(run.points);
  let best = measure(leastSquares(run, parameters), run.points, parameters);
  for (let round = 1; round < MAX_ROUNDS && run.points.length > 2; round++) {
    parameters = run.points.map((point, i) => closerParameter(best.cubic, point, parameters[i]!));
    const next = measure(leastSquares(run, parameters), run.points, parameters);
    const gain = best.worstMm - next.worstMm;
    if (gain > 0) best = next;
    if (gain <= WORTHWHILE_RATIO * best.worstMm && best.worstMm <= toleranceMm) break;
    if (gain <= 0 || (round >= FIRST_ROUNDS && best.worstMm > HOPELESS_FACTOR * toleranceMm)) break;
  }
  return best;
}

/** The cubic with fixed ends whose handles leave the least sum of squares at the given parameters. */
function leastSquares(run: Run, parameters: readonly number[]): Cubic {
  const from = run.points[0]!;
  const to = run.points[run.points.length - 1]!;
  // Each unknown moves one handle along one direction: one direction where the tangent is given, two where it is free.
  const startWays = run.startTangent === null ? AXES : [run.startTangent];
  const endWays = run.endTangent === null ? AXES : [scale(run.endTangent, -1)];
  const ways = [...startWays.map((way) => ({ way, handle: 1 })), ...endWays.map((way) => ({ way, handle: 2 }))];
  const normal = ways.map(() => ways.map(() => 0));
  const right = ways.map(() => 0);
  run.points.forEach((point, i) => {
    const u = parameters[i]!;
    const shares = [0, 3 * u * (1 - u) ** 2, 3 * u * u * (1 - u)];
    const rest = sub(point, cubicPoint([from, from, to, to], u));
    ways.forEach((a, row) => {
      right[row] = right[row]! + shares[a.handle]! * dot(a.way, rest);
      ways.forEach((b, column) => {
        normal[row]![column] = normal[row]![column]! + shares[a.handle]! * shares[b.handle]! * dot(a.way, b.way);
      });
    });
  });
  const solved = solveLinear(normal, right);
  const start = solved?.slice(0, startWays.length) ?? [];
  const end = solved?.slice(startWays.length) ?? [];
  const runMm = polylineLengthMm(run.points);
  return [from, handleFrom(from, to, runMm, startWays, start), handleFrom(to, from, runMm, endWays, end), to];
}

const AXES: readonly Point[] = [
  [1, 0],
  [0, 1],
];
/** A handle shorter than this share of the chord (or backwards) is replaced by a third of the chord, after Schneider. */
const LEAST_HANDLE_RATIO = 1e-3;
/** So is one longer than this share of the run: a half circle needs 0.42; longer ones curl through noise. */
const MOST_HANDLE_RATIO = 0.75;

function handleFrom(
  end: Point,
  otherEnd: Point,
  runMm: number,
  ways: readonly Point[],
  amounts: readonly number[],
): Point {
  const chordMm = distance(end, otherEnd);
  const only = ways.length === 1 ? ways[0]! : null;
  const backwards = only !== null && amounts[0]! < LEAST_HANDLE_RATIO * chordMm;
  if (amounts.length === 0 || backwards || Math.hypot(...amounts) > MOST_HANDLE_RATIO * runMm) {
    return add(end, scale(only ?? unit(sub(otherEnd, end)), chordMm / 3));
  }
  return ways.reduce((handle, way, i) => add(handle, scale(way, amounts[i]!)), end);
}

function chordParameters(points: readonly Point[]): number[] {
  const along = [0];
  for (let i = 1; i < points.length; i++) along.push(along[i - 1]! + distance(points[i - 1]!, points[i]!));
  const total = along[along.length - 1]!;
  return along.map((s) => s / total);
}

function polylineLengthMm(points: readonly Point[]): number {
  return points.reduce((sum, point, i) => (i === 0 ? 0 : sum + distance(points[i - 1]!, point)), 0);
}

/** One Newton step toward the foot of the perpendicular from the point. */
function closerParameter(cubic: Cubic, point: Point, u: number): number {
  const gap = sub(cubicPoint(cubic, u), point);
  const first = cubicDerivative(cubic, u);
  const slope = dot(first, first) + dot(gap, cubicSecondDerivative(cubic, u));
  if (slope <= 0) return u;
  return Math.min(1, Math.max(0, u - dot(gap, first) / slope));
}

function measure(cubic: Cubic, points: readonly Point[], parameters: readonly number[]): Fit {
  let worstIndex = 0;
  let worstMm = 0;
  points.forEach((point, i) => {
    const awayMm = distance(cubicPoint(cubic, parameters[i]!), point);
    if (awayMm > worstMm) {
      worstIndex = i;
      worstMm = awayMm;
    }
  });
  return { cubic, worstIndex, worstMm };
}

/** Points to each side that a joint is smoothed over: at most, and at least where the run has them. */
const MOST_NEIGHBOURS = 12;
const LEAST_NEIGHBOURS = 2;
/** Halving the window divides the misfit of a bend by eight and leaves that of noise alone: below this ratio it was a bend. */
const BEND_RATIO = 0.5;

interface Joint {
  readonly point: Point;
  readonly tangent: Point;
}

/**
 * Place and tangent of a joint: quadratics x(s), y(s) by least squares over its neighbours, so that the noise of one point
 * neither bends the tangent nor moves the joint; over as many neighbours as such a simple curve describes.
 */
function jointAt(points: readonly Point[], at: number, toleranceMm: number): Joint {
  const within = Math.min(at, points.length - 1 - at);
  let reach = Math.max(1, Math.min(MOST_NEIGHBOURS, within));
  let joint = smoothJoint(points, at, reach);
  while (reach >= 2 * LEAST_NEIGHBOURS) {
    const narrower = smoothJoint(points, at, Math.floor(reach / 2));
    if (narrower.misfitMm >= BEND_RATIO * joint.misfitMm) break;
    joint = narrower;
    reach = Math.floor(reach / 2);
  }
  return distance(joint.point, points[at]!) <= toleranceMm ? joint : { ...joint, point: points[at]! };
}

function smoothJoint(points: readonly Point[], at: number, reach: number): Joint & { readonly misfitMm: number } {
  const near = points.slice(at - reach, at + reach + 1);
  const along = chordParameters(near);
  const centre = along[reach]!;
  const powers = [0, 1, 2];
  const normal = powers.map((row) =>
    powers.map((column) => along.reduce((sum, s) => sum + (s - centre) ** (row + column), 0)),
  );
  const [x, y] = [0, 1].map((axis) =>
    solveLinear(
      normal,
      powers.map((power) => near.reduce((sum, p, i) => sum + (along[i]! - centre) ** power * p[axis]!, 0)),
    ),
  );
  const chord = unit(sub(near[near.length - 1]!, near[0]!));
  if (!x || !y) return { point: points[at]!, tangent: chord, misfitMm: 0 };
  const squares = near.reduce((sum, p, i) => {
    const s = along[i]! - centre;
    return sum + distance(p, [x[0]! + s * (x[1]! + s * x[2]!), y[0]! + s * (y[1]! + s * y[2]!)]) ** 2;
  }, 0);
  const tangent = unit([x[1]!, y[1]!]);
  return {
    point: [x[0]!, y[0]!],
    tangent: dot(tangent, tangent) > 0 ? tangent : chord,
    misfitMm: Math.sqrt(squares / Math.max(1, near.length - powers.length)),
  };
}
