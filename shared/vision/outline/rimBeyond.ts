// Does a border go on beyond the corner where the outline turns away from it? Where a thing lies over the edge of paper, its
// rim crosses the edge: the outline turns onto the rim, and behind the corner the rim runs on over the table or the paper.
// At a corner that was cut, nothing goes on.
import { type PhotoPointPx, type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import { distance } from '../../geometry/vector.ts';
import type { RgbImage } from '../image.ts';
import { patchLight } from './lightAt.ts';
import { type LocalCurve, localCurve } from './localFit.ts';
import { CHANNELS } from './profiles.ts';
import { around } from './ring.ts';

const BEYOND = {
  /** The outline beside the corner is rounded so far; the rim is learnt from there on and looked for from there back. */
  shyMm: 2.5,
  learnMm: 13,
  leastLearnMm: 3,
  /** Of a short border no more than this share is left out at either end. */
  shyRatio: 0.25,
  reachMm: 7,
  stepMm: 0.7,
  /** Light is compared this far to either side of the supposed rim. */
  sideMm: 1.1,
  /** ...and between there and so far off by its median: a rim parts two materials, printed lines have the same on both sides. */
  bandMm: 6,
  patchMm: 0.35,
  /** The rim may lie this far beside where it is expected, at the corner and at the end of the reach. */
  searchMm: 1.4,
  endSearchMm: 2.1,
  searchStepMm: 0.35,
} as const;

/** The way on which a border would go on behind a corner: places and directions from the corner on. */
export type Extension = readonly LocalCurve[];

/**
 * @param points closed outline, about `spacingMm` apart
 * @param corner index of the corner
 * @param step 1: the border lies after the corner and is followed back over it; −1: the other way round
 * @param roomMm length of the border up to its next corner
 * @returns null when the border is too short to say where it would go on
 */
export function extensionOver(
  points: readonly TablePointMm[],
  corner: number,
  step: 1 | -1,
  roomMm: number,
  spacingMm: number,
): Extension | null {
  const n = points.length;
  const shyMm = Math.min(BEYOND.shyMm, BEYOND.shyRatio * roomMm);
  const lastMm = Math.min(BEYOND.learnMm, roomMm - shyMm);
  if (lastMm - shyMm < BEYOND.leastLearnMm) return null;
  const near: Point[] = [];
  const s: number[] = [];
  for (let k = Math.ceil(shyMm / spacingMm); k * spacingMm <= lastMm; k++) {
    near.push(points[around(corner + step * k, n)]!);
    s.push(-k * spacingMm);
  }
  const out: LocalCurve[] = [];
  for (let e = BEYOND.shyMm; e <= BEYOND.reachMm; e += BEYOND.stepMm) {
    const curve = localCurve(
      near,
      s.map((value) => value - e),
    );
    if (curve === null) return null;
    out.push(curve);
  }
  return out;
}

/** A straight way across an outline, to learn how much of a border there is by chance. */
export function straightExtension(from: Point, direction: Point): Extension {
  const out: LocalCurve[] = [];
  for (let e = BEYOND.shyMm; e <= BEYOND.reachMm; e += BEYOND.stepMm) {
    const at: Point = [from[0] + e * direction[0], from[1] + e * direction[1]];
    out.push({ at, tangent: direction, residualMm: 0, placeGain: 0, bendPerMm: 0 });
  }
  return out;
}

/**
 * The clearest step of light along the way: the size of the difference of both sides, all along alike, in logarithms of light.
 * Right beside the way or in a band beside it, whichever is less.
 */
export function stepAlong(rgb: RgbImage, toPhoto: (point: TablePointMm) => PhotoPointPx, way: Extension): number {
  const first = way[0]!.at;
  const halfPx =
    BEYOND.patchMm * distance(toPhoto(tableMm(first[0], first[1])), toPhoto(tableMm(first[0] + 1, first[1])));
  const [side, band, starts, ends] = [BEYOND.sideMm, BEYOND.bandMm, BEYOND.searchMm, BEYOND.endSearchMm].map((mm) =>
    Math.round(mm / BEYOND.searchStepMm),
  ) as [number, number, number, number];
  const columns = ends + band;
  const width = 2 * columns + 1;
  const light = new Float64Array(CHANNELS * width * way.length);
  way.forEach(({ at, tangent }, row) => {
    for (let i = 0; i < width; i++) {
      const o = (i - columns) * BEYOND.searchStepMm;
      const seen = patchLight(rgb, toPhoto(tableMm(at[0] - tangent[1] * o, at[1] + tangent[0] * o)), halfPx);
      light.set(seen, CHANNELS * (row * width + i));
    }
  });
  const bands = bandMedians(light, way.length, width, band - side + 1);
  const last = Math.max(1, way.length - 1);
  const difference = new Float64Array(CHANNELS * way.length);
  const medianOfRows = (c: number): number => medianOf(difference, c * way.length, way.length);
  let best = 0;
  for (let start = -starts; start <= starts; start++)
    for (let end = -ends; end <= ends; end++) {
      const sum = [0, 0, 0];
      for (let row = 0; row < way.length; row++) {
        const at = CHANNELS * (row * width + columns + Math.round(start + ((end - start) * row) / last));
        for (let c = 0; c < CHANNELS; c++)
          sum[c]! += (light[at + CHANNELS * side + c]! - light[at - CHANNELS * side + c]!) / way.length;
      }
      const beside = Math.hypot(sum[0]!, sum[1]!, sum[2]!);
      if (beside <= best) continue;
      for (let row = 0; row < way.length; row++) {
        const at = CHANNELS * (row * width + columns + Math.round(start + ((end - start) * row) / last));
        for (let c = 0; c < CHANNELS; c++)
          difference[c * way.length + row] = bands[at + CHANNELS * side + c]! - bands[at - CHANNELS * band + c]!;
      }
      best = Math.max(best, Math.min(beside, Math.hypot(medianOfRows(0), medianOfRows(1), medianOfRows(2))));
    }
  return best;
}

/** Median light of each place and the `length` - 1 after it, by row; what would reach beyond a row's end stays zero. */
function bandMedians(light: Float64Array, rows: number, width: number, length: number): Float64Array {
  const out = new Float64Array(light.length);
  const window = new Float64Array(length);
  for (let row = 0; row < rows; row++)
    for (let i = 0; i + length <= width; i++)
      for (let c = 0; c < CHANNELS; c++) {
        const at = CHANNELS * (row * width + i) + c;
        for (let k = 0; k < length; k++) window[k] = light[at + CHANNELS * k]!;
        out[at] = medianOf(window, 0, length);
      }
  return out;
}

/** The upper median of a few numbers; sorts them in place. */
function medianOf(values: Float64Array, from: number, count: number): number {
  for (let i = from + 1; i < from + count; i++) {
    const value = values[i]!;
    let j = i - 1;
    for (; j >= from && values[j]! > value; j--) values[j + 1] = values[j]!;
    values[j + 1] = value;
  }
  return values[from + (count >> 1)]!;
}
