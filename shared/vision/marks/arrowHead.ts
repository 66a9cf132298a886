// Is there an arrow head at the end of a line, and where is its tip? Open and filled heads look alike along their two slanted
// sides: ink on both sides at equal distance from the axis, growing from the tip back, paper outside and behind.
import type { Point } from '../../base/points.ts';
import type { Photo } from '../image.ts';
import type { PlaneMap } from '../ink/planeMap.ts';
import { moved } from '../ink/polyline.ts';
import { type InkPatch, inkPatch } from './inkProbe.ts';
import { MARK_LIMITS } from './markLimits.ts';

export interface ArrowHead {
  readonly tip: Point;
  /** 0-1: how well ink lies where the head should have it. */
  readonly score: number;
}

/** Share of the head's length, from the tip, over which its sides are compared. */
const SIDE_FROM = 0.3;
const SIDE_TO = 0.95;
const SIDE_SAMPLES = 8;
/** Just inside the slanted side, so that a filled head's blur does not count as paper. */
const ON_SIDE = 0.85;
/** Paper is expected this far outside the side. */
const OUTSIDE_MM = 1.5;

/**
 * @param end last ridge point of the line
 * @param out unit direction out of the line
 */
export function arrowHeadAt(
  photo: Photo,
  plane: PlaneMap,
  end: Point,
  out: Point,
  contrastRatio: number,
): ArrowHead | null {
  const { head } = MARK_LIMITS;
  const longest = Math.max(...head.lengthsMm);
  const patch = inkPatch(
    photo,
    plane,
    {
      centre: end,
      along: out,
      fromMm: -head.beforeMm - longest - 3,
      toMm: head.beyondMm + 3,
      halfWidthMm: head.halfWidthMm + 4,
      pitchMm: head.pitchMm,
    },
    contrastRatio,
  );
  let best: { score: number; tipMm: number } = { score: head.leastScore, tipMm: Number.NaN };
  for (let tipMm = -head.beforeMm; tipMm <= head.beyondMm; tipMm += head.pitchMm)
    for (const lengthMm of head.lengthsMm)
      for (const slope of head.slopes) {
        if (slope * lengthMm < 1.2 || slope * lengthMm > head.halfWidthMm) continue;
        const score = headScore(patch, tipMm, lengthMm, slope);
        if (score > best.score) best = { score, tipMm };
      }
  if (Number.isNaN(best.tipMm)) return null;
  return { tip: moved(end, out, best.tipMm), score: best.score };
}

function headScore(patch: InkPatch, tipMm: number, lengthMm: number, slope: number): number {
  let onSides = 0;
  let outside = 0;
  for (let k = 0; k < SIDE_SAMPLES; k++) {
    const s = lengthMm * (SIDE_FROM + ((SIDE_TO - SIDE_FROM) * k) / (SIDE_SAMPLES - 1));
    const half = slope * s;
    onSides += Math.min(patch.at(tipMm - s, half * ON_SIDE), patch.at(tipMm - s, -half * ON_SIDE));
    outside += Math.max(patch.at(tipMm - s, half + OUTSIDE_MM), patch.at(tipMm - s, -half - OUTSIDE_MM));
  }
  if (onSides / SIDE_SAMPLES < MARK_LIMITS.head.leastScore) return 0;
  const behindHalf = slope * lengthMm * 0.7 + 0.8;
  let behind = 0;
  let beyond = 0;
  for (let k = 1; k <= 3; k++) {
    const back = tipMm - lengthMm - 0.8 * k - 0.6;
    behind += Math.max(patch.at(back, behindHalf), patch.at(back, -behindHalf)) / 3;
    beyond += patch.at(tipMm + 0.8 * k + 0.4, 0) / 3;
  }
  return onSides / SIDE_SAMPLES - 0.6 * (outside / SIDE_SAMPLES) - 0.5 * behind - 0.4 * beyond;
}
