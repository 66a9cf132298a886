// Finds the corners of a closed outline. A corner is where the curve fitted to the edge before it and the curve fitted
// to the edge after it meet at an angle; the rounded contour points between are never used. Dents and bumps of notches
// must be bridged first (findExcursions), or they would be taken for corners.
import { type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import { resamplePolyline } from '../../geometry/polygon.ts';
import { distance, turnDeg } from '../../geometry/vector.ts';
import { type LocalCurve, localCurve, meeting } from '../outline/localFit.ts';
import { around } from '../outline/ring.ts';

export interface CornerOptions {
  /** Smaller changes of direction are bends. */
  readonly minTurnDeg: number;
  /** Points this near to the corner are left out of both fits (rounded by lens and scissors). */
  readonly gapMm: number;
  /** Length of edge used on each side. */
  readonly reachMm: number;
  /** Corners nearer than this are one. */
  readonly apartMm: number;
}

/** Reach and turn after "two-sided fits 5-8 mm long, keep a turn of 15-20 degrees"; longer here because the fit bends. */
export const CORNER_DEFAULTS: CornerOptions = { minTurnDeg: 17, gapMm: 1, reachMm: 10, apartMm: 5 };

export interface OutlineCorner {
  readonly at: TablePointMm;
  /** Change of direction, positive clockwise on the screen. */
  readonly turnDeg: number;
  /** Place along the closed outline from its first point, millimetres. */
  readonly alongMm: number;
  /** Standard deviations of the corner across the edge before it and after it, millimetres. */
  readonly acrossBeforeMm: number;
  readonly acrossAfterMm: number;
}

const STEP_MM = 0.5;
/** Fits that leave more than this are not two clean edges. */
const MAX_RESIDUAL_MM = 0.6;
const RESIDUAL_PRICE_DEG_PER_MM = 40;
/** A candidate counts beside another when its turn is at least this share of the other's. */
const RIVAL_RATIO = 0.5;
/** Corners nearer than this may be the two ends of one blunt corner, when the outline stays this near to its point. */
const TWIN_MM = 10;
const BLUNT_MM = 2;
/** A piece has at least three corners left. */
const LEAST_CORNERS = 3;
/** The meeting of the two fits may lie this far from where the turn was seen. */
const MAX_SHIFT_MM = 3;
/** A turn as clean as this is a corner without further proof. */
const SURE_STRENGTH_DEG = 35;
/** The curve that runs past a supposed corner: what it uses on both sides, and how well it must fit. */
const PASSING_REACH_MM = 25;
const PASSING_LEAST_MM = 14;
const PASSING_SHY_MM = 4;
const PASSING_RESIDUAL_RATIO = 0.006;
/** Longer and longer pieces of edge are tried for the final corner while they fit as well as the short one. */
const LONGER_REACH_MM = [20, 40, 80, 160] as const;
const SAME_FIT_RATIO = 1.3;
/** A short fit may follow the noise itself and look better than it is by this much. */
const SAME_FIT_MM = 0.015;

/**
 * @param outline closed, clockwise on the screen, first point not repeated
 * @returns corners in the order of the outline; empty for a smooth outline
 */
export function splitCorners(
  outline: readonly TablePointMm[],
  options: CornerOptions = CORNER_DEFAULTS,
): OutlineCorner[] {
  if (outline.length < 3) return [];
  const closed = [...outline, outline[0]!];
  const points = resamplePolyline(closed, STEP_MM).slice(0, -1);
  const n = points.length;
  const lengthMm = perimeter(closed);
  const stepMm = lengthMm / n;
  const strength = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const sides = twoSides(points, i, stepMm, options.gapMm, options.reachMm);
    if (sides === null) continue;
    const residualMm = Math.max(sides.before.residualMm, sides.after.residualMm);
    if (residualMm > MAX_RESIDUAL_MM) continue;
    strength[i] = Math.abs(turnDeg(sides.before.tangent, sides.after.tangent)) - RESIDUAL_PRICE_DEG_PER_MM * residualMm;
  }
  const kept: number[] = [];
  const order = Array.from(strength.keys())
    .filter((i) => strength[i]! > options.minTurnDeg / 2)
    .sort((a, b) => strength[b]! - strength[a]!);
  const apart = options.apartMm / stepMm;
  for (const i of order) if (kept.every((k) => ringGap(i, k, n) >= apart)) kept.push(i);
  const sure = kept.filter((i) => strength[i]! >= SURE_STRENGTH_DEG);
  const real = kept.filter((i) => !isDisturbance(points, i, stepMm, roomAt(i, sure, n, stepMm))).sort((a, b) => a - b);

  // a candidate that comes to nothing must not shorten the fits of its neighbours: the second round does without it
  const proven = real.filter((i) => {
    // the long fits see a sharp corner from beside it too: such faint neighbours do not shorten its own
    const rivals = real.filter((k) => strength[k]! >= RIVAL_RATIO * strength[i]!);
    return cornerAmong(points, i, rivals, stepMm, options) !== null;
  });
  const corners = proven.flatMap((index): Placed[] => {
    const corner = cornerAmong(points, index, proven, stepMm, options);
    return corner === null ? [] : [{ index, corner }];
  });
  // the exact place may lie a step beyond the start of the outline or beyond a neighbour's
  return withoutTwins(points, corners, stepMm, options)
    .sort((a, b) => a.alongMm - b.alongMm)
    .filter((corner, k, all) => k === 0 || corner.alongMm > all[k - 1]!.alongMm);
}

interface Placed {
  readonly index: number;
  readonly corner: OutlineCorner;
}

/** Neighbours that are one corner (cut round, chamfered a little, or a sharp one beside a feigned turn) are replaced by it. */
function withoutTwins(
  points: readonly Point[],
  corners: readonly Placed[],
  stepMm: number,
  options: CornerOptions,
): OutlineCorner[] {
  const left = [...corners];
  for (let i = 0; i < left.length && left.length > LEAST_CORNERS; i++) {
    const next = (i + 1) % left.length;
    const others = left.filter((_, k) => k !== i && k !== next).map(({ index }) => index);
    const one = bluntCorner(points, left[i]!, left[next]!, others, stepMm, options);
    if (one === null) continue;
    left[i] = one;
    left.splice(next, 1);
  }
  return left.map(({ corner }) => corner);
}

function bluntCorner(
  points: readonly Point[],
  first: Placed,
  second: Placed,
  others: readonly number[],
  stepMm: number,
  options: CornerOptions,
): Placed | null {
  const n = points.length;
  const steps = (second.index - first.index + n) % n;
  if (steps * stepMm > TWIN_MM) return null;
  const sameWay = first.corner.turnDeg * second.corner.turnDeg > 0;
  const sharper = Math.abs(first.corner.turnDeg) >= Math.abs(second.corner.turnDeg) ? first : second;
  // beside a sharp corner scatter alone may feign a turn the other way
  const index = sameWay ? (first.index + Math.round(steps / 2)) % n : sharper.index;
  const gapMm = options.gapMm + (sameWay ? steps / 2 : steps) * stepMm;
  const room = roomAt(index, others, n, stepMm);
  const reachMm = Math.min(gapMm + options.reachMm, Math.min(room.before, room.after) - options.gapMm);
  const free = { before: room.before - options.apartMm / 2, after: room.after - options.apartMm / 2 };
  const corner = cornerAt(points, index, stepMm, { ...options, gapMm, reachMm }, free);
  if (corner === null || Math.abs(corner.turnDeg) < options.minTurnDeg) return null;
  const blunt = distance(points[nearestIndex(points, index, corner.at, steps)]!, corner.at);
  return blunt > BLUNT_MM ? null : { index, corner };
}

function cornerAmong(
  points: readonly Point[],
  index: number,
  all: readonly number[],
  stepMm: number,
  options: CornerOptions,
): OutlineCorner | null {
  const room = roomAt(index, all, points.length, stepMm);
  const nearest = Math.min(room.before, room.after);
  const reachMm = Math.max(options.gapMm + 2, Math.min(options.reachMm, nearest - options.gapMm));
  const free = { before: room.before - options.apartMm / 2, after: room.after - options.apartMm / 2 };
  const corner = cornerAt(points, index, stepMm, { ...options, reachMm }, free);
  return corner !== null && Math.abs(corner.turnDeg) >= options.minTurnDeg ? corner : null;
}

interface Room {
  readonly before: number;
  readonly after: number;
}

/** Free way along the outline to the nearest other corner on either side, half the outline when there is none. */
function roomAt(index: number, corners: readonly number[], n: number, stepMm: number): Room {
  let before = n / 2;
  let after = n / 2;
  for (const other of corners) {
    if (other === index) continue;
    before = Math.min(before, (index - other + n) % n);
    after = Math.min(after, (other - index + n) % n);
  }
  return { before: before * stepMm, after: after * stepMm };
}

/**
 * True when one smooth curve runs past the place as if nothing were there: the turn seen is a small dent (a grid line of the
 * mat, a speck), not a corner. A real turn of 17 degrees leaves more than twice the residual allowed here.
 */
function isDisturbance(points: readonly Point[], index: number, stepMm: number, room: Room): boolean {
  const n = points.length;
  const reachMm = Math.min(PASSING_REACH_MM, Math.min(room.before, room.after) - PASSING_SHY_MM);
  if (reachMm < PASSING_LEAST_MM) return false;
  const near: Point[] = [];
  const s: number[] = [];
  for (let k = Math.ceil(PASSING_SHY_MM / stepMm); k * stepMm <= reachMm; k++) {
    for (const side of [-1, 1]) {
      near.push(points[around(index + side * k, n)]!);
      s.push(side * k * stepMm);
    }
  }
  const curve = localCurve(near, s);
  if (curve === null) return false;
  return curve.residualMm < PASSING_RESIDUAL_RATIO * reachMm && distance(curve.at, points[index]!) < MAX_SHIFT_MM;
}

function cornerAt(
  points: readonly Point[],
  seed: number,
  stepMm: number,
  options: CornerOptions,
  room: Room,
): OutlineCorner | null {
  const n = points.length;
  let index = seed;
  for (let round = 0; ; round++) {
    const sides = twoSides(points, index, stepMm, options.gapMm, options.reachMm);
    if (sides === null) return null;
    const before = lengthened(points, index, stepMm, options, -1, room.before, sides.before);
    const after = lengthened(points, index, stepMm, options, 1, room.after, sides.after);
    const met = meeting(before, after);
    if (met === null || distance(met, points[seed]!) > MAX_SHIFT_MM) return null;
    const closest = nearestIndex(points, index, met, Math.ceil(MAX_SHIFT_MM / stepMm));
    if (closest !== index && round < 2) {
      index = closest;
      continue;
    }
    return {
      at: tableMm(met[0], met[1]),
      turnDeg: turnDeg(before.tangent, after.tangent),
      alongMm: ((index + n) % n) * stepMm,
      acrossBeforeMm: acrossSigma(before),
      acrossAfterMm: acrossSigma(after),
    };
  }
}

/** The fit over the longest piece of edge that scatters no more than the short one: noise shrinks with its length. */
function lengthened(
  points: readonly Point[],
  index: number,
  stepMm: number,
  options: CornerOptions,
  side: 1 | -1,
  roomMm: number,
  short: LocalCurve,
): LocalCurve {
  let best = short;
  for (const reachMm of [...LONGER_REACH_MM, roomMm].sort((a, b) => a - b)) {
    if (reachMm > roomMm || reachMm <= options.reachMm) continue;
    const longer = sideFit(points, index, stepMm, options.gapMm, reachMm, side);
    if (longer !== null && longer.residualMm <= short.residualMm * SAME_FIT_RATIO + SAME_FIT_MM) best = longer;
  }
  return best;
}

function acrossSigma(side: LocalCurve): number {
  return side.residualMm * side.placeGain;
}

function twoSides(
  points: readonly Point[],
  i: number,
  stepMm: number,
  gapMm: number,
  reachMm: number,
): { before: LocalCurve; after: LocalCurve } | null {
  if (2 * Math.floor(reachMm / stepMm) >= points.length) return null;
  const before = sideFit(points, i, stepMm, gapMm, reachMm, -1);
  const after = sideFit(points, i, stepMm, gapMm, reachMm, 1);
  return before === null || after === null ? null : { before, after };
}

function sideFit(
  points: readonly Point[],
  i: number,
  stepMm: number,
  gapMm: number,
  reachMm: number,
  side: 1 | -1,
): LocalCurve | null {
  const n = points.length;
  const near: Point[] = [];
  const s: number[] = [];
  for (let k = Math.ceil(gapMm / stepMm); k <= Math.floor(reachMm / stepMm); k++) {
    near.push(points[around(i + side * k, n)]!);
    s.push(side * k * stepMm);
  }
  return localCurve(near, s);
}

function nearestIndex(points: readonly Point[], around: number, at: Point, reach: number): number {
  const n = points.length;
  let best = around;
  for (let k = -reach; k <= reach; k++) {
    const i = (around + k + n) % n;
    if (distance(points[i]!, at) < distance(points[best]!, at)) best = i;
  }
  return best;
}

function ringGap(a: number, b: number, n: number): number {
  const gap = Math.abs(a - b);
  return Math.min(gap, n - gap);
}

function perimeter(closed: readonly Point[]): number {
  let sum = 0;
  for (let i = 1; i < closed.length; i++) sum += distance(closed[i - 1]!, closed[i]!);
  return sum;
}
