// Ends of a path: which of the two, shortened or lengthened along its own line, and whether the path is straight.
import type { Point } from '../../base/points.ts';
import { cubicLengthMm, pathLengthMm, subPath } from '../../geometry/arcLength.ts';
import {
  type Cubic,
  type CubicPath,
  cubicDerivative,
  endOf,
  endTangent,
  joinPaths,
  polylinePath,
  reversePath,
  segment,
  segmentCount,
  splitCubic,
  startOf,
  transformPath,
} from '../../geometry/cubicPath.ts';
import { distanceToSegment } from '../../geometry/polygon.ts';
import { COINCIDENT_MM } from '../../geometry/tolerances.ts';
import { type Affine, apply, rigid } from '../../geometry/transform.ts';
import { add, distance, dot, scale, sub } from '../../geometry/vector.ts';
import { type Blend, displacePath, type Still } from './blend.ts';
import { solveFor } from './solve.ts';

export type End = 'start' | 'end';

export function otherEnd(end: End): End {
  return end === 'end' ? 'start' : 'end';
}

export function pointAtEnd(path: CubicPath, end: End): Point {
  return end === 'start' ? startOf(path) : endOf(path);
}

/** Unit direction in which the path leaves itself at that end. */
export function outwardAt(path: CubicPath, end: End): Point {
  return endTangent(end === 'end' ? path : reversePath(path));
}

/** A traced straight line strays from its chord by the wobble of a pencil, no more. */
const STRAIGHT_MM = 0.5;
const STRAIGHT_RATIO = 0.003;

export function isStraight(path: CubicPath): boolean {
  const [from, to] = [startOf(path), endOf(path)];
  const roomMm = Math.max(STRAIGHT_MM, STRAIGHT_RATIO * distance(from, to));
  return path.every((point) => distanceToSegment(point, from, to) <= roomMm);
}

/** A cubic is continued by its own formula for at most this share of its length; beyond that it runs wild. */
const CONTINUED_RATIO = 1 / 3;

/**
 * The path shortened at one end by byMm, or lengthened where byMm is negative: along its own curve for a little, straight on
 * for more.
 */
export function slideEnd(path: CubicPath, end: End, byMm: number): CubicPath {
  if (byMm === 0) return path;
  if (end === 'start') return reversePath(slideEnd(reversePath(path), 'end', byMm));
  if (byMm > 0) return subPath(path, 0, pathLengthMm(path) - byMm);
  const from = endOf(path);
  const to = add(from, scale(endTangent(path), -byMm));
  const isOneLine = path.every((point) => distanceToSegment(point, startOf(path), to) <= COINCIDENT_MM);
  if (isOneLine) return polylinePath([startOf(path), to]);
  const last = segment(path, segmentCount(path) - 1);
  if (-byMm <= CONTINUED_RATIO * cubicLengthMm(last, 0, 1)) return continued(path, last, -byMm);
  return joinPaths([path, polylinePath([from, to])]);
}

/** The last cubic taken beyond its end: the same polynomial, so that cutting it back restores it. */
function continued(path: CubicPath, last: Cubic, byMm: number): CubicPath {
  const speed = Math.hypot(...cubicDerivative(last, 1));
  const beyond = solveFor((u) => cubicLengthMm(last, 1, 1 + Math.max(0, u)), byMm, {
    guess: byMm / speed,
    farthest: 1,
  });
  if (beyond === null) return joinPaths([path, polylinePath([last[3], add(last[3], scale(endTangent(path), byMm))])]);
  const [longer] = splitCubic(last, 1 + beyond);
  return [...path.slice(0, -3), ...longer.slice(1)];
}

/** The path with its ends moved; straight paths stay straight, curved ones keep their directions at the ends. */
export function moveEnds(path: CubicPath, start: Point, end: Point, stills: readonly Still[] = []): CubicPath {
  return displacePath(path, endsBlend(path, start, end), stills).path;
}

/** Stretches at both ends that move as one piece with them, millimetres. */
export interface Holds {
  readonly startMm: number;
  readonly endMm: number;
}

const NO_HOLDS: Holds = { startMm: 0, endMm: 0 };

export function endsBlend(path: CubicPath, start: Point, end: Point, holds: Holds = NO_HOLDS): Blend {
  const ends = [
    { atRatio: 0, moveMm: start },
    { atRatio: 1, moveMm: end },
  ];
  if (isStraight(path)) return { how: 'linear', stations: ends };
  const lengthMm = pathLengthMm(path);
  const [from, to] = [holds.startMm / lengthMm, 1 - holds.endMm / lengthMm];
  if (from >= to) return { how: 'smooth', stations: ends };
  return {
    how: 'smooth',
    stations: [
      ...(from > 0 ? ends.slice(0, 1) : []),
      { atRatio: from, moveMm: start },
      { atRatio: to, moveMm: end },
      ...(to < 1 ? ends.slice(1) : []),
    ],
  };
}

/** A turn at an end is worked off over this much of the path, less on a short one. */
const TURN_REACH_MM = 50;
const TURN_REACH_RATIO = 0.5;

export interface EndTurn {
  /** Clockwise as seen. */
  readonly turnDeg: number;
  /** The last stretch turns as one piece: where a cutting line was traced, the corner of the seam lies this far from its end. */
  readonly holdMm: number;
}

/** The path with its end fixed and its direction there turned, worked off over a short reach. */
export function turnEnd(path: CubicPath, end: End, { turnDeg, holdMm }: EndTurn): CubicPath {
  if (end === 'start') return reversePath(turnEnd(reversePath(path), 'end', { turnDeg, holdMm }));
  const lengthMm = pathLengthMm(path);
  const innerMm = lengthMm - holdMm;
  if (turnDeg === 0 || innerMm <= 0) return path;
  const pivot = endOf(path);
  const turn = rigid(turnDeg, [0, 0]);
  const offset = sub(pivot, apply(turn, pivot));
  const about: Affine = [turn[0], turn[1], turn[2], turn[3], offset[0], offset[1]];
  const inner = holdMm === 0 ? path : subPath(path, 0, innerMm);
  const outer = holdMm === 0 ? null : transformPath(about, subPath(path, innerMm, lengthMm));
  const tangent = endTangent(inner);
  // On the curve half-way between, whose direction is the bisector, this slope is exactly the turn.
  const slope = scale(sub(apply(turn, tangent), tangent), 1 / Math.cos((turnDeg / 2) * (Math.PI / 180)));
  const reach = Math.min(TURN_REACH_RATIO, TURN_REACH_MM / innerMm);
  const stations = [
    { atRatio: 1 - reach, moveMm: [0, 0] as const },
    { atRatio: 1, moveMm: sub(apply(about, endOf(inner)), endOf(inner)), slope },
  ];
  const bent = displacePath(inner, { how: 'smooth', stations }).path;
  return outer === null ? bent : withEnd(joinPaths([bent, outer]), 'end', pivot);
}

/** The path led to a new end: continued or cut along its own line as far as that goes, the rest blended. */
export function leadTo(path: CubicPath, end: End, target: Point): CubicPath {
  const alongMm = dot(sub(target, pointAtEnd(path, end)), outwardAt(path, end));
  const slid = slideEnd(path, end, -alongMm);
  const rest = sub(target, pointAtEnd(slid, end));
  if (distance(rest, [0, 0]) <= COINCIDENT_MM) return withEnd(slid, end, target);
  return end === 'end' ? moveEnds(slid, [0, 0], rest) : moveEnds(slid, rest, [0, 0]);
}

/** The path with its last (or first) point set exactly, so that a ring closes without rounding. */
export function withEnd(path: CubicPath, end: End, point: Point): CubicPath {
  return end === 'end' ? [...path.slice(0, -1), point] : [point, ...path.slice(1)];
}
