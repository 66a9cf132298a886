// Where paths cross: each other, themselves, a straight line. Boxes of halved cubics find the candidates, chords the
// crossing, Newton steps its last digits. Stretches that lie on one another have no crossing and report none.
import type { Point } from '../base/points.ts';
import { bernsteinRoots } from './bernstein.ts';
import {
  type Cubic,
  type CubicPath,
  cubicDerivative,
  cubicPoint,
  polylinePath,
  segment,
  segmentCount,
  splitCubic,
} from './cubicPath.ts';
import {
  CHORD_SLACK_RATIO,
  COINCIDENT_MM,
  CROSSING_FLATNESS_MM,
  CROSSING_FLATNESS_RATIO,
  CURVE_PARAMETER,
  MAX_NEWTON_STEPS,
  PARALLEL_SINE,
  SAME_JOINT_MM,
} from './tolerances.ts';
import { add, cross, distance, norm, sub, unit } from './vector.ts';

export interface Crossing {
  readonly point: Point;
  /** Parameters in [0, n] on the first and the second path. */
  readonly tA: number;
  readonly tB: number;
}

/** All places where two paths cross or touch end to side, ordered along the first. */
export function intersectPaths(a: CubicPath, b: CubicPath): Crossing[] {
  const hits: Crossing[] = [];
  const piecesA = piecesOf(a);
  const piecesB = piecesOf(b);
  for (const pieceA of piecesA) for (const pieceB of piecesB) crossPieces(pieceA, pieceB, hits);
  return distinct(hits);
}

/** All places where a straight segment meets a path; tA runs 0 to 1 along the segment. */
export function intersectSegment(from: Point, to: Point, path: CubicPath): Crossing[] {
  return intersectPaths(polylinePath([from, to]), path);
}

/** Parameters in [0, n] at which a path meets the endless line through two distinct points, ascending. Exact. */
export function intersectLine(through: Point, and: Point, path: CubicPath): number[] {
  const along = sub(and, through);
  const found: number[] = [];
  for (let i = 0; i < segmentCount(path); i++) {
    const sides = segment(path, i).map((control) => cross(along, sub(control, through)));
    for (const u of bernsteinRoots(sides)) {
      const t = i + u;
      const last = found.at(-1);
      if (last === undefined || t - last > CURVE_PARAMETER) found.push(t);
    }
  }
  return found;
}

export interface RingCrossing {
  readonly point: Point;
  /** The two places: index of the path in the ring and parameter on it. */
  readonly first: { readonly path: number; readonly t: number };
  readonly second: { readonly path: number; readonly t: number };
}

/**
 * Where a closed ring of paths crosses itself. The joints between consecutive cubics and paths are not crossings.
 * Each path ends where the next one starts, the last where the first starts.
 */
export function selfIntersections(ring: readonly CubicPath[]): RingCrossing[] {
  return crossingsWithin(ring, 'closed');
}

/** Where one open path crosses itself; `tA < tB`. */
export function selfCrossingsOfPath(path: CubicPath): Crossing[] {
  return crossingsWithin([path], 'open').map(({ point, first, second }) => ({ point, tA: first.t, tB: second.t }));
}

function crossingsWithin(ring: readonly CubicPath[], kind: 'closed' | 'open'): RingCrossing[] {
  const pieces: Piece[] = [];
  /** Of each piece, which path of the ring it is of. */
  const paths: number[] = [];
  ring.forEach((path, index) => {
    for (const whole of piecesOf(path)) for (const part of monotone(whole)) paths[pieces.push(part) - 1] = index;
  });
  const last = pieces.length - 1;
  const found: RingCrossing[] = [];
  for (let i = 0; i < pieces.length; i++) {
    for (let j = i + 1; j < pieces.length; j++) {
      const a = pieces[i]!;
      const b = pieces[j]!;
      if (!boxesMeet(a, b)) continue;
      const isNext = j === i + 1;
      const closes = kind === 'closed' && i === 0 && j === last;
      if ((isNext && partAtJoint(a, b)) || (closes && partAtJoint(b, a))) continue;
      const hits: Crossing[] = [];
      crossPieces(a, b, hits);
      for (const { point, tA, tB } of hits) {
        if (isNext && atEnd(a, tA) && atStart(b, tB)) continue;
        if (closes && atStart(a, tA) && atEnd(b, tB)) continue;
        if (found.some((other) => distance(other.point, point) <= COINCIDENT_MM)) continue;
        found.push({ point, first: { path: paths[i]!, t: tA }, second: { path: paths[j]!, t: tB } });
      }
    }
  }
  return found;
}

/**
 * True when a straight line through the joint has all of the one on one side and all of the other on the other side, so
 * that they meet nowhere else. Tried across the mean of their directions at the joint; false may also mean unknown.
 */
function partAtJoint({ cubic: a }: Piece, { cubic: b }: Piece): boolean {
  const joint = a[3];
  if (distance(joint, b[0]) > SAME_JOINT_MM) return false;
  const across = add(unit(sub(joint, a[0])), unit(sub(b[3], joint)));
  return (
    ahead(a[0], joint, across) < 0 &&
    ahead(a[1], joint, across) < 0 &&
    ahead(a[2], joint, across) <= 0 &&
    ahead(b[1], joint, across) >= 0 &&
    ahead(b[2], joint, across) > 0 &&
    ahead(b[3], joint, across) > 0
  );
}

/** How far a point lies before the joint in that direction. */
function ahead(point: Point, joint: Point, direction: Point): number {
  return (point[0] - joint[0]) * direction[0] + (point[1] - joint[1]) * direction[1];
}

/** A stretch of one cubic of a path: its own control points, its parameters on the path and its box. */
interface Piece {
  readonly cubic: Cubic;
  readonly whole: Cubic;
  readonly index: number;
  readonly fromU: number;
  readonly toU: number;
  /** The upright box around its control points. */
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

function piece(cubic: Cubic, whole: Cubic, index: number, fromU: number, toU: number): Piece {
  const p = cubic[0];
  const q = cubic[1];
  const r = cubic[2];
  const s = cubic[3];
  return {
    cubic,
    whole,
    index,
    fromU,
    toU,
    minX: Math.min(p[0], q[0], r[0], s[0]),
    minY: Math.min(p[1], q[1], r[1], s[1]),
    maxX: Math.max(p[0], q[0], r[0], s[0]),
    maxY: Math.max(p[1], q[1], r[1], s[1]),
  };
}

function piecesOf(path: CubicPath): Piece[] {
  return Array.from({ length: segmentCount(path) }, (_, i) => {
    const cubic = segment(path, i);
    return piece(cubic, cubic, i, 0, 1);
  });
}

/**
 * Cut at its extremes in x and y: a stretch that only runs one way in both cannot cross itself. An extreme at the joint itself
 * (the top of a cap, level to within rounding) is no cut: it would part neighbours that meet there.
 */
function monotone(whole: Piece): Piece[] {
  const [p, q, r, s] = whole.cubic;
  const extremes = [
    ...rootsBetween(q[0] - p[0], r[0] - q[0], s[0] - r[0]),
    ...rootsBetween(q[1] - p[1], r[1] - q[1], s[1] - r[1]),
  ];
  const cuts = extremes.sort((a, b) => a - b).filter((u) => u > CURVE_PARAMETER && u < 1 - CURVE_PARAMETER);
  const pieces: Piece[] = [];
  let rest = whole;
  for (const u of cuts) {
    const here = cubicPoint(whole.cubic, u);
    if (distance(here, rest.cubic[0]) <= SAME_JOINT_MM || distance(here, s) <= SAME_JOINT_MM) continue;
    const [left, right] = splitPiece(rest, (u - rest.fromU) / (rest.toU - rest.fromU));
    pieces.push(left);
    rest = right;
  }
  return [...pieces, rest];
}

/** Roots of a quadratic, of which those at 0 and 1 may be left out: none where its coefficients have one sign. */
function rootsBetween(a: number, b: number, c: number): readonly number[] {
  return (a >= 0 && b >= 0 && c >= 0) || (a <= 0 && b <= 0 && c <= 0) ? NO_ROOTS : bernsteinRoots([a, b, c]);
}

const NO_ROOTS: readonly number[] = [];

function splitPiece(whole: Piece, ratio: number): readonly [Piece, Piece] {
  const [left, right] = splitCubic(whole.cubic, ratio);
  const middleU = whole.fromU + (whole.toU - whole.fromU) * ratio;
  return [
    piece(left, whole.whole, whole.index, whole.fromU, middleU),
    piece(right, whole.whole, whole.index, middleU, whole.toU),
  ];
}

function crossPieces(a: Piece, b: Piece, hits: Crossing[]): void {
  if (!boxesMeet(a, b)) return;
  const flatA = isFlat(a.cubic);
  const flatB = isFlat(b.cubic);
  if (flatA && flatB) {
    const hit = crossChords(a, b);
    if (hit !== null) hits.push(hit);
    return;
  }
  const halvesA = flatA ? [a] : splitPiece(a, 0.5);
  const halvesB = flatB ? [b] : splitPiece(b, 0.5);
  for (const halfA of halvesA) for (const halfB of halvesB) crossPieces(halfA, halfB, hits);
}

function boxesMeet(a: Piece, b: Piece): boolean {
  return (
    a.minX <= b.maxX + COINCIDENT_MM &&
    b.minX <= a.maxX + COINCIDENT_MM &&
    a.minY <= b.maxY + COINCIDENT_MM &&
    b.minY <= a.maxY + COINCIDENT_MM
  );
}

/** Both the handles' distance from the chord and their unevenness along it are small: the chord stands for the cubic. */
function isFlat([p, q, r, s]: Cubic): boolean {
  const bend = Math.max(
    norm([p[0] - 2 * q[0] + r[0], p[1] - 2 * q[1] + r[1]]),
    norm([q[0] - 2 * r[0] + s[0], q[1] - 2 * r[1] + s[1]]),
  );
  return bend <= COINCIDENT_MM || bend <= Math.min(CROSSING_FLATNESS_MM, CROSSING_FLATNESS_RATIO * distance(p, s));
}

function crossChords(a: Piece, b: Piece): Crossing | null {
  const alongA = sub(a.cubic[3], a.cubic[0]);
  const alongB = sub(b.cubic[3], b.cubic[0]);
  const determinant = cross(alongA, alongB);
  if (Math.abs(determinant) <= PARALLEL_SINE * norm(alongA) * norm(alongB)) return null;
  const between = sub(b.cubic[0], a.cubic[0]);
  const ratioA = cross(between, alongB) / determinant;
  const ratioB = cross(between, alongA) / determinant;
  if (!isNear01(ratioA) || !isNear01(ratioB)) return null;
  return polish(a, b, a.fromU + (a.toU - a.fromU) * ratioA, b.fromU + (b.toU - b.fromU) * ratioB);
}

/** Chords may miss by their flatness where the curves just meet, so the neighbourhood is let in and Newton decides. */
function isNear01(ratio: number): boolean {
  return ratio >= -CHORD_SLACK_RATIO && ratio <= 1 + CHORD_SLACK_RATIO;
}

function polish(a: Piece, b: Piece, startA: number, startB: number): Crossing | null {
  let uA = clamp01(startA);
  let uB = clamp01(startB);
  for (let step = 0; step < MAX_NEWTON_STEPS; step++) {
    const gap = sub(cubicPoint(b.whole, uB), cubicPoint(a.whole, uA));
    const dA = cubicDerivative(a.whole, uA);
    const dB = cubicDerivative(b.whole, uB);
    const determinant = cross(dA, dB);
    if (determinant === 0) break;
    const nextA = clamp01(uA + cross(gap, dB) / determinant);
    const nextB = clamp01(uB + cross(gap, dA) / determinant);
    const settled = Math.abs(nextA - uA) <= CURVE_PARAMETER && Math.abs(nextB - uB) <= CURVE_PARAMETER;
    uA = nextA;
    uB = nextB;
    if (settled) break;
  }
  const pointA = cubicPoint(a.whole, uA);
  if (distance(pointA, cubicPoint(b.whole, uB)) > COINCIDENT_MM) return null;
  return { point: pointA, tA: a.index + uA, tB: b.index + uB };
}

function clamp01(u: number): number {
  return Math.min(1, Math.max(0, u));
}

function atStart(a: Piece, t: number): boolean {
  return distance(cubicPoint(a.whole, t - a.index), a.cubic[0]) <= SAME_JOINT_MM;
}

function atEnd(a: Piece, t: number): boolean {
  return distance(cubicPoint(a.whole, t - a.index), a.cubic[3]) <= SAME_JOINT_MM;
}

function distinct(hits: readonly Crossing[]): Crossing[] {
  const kept: Crossing[] = [];
  for (const hit of hits.toSorted((a, b) => a.tA - b.tA)) {
    if (!kept.some((other) => distance(other.point, hit.point) <= COINCIDENT_MM && Math.abs(other.tB - hit.tB) < 1))
      kept.push(hit);
  }
  return kept;
}
