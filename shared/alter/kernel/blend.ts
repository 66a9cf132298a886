// A path moved here and left alone there, with a smooth passage between: displacements are given at a few stations along the
// path and blended in between. The passage is reckoned on the curve half-way between old and new, so that moving back by the
// same amounts returns to the old curve.
import type { Point } from '../../base/points.ts';
import { cubicLengthMm, parameterAtLength, pathLengthMm } from '../../geometry/arcLength.ts';
import { type CubicPath, pointAt, segment, segmentCount, splitAt, splitCubic } from '../../geometry/cubicPath.ts';
import { COINCIDENT_MM, LENGTH_ERROR_MM } from '../../geometry/tolerances.ts';
import { add, distance, lerp, scale } from '../../geometry/vector.ts';

/** A place along the path and how far it moves. */
export interface Station {
  /** Share of the path's length from its start, stills not counted: 0 to 1, rising from station to station. */
  readonly atRatio: number;
  readonly moveMm: Point;
  /** Change of the displacement per millimetre of path at this place; absent = none, which keeps the tangent's direction. */
  readonly slope?: Point;
}

/** `smooth` keeps the direction at every station; `linear` keeps straight lines straight. */
export interface Blend {
  readonly how: 'smooth' | 'linear';
  readonly stations: readonly Station[];
}

/** A stretch of the path that moves as one piece (the mouth of a dart), millimetres along it. */
export interface Still {
  readonly fromMm: number;
  readonly toMm: number;
}

export interface Displaced {
  readonly path: CubicPath;
  /** How far the place that lay so many millimetres along the old path has moved. */
  readonly moveAt: (atMm: number) => Point;
}

/** Rounds until the half-way curve settles; each shrinks the change by the ratio of move to length. */
const MAX_ROUNDS = 40;
/** Pieces between two stations: a smooth passage is a cubic in length, which four Hermite pieces follow to a thousandth. */
const PIECES_IN_PASSAGE = 4;
/** A piece this much longer than its share is cut; shorter ones stay, so that repeated changes do not multiply the pieces. */
const CUT_FACTOR = 1.6;
/** A joint this near to a station serves as its knot. */
const KNOT_NEAR_MM = 0.5;

/**
 * The path with the blended displacement added: tangent continuous wherever it was, unmoved where both stations about it are
 * unmoved. Throws when there are no stations.
 */
export function displacePath(path: CubicPath, blend: Blend, stills: readonly Still[] = []): Displaced {
  const cut = blend.how === 'linear' ? cutAtStills(path, stills) : cutFinely(cutAtStills(path, stills), blend, stills);
  const isStill = stillCubics(cut, stills);
  let moves: readonly Point[] = cut.map(() => [0, 0]);
  for (let round = 0; round < MAX_ROUNDS; round++) {
    const halfWay = cut.map((point, i) => add(point, scale(moves[i]!, 1 / 2)));
    const next = movesOn(halfWay, blend, isStill);
    const changeMm = Math.max(...next.map((move, i) => distance(move, moves[i]!)));
    moves = next;
    if (changeMm <= LENGTH_ERROR_MM) break;
  }
  return {
    path: cut.map((point, i) => add(point, moves[i]!)),
    moveAt: (atMm) => pointAt(moves, parameterAtLength(cut, atMm)),
  };
}

/** Displacement and its rate at a share of the path. */
function fieldAt(blend: Blend, ratio: number, totalMm: number): { readonly move: Point; readonly rate: Point } {
  const { stations } = blend;
  const first = stations[0];
  const last = stations.at(-1);
  if (first === undefined || last === undefined) throw new Error('a blend needs a station');
  if (ratio <= first.atRatio && (stations.length === 1 || first.atRatio > 0)) return { move: first.moveMm, rate: REST };
  if (ratio >= last.atRatio && last.atRatio < 1) return { move: last.moveMm, rate: REST };
  const index = Math.max(
    1,
    stations.findIndex((station) => station.atRatio >= ratio),
  );
  const to = stations[index] ?? last;
  const from = stations[stations.indexOf(to) - 1] ?? first;
  const width = to.atRatio - from.atRatio;
  if (width <= 0) return { move: to.moveMm, rate: scale(to.slope ?? REST, totalMm) };
  const x = Math.min(1, Math.max(0, (ratio - from.atRatio) / width));
  if (blend.how === 'linear') {
    const rate: Point = [(to.moveMm[0] - from.moveMm[0]) / width, (to.moveMm[1] - from.moveMm[1]) / width];
    return { move: lerp(from.moveMm, to.moveMm, x), rate };
  }
  return hermite(from, to, width, x, totalMm);
}

const REST: Point = [0, 0];

function hermite(
  from: Station,
  to: Station,
  width: number,
  x: number,
  totalMm: number,
): { readonly move: Point; readonly rate: Point } {
  const axis = (k: 0 | 1): readonly [number, number] => {
    const [a, b] = [from.moveMm[k], to.moveMm[k]];
    const [m, n] = [(from.slope ?? REST)[k] * width * totalMm, (to.slope ?? REST)[k] * width * totalMm];
    const value = a + x * x * (3 - 2 * x) * (b - a) + x * (1 - x) * (1 - x) * m - x * x * (1 - x) * n;
    const slope = 6 * x * (1 - x) * (b - a) + (1 - x) * (1 - 3 * x) * m + x * (3 * x - 2) * n;
    return [value, slope / width];
  };
  const [x0, y0] = [axis(0), axis(1)];
  return { move: [x0[0], y0[0]], rate: [x0[1], y0[1]] };
}

/** Displacements of all control points, lengths reckoned on the half-way curve. */
function movesOn(halfWay: CubicPath, blend: Blend, isStill: readonly boolean[]): readonly Point[] {
  const count = segmentCount(halfWay);
  const lengths = Array.from({ length: count }, (_, i) => (isStill[i] ? 0 : cubicLengthMm(segment(halfWay, i), 0, 1)));
  const totalMm = lengths.reduce((sum, length) => sum + length, 0);
  const ratioAt = (doneMm: number) => (totalMm === 0 ? 0 : doneMm / totalMm);
  let doneMm = 0;
  let from = fieldAt(blend, 0, totalMm);
  const moves: Point[] = [from.move];
  for (let i = 0; i < count; i++) {
    doneMm += lengths[i]!;
    const to = fieldAt(blend, i === count - 1 ? 1 : ratioAt(doneMm), totalMm);
    const [p, q, r, s] = segment(halfWay, i);
    const reach = (aMm: number) => (isStill[i] ? 0 : ratioAt(aMm));
    moves.push(add(from.move, scale(from.rate, reach(distance(p, q)))));
    moves.push(add(to.move, scale(to.rate, -reach(distance(r, s)))));
    moves.push(to.move);
    from = to;
  }
  return moves;
}

function cutAtStills(path: CubicPath, stills: readonly Still[]): CubicPath {
  return stills.flatMap(({ fromMm, toMm }) => [fromMm, toMm]).reduce((cut, atMm) => cutAt(cut, atMm, 0), path);
}

/** The same curve with a joint at the place, unless one lies within nearMm of it. */
export function cutAt(path: CubicPath, atMm: number, nearMm: number): CubicPath {
  const t = parameterAtLength(path, atMm);
  const joint = Math.round(t);
  const here = pointAt(path, t);
  if (distance(pointAt(path, joint), here) <= Math.max(nearMm, COINCIDENT_MM)) return path;
  const [left, right] = splitAt(path, t);
  return [...left, ...right.slice(1)];
}

function cutFinely(path: CubicPath, blend: Blend, stills: readonly Still[]): CubicPath {
  const totalMm = pathLengthMm(path);
  const openMm = (ratio: number) => opened(ratio * (totalMm - stillMm(stills)), stills);
  const places = [...new Set([0, ...blend.stations.map((station) => station.atRatio), 1])].sort((a, b) => a - b);
  const knotted = places.reduce((cut, ratio) => cutAt(cut, openMm(ratio), KNOT_NEAR_MM), path);
  const out: Point[] = [knotted[0]!];
  let doneMm = 0;
  for (let i = 0; i < segmentCount(knotted); i++) {
    const cubic = segment(knotted, i);
    const lengthMm = cubicLengthMm(cubic, 0, 1);
    const middleMm = doneMm + lengthMm / 2;
    const next = places.findIndex((ratio) => openMm(ratio) >= middleMm);
    const passageMm = openMm(places[next] ?? 1) - openMm(places[next - 1] ?? 0);
    const share = passageMm / PIECES_IN_PASSAGE;
    const pieces = share > 0 && lengthMm > CUT_FACTOR * share ? Math.ceil(lengthMm / share) : 1;
    let rest = cubic;
    for (let k = pieces; k > 1; k--) {
      const [left, right] = splitCubic(rest, 1 / k);
      out.push(left[1], left[2], left[3]);
      rest = right;
    }
    out.push(rest[1], rest[2], rest[3]);
    doneMm += lengthMm;
  }
  return out;
}

function stillMm(stills: readonly Still[]): number {
  return stills.reduce((sum, { fromMm, toMm }) => sum + toMm - fromMm, 0);
}

/** Place along the path of a place reckoned without the stills. */
function opened(closedMm: number, stills: readonly Still[]): number {
  let at = closedMm;
  for (const { fromMm, toMm } of stills.toSorted((a, b) => a.fromMm - b.fromMm)) {
    if (fromMm < at) at += toMm - fromMm;
  }
  return at;
}

function stillCubics(path: CubicPath, stills: readonly Still[]): readonly boolean[] {
  let doneMm = 0;
  return Array.from({ length: segmentCount(path) }, (_, i) => {
    const lengthMm = cubicLengthMm(segment(path, i), 0, 1);
    const middleMm = doneMm + lengthMm / 2;
    doneMm += lengthMm;
    return stills.some(({ fromMm, toMm }) => fromMm <= middleMm && middleMm <= toMm);
  });
}
