// The parallel of one smooth curve: Hermite cubics on the exact offset, halved until they keep to the tolerance. Corners,
// loops and neighbours are the business of offset.ts.
import type { Point } from '../base/points.ts';
import {
  type Cubic,
  type CubicPath,
  cubicDerivative,
  cubicPoint,
  cubicSecondDerivative,
  cubicSize,
  segment,
  segmentCount,
  tangentAt,
} from './cubicPath.ts';
import { CURVE_PARAMETER, NO_DIRECTION_RATIO, NUDGE_PARAMETER } from './tolerances.ts';
import { add, cross, distance, dot, leftNormal, norm, scale } from './vector.ts';

/** A stretch of the offset that runs with the original (forward) or, inside its centre of curvature, against it. */
export interface OffsetRun {
  readonly path: CubicPath;
  readonly forward: boolean;
}

/**
 * The offset of a smooth path at distanceMm to the left of travel (negative: right), untrimmed, cut where it turns back.
 * Every point lies within toleranceMm of the exact offset.
 */
export function offsetCurve(path: CubicPath, distanceMm: number, toleranceMm: number): OffsetRun[] {
  const runs: { path: Point[]; forward: boolean }[] = [];
  for (let i = 0; i < segmentCount(path); i++) {
    const cubic = segment(path, i);
    const cuts = turningPlaces(cubic, distanceMm);
    for (let k = 0; k + 1 < cuts.length; k++) {
      const [from, to] = [cuts[k]!, cuts[k + 1]!];
      const forward = runsForward(cubic, distanceMm, (from + to) / 2);
      const cubics: Cubic[] = [];
      approximate(cubic, distanceMm, from, to, toleranceMm, 0, cubics);
      const last = runs.at(-1);
      const points = cubics.flatMap(([, q, r, s]) => [q, r, s]);
      if (last !== undefined && last.forward === forward) last.path.push(...points);
      else runs.push({ path: [cubics[0]![0], ...points], forward });
    }
  }
  return runs;
}

/** Halvings of one stretch: the error falls sixteenfold with each, so ten reach rounding on any sane curve. */
const MAX_OFFSET_HALVINGS = 10;
/** Where a Hermite cubic is compared with the exact offset. */
const PROBES = [0.25, 0.5, 0.75];

function approximate(
  cubic: Cubic,
  distanceMm: number,
  from: number,
  to: number,
  toleranceMm: number,
  depth: number,
  out: Cubic[],
): void {
  const step = (to - from) / 3;
  const start = offsetPoint(cubic, distanceMm, from);
  const end = offsetPoint(cubic, distanceMm, to);
  const hermite: Cubic = [
    start,
    add(start, scale(offsetDerivative(cubic, distanceMm, from), step)),
    add(end, scale(offsetDerivative(cubic, distanceMm, to), -step)),
    end,
  ];
  const close = PROBES.every(
    (u) => distance(cubicPoint(hermite, u), offsetPoint(cubic, distanceMm, from + (to - from) * u)) <= toleranceMm,
  );
  if (close || depth >= MAX_OFFSET_HALVINGS) {
    out.push(hermite);
    return;
  }
  const middle = (from + to) / 2;
  approximate(cubic, distanceMm, from, middle, toleranceMm, depth + 1, out);
  approximate(cubic, distanceMm, middle, to, toleranceMm, depth + 1, out);
}

function offsetPoint(cubic: Cubic, distanceMm: number, u: number): Point {
  return add(cubicPoint(cubic, u), scale(leftNormal(tangentAt(cubic, u)), distanceMm));
}

/** O' = B' (1 + d κ): with y down the left normal grows by κ T along the curve. */
function offsetDerivative(cubic: Cubic, distanceMm: number, u: number): Point {
  const first = cubicDerivative(cubic, u);
  return add(first, scale(tangentAt(cubic, u), distanceMm * turnRate(cubic, u)));
}

function runsForward(cubic: Cubic, distanceMm: number, u: number): boolean {
  return norm(cubicDerivative(cubic, u)) + distanceMm * turnRate(cubic, u) >= 0;
}

/** Radians turned per unit of u (curvature times speed); by its limit from inside where the derivative vanishes. */
function turnRate(cubic: Cubic, u: number): number {
  const first = cubicDerivative(cubic, u);
  if (norm(first) <= NO_DIRECTION_RATIO * cubicSize(cubic)) {
    const nudged = u < 0.5 ? u + NUDGE_PARAMETER : u - NUDGE_PARAMETER;
    const near = cubicDerivative(cubic, nudged);
    const squared = dot(near, near);
    return squared === 0 ? 0 : cross(near, cubicSecondDerivative(cubic, nudged)) / squared;
  }
  return cross(first, cubicSecondDerivative(cubic, u)) / dot(first, first);
}

/** Samples of one cubic between which the offset is taken to turn back at most once. */
const TURNING_SAMPLES = 32;

/** 0, the places where the offset turns back (its cusps), 1. */
function turningPlaces(cubic: Cubic, distanceMm: number): number[] {
  const cuts = [0];
  for (let k = 0; k < TURNING_SAMPLES; k++) {
    let low = k / TURNING_SAMPLES;
    let high = (k + 1) / TURNING_SAMPLES;
    const atLow = runsForward(cubic, distanceMm, low);
    if (atLow === runsForward(cubic, distanceMm, high)) continue;
    while (high - low > CURVE_PARAMETER) {
      const middle = (low + high) / 2;
      if (runsForward(cubic, distanceMm, middle) === atLow) low = middle;
      else high = middle;
    }
    const cut = (low + high) / 2;
    if (cut > CURVE_PARAMETER && cut < 1 - CURVE_PARAMETER) cuts.push(cut);
  }
  return [...cuts, 1];
}
