// The table picture as a coarse grid of blocks, each with a robust colour: the median over a window wider than any pen
// stroke or printed grid line, so that ink on paper and the lines of a cutting mat vanish before anything is judged.
import type { Point } from '../../base/points.ts';
import { LINEAR_FROM_SRGB, LUMINANCE_WEIGHTS } from './linearLight.ts';
import { picturePxFromTable, type TablePicture } from './tablePicture.ts';

export interface BlockGrid {
  readonly width: number;
  readonly height: number;
  /** Place of the first block in the grid of the whole picture: not 0, 0 when this is a part of it. */
  readonly firstBlock: Point;
  readonly mmPerBlock: number;
  /** Picture pixels per block. */
  readonly pxPerBlock: number;
  /** Natural log of linear luminance. */
  readonly lightness: Float32Array;
  /** Log ratios red/green and blue/green of linear light: unchanged by the strength of the light. */
  readonly redness: Float32Array;
  readonly blueness: Float32Array;
  /** Median absolute deviation of the samples over their level: fine grain, blind to thin lines. */
  readonly grain: Float32Array;
  /** 1 where the block shows table or paper; 0 outside the photo and on cards. */
  readonly usable: Uint8Array;
  /** 1 on cards. */
  readonly card: Uint8Array;
  /** 1 outside the photo. */
  readonly outside: Uint8Array;
}

const BLOCK_MM = 2.4;
/** Window of the median; a pen stroke or grid line is at most about 1.2 mm wide, a third of it. */
const MEDIAN_WINDOW_MM = 4;
const SAMPLES_ACROSS = 4;
/** Linear light added before a logarithm, about the noise of a phone's dark pixels. */
export const DARK_FLOOR = 0.008;
/** Code value added to the level under the grain for the same reason. */
const GRAIN_FLOOR_CODE = 12;

/**
 * Reduces the picture to blocks of about 2.4 mm.
 * @param cards outlines of cards, table millimetres
 */
export function blockGrid(picture: TablePicture, cards: readonly (readonly Point[])[]): BlockGrid {
  const { rgb, mmPerPx } = picture;
  const pxPerBlock = Math.max(1, Math.round(BLOCK_MM / mmPerPx));
  const width = Math.floor(rgb.widthPx / pxPerBlock);
  const height = Math.floor(rgb.heightPx / pxPerBlock);
  const count = width * height;
  const grid = {
    width,
    height,
    firstBlock: [0, 0] as const,
    mmPerBlock: pxPerBlock * mmPerPx,
    pxPerBlock,
    lightness: new Float32Array(count),
    redness: new Float32Array(count),
    blueness: new Float32Array(count),
    grain: new Float32Array(count),
    usable: new Uint8Array(count),
    card: cardMask(picture, cards, width, height, pxPerBlock),
    outside: new Uint8Array(count),
  };
  const step = Math.max(1, Math.round(MEDIAN_WINDOW_MM / SAMPLES_ACROSS / mmPerPx));
  const span = (SAMPLES_ACROSS - 1) * step;
  const sampleCount = SAMPLES_ACROSS * SAMPLES_ACROSS;
  const red = new Uint8Array(sampleCount);
  const green = new Uint8Array(sampleCount);
  const blue = new Uint8Array(sampleCount);
  const deviation = new Uint8Array(sampleCount);
  for (let by = 0; by < height; by++) {
    for (let bx = 0; bx < width; bx++) {
      const cx = Math.round((bx + 0.5) * pxPerBlock - 0.5);
      const cy = Math.round((by + 0.5) * pxPerBlock - 0.5);
      const at = by * width + bx;
      let n = 0;
      for (let y = cy - (span >> 1); y <= cy + span - (span >> 1); y += step) {
        if (y < 0 || y >= rgb.heightPx) continue;
        for (let x = cx - (span >> 1); x <= cx + span - (span >> 1); x += step) {
          if (x < 0 || x >= rgb.widthPx) continue;
          const pixel = y * rgb.widthPx + x;
          if (picture.seen !== undefined && picture.seen[pixel] === 0) continue;
          red[n] = rgb.data[3 * pixel]!;
          green[n] = rgb.data[3 * pixel + 1]!;
          blue[n] = rgb.data[3 * pixel + 2]!;
          n++;
        }
      }
      if (n * 2 < sampleCount) {
        grid.outside[at] = 1;
        continue;
      }
      if (grid.card[at] === 0) grid.usable[at] = 1;
      const r = LINEAR_FROM_SRGB[medianOf(red, n)]! + DARK_FLOOR;
      const greenCode = medianOf(green, n);
      const g = LINEAR_FROM_SRGB[greenCode]! + DARK_FLOOR;
      const b = LINEAR_FROM_SRGB[medianOf(blue, n)]! + DARK_FLOOR;
      for (let i = 0; i < n; i++) deviation[i] = Math.abs(green[i]! - greenCode);
      grid.lightness[at] = Math.log(LUMINANCE_WEIGHTS[0] * r + LUMINANCE_WEIGHTS[1] * g + LUMINANCE_WEIGHTS[2] * b);
      grid.redness[at] = Math.log(r / g);
      grid.blueness[at] = Math.log(b / g);
      grid.grain[at] = medianOf(deviation, n) / (greenCode + GRAIN_FLOOR_CODE);
    }
  }
  return grid;
}

/** Median of the first n values; sorts them in place. */
function medianOf(values: Uint8Array, n: number): number {
  for (let i = 1; i < n; i++) {
    const value = values[i]!;
    let j = i - 1;
    while (j >= 0 && values[j]! > value) {
      values[j + 1] = values[j]!;
      j--;
    }
    values[j + 1] = value;
  }
  return values[n >> 1]!;
}

function cardMask(
  picture: TablePicture,
  cards: readonly (readonly Point[])[],
  width: number,
  height: number,
  pxPerBlock: number,
): Uint8Array {
  const mask = new Uint8Array(width * height);
  for (const card of cards) {
    const corners = card.map((corner) => {
      const [x, y] = picturePxFromTable(picture, corner);
      return [(x + 0.5) / pxPerBlock - 0.5, (y + 0.5) / pxPerBlock - 0.5] as const;
    });
    fillPolygon(mask, width, height, corners);
  }
  return mask;
}

/** Sets every grid point inside the polygon (grid coordinates, even-odd) and within one block of its rim to 1. */
function fillPolygon(mask: Uint8Array, width: number, height: number, polygon: readonly Point[]): void {
  for (let y = 0; y < height; y++) {
    const crossings: number[] = [];
    for (let i = 0; i < polygon.length; i++) {
      const a = polygon[i]!;
      const b = polygon[(i + 1) % polygon.length]!;
      if (a[1] <= y !== b[1] <= y) crossings.push(a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0]));
    }
    crossings.sort((p, q) => p - q);
    for (let k = 0; k + 1 < crossings.length; k += 2) {
      const from = Math.max(0, Math.floor(crossings[k]!));
      const to = Math.min(width - 1, Math.ceil(crossings[k + 1]!));
      for (let x = from; x <= to; x++) mask[y * width + x] = 1;
    }
  }
}
