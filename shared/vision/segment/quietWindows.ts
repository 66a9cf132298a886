// Colour and texture of every block, taken from the calmest window that contains it (the idea of Kuwahara et al. 1976):
// the window never straddles an edge when it can avoid it, so the values stay clean right up to the rim of a piece.
import type { BlockGrid } from './blockGrid.ts';

/** Values per block: lightness, redness, blueness, log grain, log texture at 7 mm, log texture at 26 mm. */
export const FEATURES = 6;
const SMALL_WINDOW_MM = 7;
const LARGE_WINDOW_MM = 26;
/** Share of a window that must be usable. */
const MIN_FILLED_RATIO = 0.5;
/** Spread added before the logarithm: about what sensor noise and JPEG leave after the median. */
const TEXTURE_FLOOR = 0.012;
const GRAIN_FLOOR = 0.01;

/** One row of FEATURES values per block; rows of unusable blocks are zero. */
export function quietWindows(grid: BlockGrid): Float32Array {
  const { width, height, usable } = grid;
  const square = new Float32Array(width * height);
  for (let i = 0; i < square.length; i++) {
    square[i] = grid.lightness[i]! ** 2 + grid.redness[i]! ** 2 + grid.blueness[i]! ** 2;
  }
  const smallRadius = radiusOf(SMALL_WINDOW_MM, grid.mmPerBlock);
  const largeRadius = radiusOf(LARGE_WINDOW_MM, grid.mmPerBlock);
  const count = integral(usable, usable, width, height);
  const lightness = integral(grid.lightness, usable, width, height);
  const redness = integral(grid.redness, usable, width, height);
  const blueness = integral(grid.blueness, usable, width, height);
  const squares = integral(square, usable, width, height);
  const grain = integral(grid.grain, usable, width, height);
  const out = new Float32Array(width * height * FEATURES);

  const mean = { n: 0, l: 0, r: 0, b: 0, variance: 0, grain: 0 };
  const calmest = (x: number, y: number, radius: number): void => {
    mean.n = 0;
    mean.variance = Number.POSITIVE_INFINITY;
    const full = (2 * radius + 1) ** 2;
    for (let dy = -radius; dy <= radius; dy += radius) {
      for (let dx = -radius; dx <= radius; dx += radius) {
        const x0 = Math.max(0, x + dx - radius);
        const x1 = Math.min(width, x + dx + radius + 1);
        const y0 = Math.max(0, y + dy - radius);
        const y1 = Math.min(height, y + dy + radius + 1);
        const a = y0 * (width + 1) + x0;
        const b = y0 * (width + 1) + x1;
        const c = y1 * (width + 1) + x0;
        const d = y1 * (width + 1) + x1;
        const n = count[d]! - count[b]! - count[c]! + count[a]!;
        if (n < full * MIN_FILLED_RATIO && n <= mean.n) continue;
        if (n < 1) continue;
        const l = (lightness[d]! - lightness[b]! - lightness[c]! + lightness[a]!) / n;
        const r = (redness[d]! - redness[b]! - redness[c]! + redness[a]!) / n;
        const u = (blueness[d]! - blueness[b]! - blueness[c]! + blueness[a]!) / n;
        const variance = Math.max(
          0,
          (squares[d]! - squares[b]! - squares[c]! + squares[a]!) / n - l * l - r * r - u * u,
        );
        const better =
          n >= full * MIN_FILLED_RATIO ? variance < mean.variance : mean.variance === Number.POSITIVE_INFINITY;
        if (!better) continue;
        mean.n = n;
        mean.l = l;
        mean.r = r;
        mean.b = u;
        mean.variance = variance;
        mean.grain = (grain[d]! - grain[b]! - grain[c]! + grain[a]!) / n;
      }
    }
  };
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const at = y * width + x;
      if (usable[at] === 0) continue;
      const row = at * FEATURES;
      calmest(x, y, smallRadius);
      out[row] = mean.l;
      out[row + 1] = mean.r;
      out[row + 2] = mean.b;
      out[row + 3] = Math.log(mean.grain + GRAIN_FLOOR);
      out[row + 4] = Math.log(Math.sqrt(mean.variance) + TEXTURE_FLOOR);
      calmest(x, y, largeRadius);
      out[row + 5] = Math.log(Math.sqrt(mean.variance) + TEXTURE_FLOOR);
    }
  }
  return out;
}

function radiusOf(windowMm: number, mmPerBlock: number): number {
  return Math.max(1, Math.round((windowMm / mmPerBlock - 1) / 2));
}

function integral(values: ArrayLike<number>, usable: Uint8Array, width: number, height: number): Float64Array {
  const sum = new Float64Array((width + 1) * (height + 1));
  for (let y = 0; y < height; y++) {
    let row = 0;
    for (let x = 0; x < width; x++) {
      const at = y * width + x;
      if (usable[at] === 1) row += values[at]!;
      sum[(y + 1) * (width + 1) + x + 1] = sum[y * (width + 1) + x + 1]! + row;
    }
  }
  return sum;
}
