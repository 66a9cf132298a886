// Points on the centre of dark lines in the original photo, to a fraction of a pixel: Steger's ridge detector
// (IEEE PAMI 20(2), 1998). The Hessian is computed only where a cheap test sees something darker than both sides, so
// nothing the size of the photo is allocated.
import type { GrayImage } from '../image.ts';
import type { CellMask } from './cellMask.ts';
import { INK_LIMITS } from './inkLimits.ts';

/** Ridge points sorted by row, then column; one entry of each array a point. */
export interface InkPoints {
  readonly count: number;
  /** Pixel that holds the point. */
  readonly column: Int32Array;
  readonly row: Int32Array;
  /** Index of the first point of each row; one more entry than rows. */
  readonly rowStart: Int32Array;
  /** Sub-pixel centre, photo pixels. */
  readonly x: Float32Array;
  readonly y: Float32Array;
  /** Unit normal of the line. */
  readonly nx: Float32Array;
  readonly ny: Float32Array;
  /** sigma^2 times the second derivative across the line, grey levels. */
  readonly response: Float32Array;
}

interface Kernels {
  readonly radius: number;
  readonly g0: Float64Array;
  readonly g1: Float64Array;
  readonly g2: Float64Array;
}

/** Gaussian and its derivatives; the second is made to sum to zero so that flat paper answers zero. */
function gaussianKernels(sigmaPx: number): Kernels {
  const radius = Math.ceil(3 * sigmaPx);
  const size = 2 * radius + 1;
  const g0 = new Float64Array(size);
  const g1 = new Float64Array(size);
  const g2 = new Float64Array(size);
  let sum = 0;
  for (let i = 0; i < size; i++) {
    g0[i] = Math.exp(-((i - radius) ** 2) / (2 * sigmaPx * sigmaPx));
    sum += g0[i]!;
  }
  let mean2 = 0;
  for (let i = 0; i < size; i++) {
    const t = i - radius;
    g0[i]! /= sum;
    g1[i] = (t / sigmaPx ** 2) * g0[i]!;
    g2[i] = ((t * t) / sigmaPx ** 4 - 1 / sigmaPx ** 2) * g0[i]!;
    mean2 += g2[i]!;
  }
  // exact on a ramp and a parabola despite the cut at 3 sigma
  let first = 0;
  let second = 0;
  for (let i = 0; i < size; i++) {
    g2[i]! -= mean2 / size;
    first += g1[i]! * (i - radius);
    second += (g2[i]! * (i - radius) ** 2) / 2;
  }
  for (let i = 0; i < size; i++) {
    g1[i]! /= first;
    g2[i]! /= second;
  }
  return { radius, g0, g1, g2 };
}

/** Grows with the finds; typed so that a hundred thousand points cost a few megabytes. */
class PointBuffer {
  count = 0;
  column = new Int32Array(4096);
  row = new Int32Array(4096);
  values = new Float32Array(4096 * 5);

  push(column: number, row: number, x: number, y: number, nx: number, ny: number, response: number): void {
    if (this.count === this.column.length) {
      const grow = <T extends Int32Array | Float32Array>(old: T, next: T): T => {
        next.set(old);
        return next;
      };
      this.column = grow(this.column, new Int32Array(this.column.length * 2));
      this.row = grow(this.row, new Int32Array(this.row.length * 2));
      this.values = grow(this.values, new Float32Array(this.values.length * 2));
    }
    const i = this.count++;
    this.column[i] = column;
    this.row[i] = row;
    this.values.set([x, y, nx, ny, response], i * 5);
  }

  finish(rows: number): InkPoints {
    const n = this.count;
    const rowStart = new Int32Array(rows + 1);
    for (let i = 0; i < n; i++) rowStart[this.row[i]! + 1]!++;
    for (let r = 0; r < rows; r++) rowStart[r + 1]! += rowStart[r]!;
    const field = (k: number): Float32Array => Float32Array.from({ length: n }, (_, i) => this.values[i * 5 + k]!);
    return {
      count: n,
      column: this.column.slice(0, n),
      row: this.row.slice(0, n),
      rowStart,
      x: field(0),
      y: field(1),
      nx: field(2),
      ny: field(3),
      response: field(4),
    };
  }
}

/**
 * Ridge points of dark lines.
 * @param image the original photo's grey picture
 * @param mmPerPixel sets the filter's width in pixels
 * @param mask cells where to look; all others are skipped
 */
export function findInkPoints(image: GrayImage, mmPerPixel: number, mask: CellMask): InkPoints {
  const sigmaPx = Math.max(INK_LIMITS.leastRidgeSigmaPx, INK_LIMITS.ridgeSigmaMm / mmPerPixel);
  const kernels = gaussianKernels(sigmaPx);
  const sidePx = Math.max(INK_LIMITS.leastSidePx, Math.round(INK_LIMITS.sideMm / mmPerPixel));
  const slantPx = Math.max(2, Math.round(sidePx * Math.SQRT1_2));
  const { widthPx, heightPx, data } = image;
  const margin = Math.max(kernels.radius, sidePx) + 1;
  const found = new PointBuffer();
  const across = [sidePx, sidePx * widthPx, slantPx * (widthPx + 1), slantPx * (widthPx - 1)];
  const [d0, d1, d2, d3] = across as [number, number, number, number];
  const { leastDipLevels, leastDipRatio } = INK_LIMITS;
  // the paper's level above which a pixel of this level is a dip
  const needed = Float32Array.from({ length: 256 }, (_, v) => Math.max(v + leastDipLevels, v / (1 - leastDipRatio)));
  const area = new HessianAt(image, kernels, sigmaPx);

  for (let y = margin; y < heightPx - margin; y++) {
    const cellRow = Math.floor(y / mask.cellPx) * mask.columns;
    for (let cell = 0; cell < mask.columns; cell++) {
      if (mask.data[cellRow + cell] === 0) continue;
      const x1 = Math.min((cell + 1) * mask.cellPx, widthPx - margin);
      for (let x = Math.max(cell * mask.cellPx, margin); x < x1; x++) {
        const at = y * widthPx + x;
        const level = needed[data[at]!]!;
        const dips =
          (data[at + d0]! > level && data[at - d0]! > level) ||
          (data[at + d1]! > level && data[at - d1]! > level) ||
          (data[at + d2]! > level && data[at - d2]! > level) ||
          (data[at + d3]! > level && data[at - d3]! > level);
        if (dips) area.testRidge(x, y, found);
      }
    }
  }
  return found.finish(heightPx);
}

class HessianAt {
  private readonly image: GrayImage;
  private readonly kernels: Kernels;
  private readonly sigma2: number;

  constructor(image: GrayImage, kernels: Kernels, sigmaPx: number) {
    this.image = image;
    this.kernels = kernels;
    this.sigma2 = sigmaPx * sigmaPx;
  }

  /** Adds the pixel's ridge point when its centre lies in the pixel and it is dark enough. */
  testRidge(x: number, y: number, into: PointBuffer): void {
    const { radius, g0, g1, g2 } = this.kernels;
    const { widthPx, data } = this.image;
    const size = 2 * radius + 1;
    let rx = 0;
    let ry = 0;
    let rxx = 0;
    let rxy = 0;
    let ryy = 0;
    for (let j = 0; j < size; j++) {
      let s0 = 0;
      let s1 = 0;
      let s2 = 0;
      let at = (y + j - radius) * widthPx + x - radius;
      for (let i = 0; i < size; i++, at++) {
        const v = data[at]!;
        s0 += v * g0[i]!;
        s1 += v * g1[i]!;
        s2 += v * g2[i]!;
      }
      rx += s1 * g0[j]!;
      ry += s0 * g1[j]!;
      rxx += s2 * g0[j]!;
      rxy += s1 * g1[j]!;
      ryy += s0 * g2[j]!;
    }
    // eigenvector of the greatest curvature: dark lines curve upward across
    const half = (rxx - ryy) / 2;
    const root = Math.hypot(half, rxy);
    const curvature = (rxx + ryy) / 2 + root;
    const response = curvature * this.sigma2;
    if (response < INK_LIMITS.weakResponse) return;
    let nx = half + root;
    let ny = rxy;
    if (half < 0) {
      nx = rxy;
      ny = root - half;
    }
    const norm = Math.hypot(nx, ny);
    if (norm === 0) return;
    nx /= norm;
    ny /= norm;
    const offset = -(rx * nx + ry * ny) / curvature;
    if (Math.abs(offset * nx) > INK_LIMITS.centreReachPx || Math.abs(offset * ny) > INK_LIMITS.centreReachPx) return;
    into.push(x, y, x + offset * nx, y + offset * ny, nx, ny, response);
  }
}
