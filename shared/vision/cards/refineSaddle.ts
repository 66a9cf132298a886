// Sub-pixel place of a saddle corner: a quadratic surface is fitted to the grey values in a round window, the window
// moves to the surface's saddle point, and so on until it rests. Lucchese and Mitra, "Using saddle points for subpixel
// feature detection in camera calibration targets", APCCAS 2002.
//
// Two edges that cross look the same turned by 180 degrees, however blurred, tilted or bled they are; a window centred on
// the crossing therefore rests there without bias. The weights follow the window's middle continuously and the pixels are
// taken as they are, so nothing is interpolated and nothing pulls towards whole pixels.
import type { Point } from '../../base/points.ts';
import { solveLinear } from '../../geometry/solveLinear.ts';
import type { GrayImage } from '../image.ts';
import { SADDLE_LIMITS } from './findLimits.ts';

/**
 * Refines a saddle from a start nearer than about `radiusPx`.
 * @returns undefined when the window leaves the picture, strays further than `maxShiftPx`, finds no saddle or no rest
 */
export function refineSaddle(gray: GrayImage, start: Point, radiusPx: number, maxShiftPx: number): Point | undefined {
  let [x, y] = start;
  for (let step = 0; step < SADDLE_LIMITS.maxSteps; step++) {
    const isWithin =
      x - radiusPx > 0 && y - radiusPx > 0 && x + radiusPx < gray.widthPx - 1 && y + radiusPx < gray.heightPx - 1;
    if (!isWithin) return undefined;
    const shift = saddleOfSurface(gray, x, y, radiusPx);
    if (shift === undefined) return undefined;
    // Far from the saddle the surface is a poor guide: never leap out of the window that it was fitted in.
    const length = Math.hypot(shift[0], shift[1]);
    const damping = Math.min(1, radiusPx / 2 / length);
    x += damping * shift[0];
    y += damping * shift[1];
    if (Math.hypot(x - start[0], y - start[1]) > maxShiftPx) return undefined;
    if (length < SADDLE_LIMITS.convergedPx) return [x, y];
  }
  return undefined;
}

/** Terms of the surface: 1, x, y, x^2, x y, y^2. */
const TERMS = 6;
const PLACES = [0, 1, 2, 3, 4, 5] as const;

/** Saddle point of the surface fitted about (x, y), relative to it; undefined when the surface has no saddle. */
function saddleOfSurface(gray: GrayImage, x: number, y: number, radiusPx: number): Point | undefined {
  const sums = new Float64Array(TERMS * (TERMS + 1));
  for (let py = Math.ceil(y - radiusPx); py <= y + radiusPx; py++) addRow(sums, gray, x, y, py, radiusPx);
  const cell = (i: number, k: number) => sums[i * (TERMS + 1) + k]!;
  const surface = solveLinear(
    PLACES.map((i) => PLACES.map((k) => cell(Math.min(i, k), Math.max(i, k)))),
    PLACES.map((i) => cell(i, TERMS)),
  );
  if (surface === null) return undefined;
  const [, bx, by, xx, xy, yy] = surface as [number, number, number, number, number, number];
  const det = 4 * xx * yy - xy * xy;
  if (!(det < 0)) return undefined;
  return [(xy * by - 2 * yy * bx) / det, (xy * bx - 2 * xx * by) / det];
}

const terms = new Float64Array(TERMS).fill(1);

/** Adds one row of the window to the upper half of the normal equations, right side last in each row. */
function addRow(
  sums: Float64Array,
  { data, widthPx }: GrayImage,
  x: number,
  y: number,
  py: number,
  radiusPx: number,
): void {
  const v = py - y;
  for (let px = Math.ceil(x - radiusPx); px <= x + radiusPx; px++) {
    const u = px - x;
    const share = 1 - (u * u + v * v) / (radiusPx * radiusPx);
    if (share <= 0) continue;
    const weight = share * share; // falls to zero smoothly, so that no pixel enters with a jump
    terms[1] = u;
    terms[2] = v;
    terms[3] = u * u;
    terms[4] = u * v;
    terms[5] = v * v;
    const level = data[py * widthPx + px]!;
    for (let i = 0; i < TERMS; i++) {
      const weighted = weight * terms[i]!;
      const row = i * (TERMS + 1);
      for (let k = i; k < TERMS; k++) sums[row + k]! += weighted * terms[k]!;
      sums[row + TERMS]! += weighted * level;
    }
  }
}
