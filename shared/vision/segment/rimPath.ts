// Draws the outline of an area where the picture steps: along normals of its coarse border, the path of steps beyond which the
// paper's own colour begins. Only what lies right there counts, so neither light that differs from place to place nor a pattern
// that comes and goes outside matters; where nothing can be seen the path goes on smoothly from both sides.
import type { Point } from '../../base/points.ts';
import { away } from '../colour.ts';
import type { BlockGrid } from './blockGrid.ts';
import type { GridBox } from './cropGrid.ts';
import { largestContour } from './isoContour.ts';
import { LINEAR_FROM_SRGB } from './linearLight.ts';
import { boxSum } from './localSplit.ts';
import type { TablePicture } from './tablePicture.ts';

/** Points of the path lie this far apart. */
export const PATH_SPACING_MM = 1;

const PATH = {
  /** The coarse border may be this far off. */
  reachMm: 8,
  stepMm: 0.5,
  /** A step is taken between averages over these samples on either side. */
  nearFrom: 1,
  nearTo: 3,
  /** What lies farther in must look like what lies just inside. */
  farFrom: 4,
  farTo: 7,
  /** The paper's own colour is that of these samples, counted from the innermost. */
  ownFrom: 11,
  ownTo: 2,
  /** Neighbours along the path averaged on either side. */
  along: 1,
  /** Direction of the border is taken over this much on either side. */
  normalMm: 5,
  /** Linear light added before logarithms: the noise of dark pixels. */
  darkFloor: 0.008,
  /** However large a step of log light, it counts for less than this. */
  mostStep: 0.5,
  /** Price of paper that is no paper, per log light; of moving by one sample. */
  strangerPrice: 0.8,
  movePrice: 0.08,
  mostMove: 3,
} as const;

const SHARP = {
  leastStep: 0.045,
  /** Change farther in, as a share of the step. */
  insideShare: 0.4,
  /** A single sharp point takes this many soft ones off the running stretch. */
  forgiven: 3,
} as const;

const STRAY = {
  /** What is usual is the median over this much on either side. */
  aroundMm: 32,
  offMm: 2.2,
  /** The border turns by more than this cosine over this much on either side. */
  cornerMm: 14,
  straightCos: 0.8,
} as const;

const CHANNELS = 3;
const LOG_LIGHT = LINEAR_FROM_SRGB.map((light) => Math.log(light + PATH.darkFloor));

export interface RimPath {
  /** Picture pixels, closed, clockwise on the screen, about a millimetre apart. */
  readonly points: readonly Point[];
  /** 1 where the path has no sharp step, or was led off by a pattern of the paper's colour and put back. */
  readonly soft: Uint8Array;
}

/** @param mask blocks of the area, in its box; null when it has no border */
export function rimPath(picture: TablePicture, grid: BlockGrid, mask: Uint8Array, box: GridBox): RimPath | null {
  const border = coarseBorder(picture, grid, mask, box);
  if (border === null) return null;
  const n = border.length;
  const reach = Math.max(1, Math.round(PATH.normalMm / PATH_SPACING_MM));
  const normals = border.map((_, i): Point => {
    const a = border[(i - reach + n) % n]!;
    const b = border[(i + reach) % n]!;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
    return [-(b[1] - a[1]) / length, (b[0] - a[0]) / length];
  });
  const half = Math.round(PATH.reachMm / PATH.stepMm);
  const pad = PATH.farTo;
  const samples = 2 * (half + pad) + 1;
  const light = averagedAlong(sampled(picture, border, normals, samples), n, samples);
  const bins = 2 * half + 1;
  const steps = new Float32Array(n * bins);
  const gain = new Float32Array(n * bins);
  const own: [number, number, number] = [0, 0, 0];
  const near: [number, number, number] = [0, 0, 0];
  const out: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < n; i++) {
    const row = i * samples * CHANNELS;
    meanInto(own, light, row, samples - 1 - PATH.ownFrom, samples - 1 - PATH.ownTo);
    for (let k = 0; k < bins; k++) {
      const at = k + pad;
      meanInto(near, light, row, at + PATH.nearFrom, at + PATH.nearTo);
      meanInto(out, light, row, at - PATH.nearTo, at - PATH.nearFrom);
      const step = away(near, out);
      const strange = away(near, own);
      steps[i * bins + k] = step;
      gain[i * bins + k] = step / (1 + step / PATH.mostStep) - PATH.strangerPrice * strange;
    }
  }
  const path = bestPath(gain, n, bins);
  const soft = new Uint8Array(n);
  const strayed = strays(path, normals);
  const pxPerSample = PATH.stepMm / picture.mmPerPx;
  const points = border.map((at, i): Point => {
    const k = path[i]!;
    const row = i * samples * CHANNELS;
    meanInto(near, light, row, k + pad + PATH.nearFrom, k + pad + PATH.nearTo);
    meanInto(out, light, row, k + pad + PATH.farFrom, k + pad + PATH.farTo);
    const step = steps[i * bins + k]!;
    const further = away(near, out);
    if (step < SHARP.leastStep || further > SHARP.insideShare * step) soft[i] = 1;
    const back = strayed[i]!;
    if (back >= 0) soft[i] = 1;
    const by = ((back >= 0 ? back : k) - half) * pxPerSample;
    return [at[0] + normals[i]![0] * by, at[1] + normals[i]![1] * by];
  });
  return { points, soft };
}

/** Share of a path that is sharp, and its longest stretch that mostly is not, without what is blocked. */
export function pathSharpness(
  soft: Uint8Array,
  blocked: Uint8Array,
): { readonly sharpRatio: number; readonly longestSoftMm: number } {
  let free = 0;
  let sharp = 0;
  let running = 0;
  let longest = 0;
  for (let i = 0; i < soft.length; i++) {
    if (blocked[i] === 1) continue;
    free++;
    if (soft[i] === 0) {
      sharp++;
      running = Math.max(0, running - SHARP.forgiven);
    } else {
      running++;
      longest = Math.max(longest, running);
    }
  }
  return { sharpRatio: free === 0 ? 0 : sharp / free, longestSoftMm: longest * PATH_SPACING_MM };
}

/**
 * Short stretches of the path that lie off what is usual around them, away from corners: there the table has the paper's own
 * colour and the path went on to the next step. Their bins as they should be; -1 elsewhere.
 */
function strays(path: Int32Array, normals: readonly Point[]): Int32Array {
  const n = path.length;
  const wide = Math.round(STRAY.aroundMm / PATH_SPACING_MM);
  const corner = Math.round(STRAY.cornerMm / PATH_SPACING_MM);
  const usual = new Float32Array(n);
  const near = new Int32Array(2 * wide + 1);
  for (let i = 0; i < n; i++) {
    for (let d = -wide; d <= wide; d++) near[d + wide] = path[(i + d + n) % n]!;
    usual[i] = near.slice().sort()[wide]!;
  }
  const isCorner = normals.map((_, i) => {
    const a = normals[(i - corner + n) % n]!;
    const b = normals[(i + corner) % n]!;
    return a[0] * b[0] + a[1] * b[1] < STRAY.straightCos;
  });
  return Int32Array.from(path, (bin, i) =>
    !isCorner[i] && Math.abs(bin - usual[i]!) * PATH.stepMm > STRAY.offMm ? Math.round(usual[i]!) : -1,
  );
}

/** 1 on the blocks whose middle lies inside a closed path. */
export function blocksInside(grid: BlockGrid, path: readonly Point[]): Uint8Array {
  const { width, height, pxPerBlock, firstBlock } = grid;
  const mask = new Uint8Array(width * height);
  const middle = (pxPerBlock - 1) / 2;
  for (let y = 0; y < height; y++) {
    const yPx = (firstBlock[1] + y) * pxPerBlock + middle;
    const crossings: number[] = [];
    path.forEach((a, i) => {
      const b = path[(i + 1) % path.length]!;
      if (a[1] <= yPx !== b[1] <= yPx) crossings.push(a[0] + ((yPx - a[1]) / (b[1] - a[1])) * (b[0] - a[0]));
    });
    crossings.sort((p, q) => p - q);
    for (let k = 0; k + 1 < crossings.length; k += 2) {
      const from = Math.max(0, Math.ceil((crossings[k]! - middle) / pxPerBlock - firstBlock[0]));
      const to = Math.min(width - 1, Math.floor((crossings[k + 1]! - middle) / pxPerBlock - firstBlock[0]));
      for (let x = from; x <= to; x++) mask[y * width + x] = 1;
    }
  }
  return mask;
}

/** The border of the blocks, smoothed and evenly spaced, in picture pixels. */
function coarseBorder(picture: TablePicture, grid: BlockGrid, mask: Uint8Array, box: GridBox): Point[] | null {
  const soft = boxSum(Float32Array.from(mask), box.width, box.height, 1);
  const contour = largestContour(soft, box.width, box.height, 4.5);
  if (contour === null) return null;
  const scale = grid.pxPerBlock;
  const offset = (scale - 1) / 2;
  const ring = contour.map(
    ([x, y]): Point => [
      (grid.firstBlock[0] + box.x0 + x) * scale + offset,
      (grid.firstBlock[1] + box.y0 + y) * scale + offset,
    ],
  );
  return evenRing(ring, PATH_SPACING_MM / picture.mmPerPx);
}

function evenRing(ring: readonly Point[], spacing: number): Point[] {
  const along = [0];
  ring.forEach((at, i) => {
    const next = ring[(i + 1) % ring.length]!;
    along.push(along[i]! + Math.hypot(next[0] - at[0], next[1] - at[1]));
  });
  const total = along[ring.length]!;
  const count = Math.max(8, Math.round(total / spacing));
  let k = 0;
  return Array.from({ length: count }, (_, i): Point => {
    const s = (i * total) / count;
    while (along[k + 1]! < s) k++;
    const t = (s - along[k]!) / (along[k + 1]! - along[k]! || 1);
    const a = ring[k]!;
    const b = ring[(k + 1) % ring.length]!;
    return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
  });
}

/** Log light along the normals, from outside to inside. */
function sampled(
  { rgb, mmPerPx }: TablePicture,
  border: readonly Point[],
  normals: readonly Point[],
  samples: number,
): Float32Array {
  const light = new Float32Array(border.length * samples * CHANNELS);
  const pxPerSample = PATH.stepMm / mmPerPx;
  const { widthPx, heightPx, data } = rgb;
  border.forEach(([x0, y0], i) => {
    const [nx, ny] = normals[i]!;
    for (let k = 0; k < samples; k++) {
      const by = (k - (samples - 1) / 2) * pxPerSample;
      const x = Math.min(Math.max(x0 + nx * by, 0), widthPx - 1.001);
      const y = Math.min(Math.max(y0 + ny * by, 0), heightPx - 1.001);
      const xx = Math.floor(x);
      const yy = Math.floor(y);
      const fx = x - xx;
      const fy = y - yy;
      const at = CHANNELS * (yy * widthPx + xx);
      const below = at + CHANNELS * widthPx;
      const to = (i * samples + k) * CHANNELS;
      for (let c = 0; c < CHANNELS; c++) {
        const top = LOG_LIGHT[data[at + c]!]! * (1 - fx) + LOG_LIGHT[data[at + CHANNELS + c]!]! * fx;
        const bottom = LOG_LIGHT[data[below + c]!]! * (1 - fx) + LOG_LIGHT[data[below + CHANNELS + c]!]! * fx;
        light[to + c] = top * (1 - fy) + bottom * fy;
      }
    }
  });
  return light;
}

function averagedAlong(light: Float32Array, n: number, samples: number): Float32Array {
  const width = samples * CHANNELS;
  const out = new Float32Array(light.length);
  for (let i = 0; i < n; i++) {
    for (let d = -PATH.along; d <= PATH.along; d++) {
      const row = ((i + d + n) % n) * width;
      for (let k = 0; k < width; k++) out[i * width + k]! += light[row + k]! / (2 * PATH.along + 1);
    }
  }
  return out;
}

function meanInto(to: [number, number, number], light: Float32Array, row: number, from: number, until: number): void {
  for (let c = 0; c < CHANNELS; c++) {
    let sum = 0;
    for (let k = from; k <= until; k++) sum += light[row + k * CHANNELS + c]!;
    to[c] = sum / (until - from + 1);
  }
}

/** The closed path through the bins that gains most (dynamic programming from the clearest place around). */
function bestPath(gain: Float32Array, n: number, bins: number): Int32Array {
  let start = 0;
  let startBin = 0;
  for (let i = 0; i < n; i++)
    for (let k = 0; k < bins; k++)
      if (gain[i * bins + k]! > gain[start * bins + startBin]!) {
        start = i;
        startBin = k;
      }
  let total = new Float32Array(bins).fill(Number.NEGATIVE_INFINITY);
  total[startBin] = 0;
  const from = new Int8Array(n * bins);
  for (let j = 1; j <= n; j++) {
    const i = (start + j) % n;
    const next = new Float32Array(bins);
    for (let k = 0; k < bins; k++) {
      let best = Number.NEGATIVE_INFINITY;
      let move = 0;
      for (let d = -PATH.mostMove; d <= PATH.mostMove; d++) {
        const before = k + d;
        if (before < 0 || before >= bins) continue;
        const value = total[before]! - PATH.movePrice * Math.abs(d);
        if (value > best) {
          best = value;
          move = d;
        }
      }
      next[k] = best + gain[i * bins + k]!;
      from[(j - 1) * bins + k] = move;
    }
    total = next;
  }
  const path = new Int32Array(n);
  let k = startBin;
  for (let j = n; j >= 1; j--) {
    path[(start + j) % n] = k;
    k += from[(j - 1) * bins + k]!;
  }
  return path;
}
