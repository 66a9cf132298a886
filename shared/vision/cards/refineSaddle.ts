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

/** Saddle point of the surface a + b u + c v + d u^2 + e u v + f v^2 fitted about (x, y), relative to it; undefined when the
 * surface has no saddle. */
function saddleOfSurface(gray: GrayImage, x: number, y: number, radiusPx: number): Point | undefined {
  moments.fill(0);
  levels.fill(0);
  for (let py = Math.ceil(y - radiusPx); py <= y + radiusPx; py++) addRow(gray, x, y, py, radiusPx);
  const [w, u, v, uu, uv, vv, uuu, uuv, uvv, vvv, uuuu, uuuv, uuvv, uvvv, vvvv] = moments as unknown as Moments;
  const surface = solveLinear(
    [
      [w, u, v, uu, uv, vv],
      [u, uu, uv, uuu, uuv, uvv],
      [v, uv, vv, uuv, uvv, vvv],
      [uu, uuu, uuv, uuuu, uuuv, uuvv],
      [uv, uuv, uvv, uuuv, uuvv, uvvv],
      [vv, uvv, vvv, uuvv, uvvv, vvvv],
    ],
    [...levels],
  );
  if (surface === null) return undefined;
  const [, bx, by, xx, xy, yy] = surface as [number, number, number, number, number, number];
  const det = 4 * xx * yy - xy * xy;
  if (!(det < 0)) return undefined;
  return [(xy * by - 2 * yy * bx) / det, (xy * bx - 2 * xx * by) / det];
}

type Six = [number, number, number, number, number, number];
type Moments = [...Six, number, number, number, number, number, number, number, number, number];

/** Weighted sums of the powers of u and v up to the fourth, in the order of their names above; and of grey levels by term. */
const moments = new Float64Array(15);
const levels = new Float64Array(6);

/** Adds one row of the window to the moments: whole rows are summed up in numbers of their own, which is quick. */
function addRow({ data, widthPx }: GrayImage, x: number, y: number, py: number, radiusPx: number): void {
  const v = py - y;
  let [w0, w1, w2, w3, w4] = [0, 0, 0, 0, 0];
  let [g0, g1, g2] = [0, 0, 0];
  const end = x + radiusPx;
  for (let px = Math.ceil(x - radiusPx); px <= end; px++) {
    const u = px - x;
    const share = 1 - (u * u + v * v) / (radiusPx * radiusPx);
    if (share <= 0) continue;
    const weight = share * share; // falls to zero smoothly, so that no pixel enters with a jump
    const first = weight * u;
    const second = first * u;
    const level = data[py * widthPx + px]!;
    w0 += weight;
    w1 += first;
    w2 += second;
    w3 += second * u;
    w4 += second * u * u;
    g0 += weight * level;
    g1 += first * level;
    g2 += second * level;
  }
  const vv = v * v;
  const row = [w0, w1, w0 * v, w2, w1 * v, w0 * vv, w3, w2 * v, w1 * vv, w0 * vv * v];
  row.push(w4, w3 * v, w2 * vv, w1 * vv * v, w0 * vv * vv);
  for (let k = 0; k < row.length; k++) moments[k]! += row[k]!;
  const seen = [g0, g1, g0 * v, g2, g1 * v, g0 * vv];
  for (let k = 0; k < seen.length; k++) levels[k]! += seen[k]!;
}
