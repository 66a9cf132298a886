// What is known while the outline of one piece of paper is looked for: its surroundings, how faint it may be, what was found;
// and what every way of looking needs: which places lie beside a thing on the edge, and the region that an outline makes.
import type { Point } from '../../base/points.ts';
import { signedAreaMm2 } from '../../geometry/polygon.ts';
import type { CoarseOutline } from '../outline/coarseOutline.ts';
import type { BlockGrid } from './blockGrid.ts';
import { grown } from './maskOps.ts';
import type { Mode } from './mixture.ts';
import type { PaperRegion } from './paperRegion.ts';
import type { TablePicture } from './tablePicture.ts';

/** How different from the table an area is (squared distance over 6 features; chi-square 99 % is 17), clearest first. */
export interface Level {
  readonly distance: number;
  /** Share of the outline that must be one sharp step: the fainter the paper, the more proof. */
  readonly minSharpRatio: number;
  readonly confidence: number;
}
export const LEVELS: readonly Level[] = [
  { distance: 34, minSharpRatio: 0.5, confidence: 1 },
  { distance: 16, minSharpRatio: 0.65, confidence: 0.85 },
  { distance: 7.5, minSharpRatio: 0.5, confidence: 0.65 },
];

export interface SegmentOptions {
  /** Smaller areas are not pieces. */
  readonly minPieceMm2: number;
}

/** An area with a longer stretch of border without a step is half a piece or a piece and a half: looked for again at the
 * next level, and taken at lower confidence when nothing better comes. */
export const MAX_SOFT_MM = 40;
/** Opening that cuts thin bridges between pieces and thin things off them. */
export const OPEN_MM = 3;
/** The contour counts as lying along a cover this near to it. */
const COVER_NEAR_MM = 5;
const SHEET_MM2 = 55_000;
const SHEET_FILL_RATIO = 0.96;

/** Everything about one piece's neighbourhood; arrays are cut to its box. */
export interface Search {
  readonly picture: TablePicture;
  readonly grid: BlockGrid;
  readonly features: Float32Array;
  readonly table: readonly Mode[];
  readonly fromTable: Float32Array;
  readonly core: Uint8Array;
  /** Other pieces. */
  readonly taken: Uint8Array;
  readonly white: number;
  readonly rim: Uint8Array;
  readonly level: Level;
  readonly options: SegmentOptions;
}

export interface Found {
  readonly mask: Uint8Array;
  readonly region: PaperRegion;
  readonly longestSoftMm: number;
}

/** 1 for picture points beside a card or a thing that covers the edge. */
export function besideThings({ grid }: Search, path: readonly Point[], cover: Uint8Array): Uint8Array {
  const lyingOver = cover.map((value, i) => (value === 1 || grid.card[i] === 1 ? 1 : 0));
  const near = grown(lyingOver, grid.width, grid.height, COVER_NEAR_MM / grid.mmPerBlock);
  return Uint8Array.from(path, ([x, y]) => near[blockAt(grid, x, y)]!);
}

export function blockAt({ width, height, pxPerBlock, firstBlock }: BlockGrid, xPx: number, yPx: number): number {
  const bx = Math.min(width - 1, Math.max(0, Math.floor(xPx / pxPerBlock) - firstBlock[0]));
  const by = Math.min(height - 1, Math.max(0, Math.floor(yPx / pxPerBlock) - firstBlock[1]));
  return by * width + bx;
}

export function regionOf(coarse: CoarseOutline, sharpRatio: number, level: Level, cutOff: boolean): PaperRegion {
  const areaMm2 = Math.abs(signedAreaMm2(coarse.polygon));
  return {
    coarse,
    areaMm2,
    sharpRatio,
    confidence: level.confidence * Math.min(1, sharpRatio / 0.9),
    cutOff,
    sheet: areaMm2 > SHEET_MM2 && areaMm2 / boxAreaMm2(coarse.polygon) > SHEET_FILL_RATIO,
  };
}

export function merged(a: Uint8Array, b: Uint8Array): Uint8Array {
  return a.map((value, i) => (value === 1 || b[i] === 1 ? 1 : 0));
}

/** Area of the smallest enclosing rectangle over turns of two degrees. */
function boxAreaMm2(polygon: readonly Point[]): number {
  let best = Number.POSITIVE_INFINITY;
  for (let deg = 0; deg < 90; deg += 2) {
    const c = Math.cos((deg * Math.PI) / 180);
    const s = Math.sin((deg * Math.PI) / 180);
    let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
    for (const [x, y] of polygon) {
      const u = c * x + s * y;
      const v = c * y - s * x;
      x0 = Math.min(x0, u);
      x1 = Math.max(x1, u);
      y0 = Math.min(y0, v);
      y1 = Math.max(y1, v);
    }
    best = Math.min(best, (x1 - x0) * (y1 - y0));
  }
  return best;
}
