// The piece of paper around a core that does not look like the table: the core is grown over everything that looks like it,
// and its border with the table is drawn pixel by pixel.
import type { Point } from '../../base/points.ts';
import { signedAreaMm2 } from '../../geometry/polygon.ts';
import type { BlockGrid } from './blockGrid.ts';
import { calmField } from './calmField.ts';
import { bridged } from './contourLabels.ts';
import {
  areaOf,
  couldBePaper,
  coverBeside,
  dominantModes,
  evenLooks,
  type Looks,
  looksOf,
  PAPER_REACH,
  paperBelief,
  regrown,
} from './growPaper.ts';
import { largestContour } from './isoContour.ts';
import { type PaperField, paperField } from './localSplit.ts';
import { components, grown, holesFilled, shrunk } from './maskOps.ts';
import type { Mode } from './mixture.ts';
import {
  besideThings,
  blockAt,
  type Found,
  LEVELS,
  MAX_SOFT_MM,
  merged,
  OPEN_MM,
  regionOf,
  type Search,
} from './pieceSearch.ts';
import { rimSharpness } from './sharpRim.ts';
import { straightened } from './strayRuns.ts';
import { largestPart } from './tableModel.ts';
import { tableFromPicturePx } from './tablePicture.ts';

/** Share of the core's own difference from the table that the rest of the piece must have. */
const WHOLE_RATIO = 0.35;
const GROW_ROUNDS = 3;
/** A piece runs out of the photo when this much of its border lies on the photo's rim. */
const CUT_OFF_MM = 8;
/** Perimeter over the root of the area: 4 for a square, 11 for a belt of 1000 x 40 mm; more is a cloud of specks. */
const MAX_RAGGEDNESS = 16;

/** How freely a piece may differ from one place to another. */
interface Freedom {
  readonly looks: (modes: readonly Mode[]) => readonly Mode[];
  /** Blocks further than this from the paper's looks are given up. */
  readonly reach: number;
}
const ANY_LOOK: Freedom = { looks: (modes) => modes, reach: Number.POSITIVE_INFINITY };
const EVEN_LOOK: Freedom = { looks: evenLooks, reach: PAPER_REACH };

/**
 * The region of a core. When its border fades away somewhere, a reflection may have been taken for another look of the
 * paper: then it is looked for again without uneven looks, and the result with the clearer border counts.
 */
export function bestRegion(search: Search): Found | null {
  const first = regionFrom(search, ANY_LOOK);
  if (first === null || first.longestSoftMm <= MAX_SOFT_MM) return first;
  const second = regionFrom(search, EVEN_LOOK);
  return second !== null && second.longestSoftMm < first.longestSoftMm ? second : first;
}

/** The core with everything connected to it that differs from the table nearly as much: a level may cut through a piece. */
function wholeOf({ grid, fromTable, core, taken }: Search): Uint8Array {
  const { width, height, mmPerBlock } = grid;
  const inCore = fromTable.filter((_, i) => core[i] === 1).sort();
  const atLeast = Math.max(LEVELS.at(-1)!.distance, WHOLE_RATIO * (inCore[inCore.length >> 1] ?? 0));
  const alike = core.map((value, i) => (value === 1 || (fromTable[i]! > atLeast && taken[i] === 0) ? 1 : 0));
  const radius = OPEN_MM / mmPerBlock;
  const opened = grown(shrunk(alike, width, height, radius), width, height, radius);
  const parts = components(opened, width);
  const names = new Set<number>();
  for (let i = 0; i < core.length; i++) if (core[i] === 1 && opened[i] === 1) names.add(parts.label[i]!);
  return opened.map((value, i) => (value === 1 && names.has(parts.label[i]!) ? 1 : 0));
}

/** The region that the core belongs to and its blocks; null when it is no piece of paper. */
function regionFrom(search: Search, freedom: Freedom): Found | null {
  const { grid, features, table, taken, white } = search;
  let mask = wholeOf(search);
  const paper = freedom.looks(dominantModes(grid, features, mask, table));
  if (!couldBePaper(paper, white, areaOf(mask, grid))) return null;
  const looks = looksOf(grid, features, table, paper);
  for (let round = 0; round < GROW_ROUNDS; round++) mask = regrown(grid, looks, mask, taken, freedom.reach);
  return outlined(search, mask, looks, coverBeside(grid, features, search.fromTable, table, paper, mask));
}

/** The border between paper and table drawn pixel by pixel, near the rim of a mask. */
export function outlined(search: Search, core: Uint8Array, looks: Looks, cover: Uint8Array): Found | null {
  const { picture, grid, taken, rim, level, options } = search;
  const { width, height, mmPerBlock } = grid;
  let mask: Uint8Array = core.map((value, i) => (cover[i] === 1 ? 0 : value));
  const radius = OPEN_MM / mmPerBlock;
  mask = grown(shrunk(mask, width, height, radius), width, height, radius);
  mask = holesFilled(largestPart(mask, width), width, height, Number.POSITIVE_INFINITY);
  const blocks = mask.reduce((sum, value) => sum + value, 0);
  if (blocks * mmPerBlock ** 2 < options.minPieceMm2) return null;
  const other = cover.map((value, i) => (value === 1 || grid.card[i] === 1 || taken[i] === 1 ? 1 : 0));
  const belief = paperBelief(grid, looks);
  mask = redrawn(paperField(picture, grid, mask, other, belief), grid, mask, picture.mmPerPx);
  const field = paperField(picture, grid, mask, other, belief);
  const contour = largestContour(calmField(field, picture.mmPerPx), field.width, field.height, 0.5);
  if (contour === null) return null;
  if ((contour.length * picture.mmPerPx) / Math.sqrt(blocks * mmPerBlock ** 2) > MAX_RAGGEDNESS) return null;
  const inPicture = contour.map(([x, y]): Point => [x + field.x0, y + field.y0]);
  const points = inPicture.map(([x, y]) => tableFromPicturePx(picture, x, y));
  const blocked = besideThings(search, inPicture, cover);
  const atRim = Uint8Array.from(inPicture, ([x, y]) => rim[blockAt(grid, x, y)]!);
  const { sharpRatio, longestSoftMm, soft } = rimSharpness(field, contour, merged(blocked, atRim), picture.mmPerPx);
  if (sharpRatio < level.minSharpRatio) return null;
  const even = straightened(points, blocked, soft, picture.mmPerPx);
  const coarse = bridged(even.points, even.blocked, even.state);
  const areaMm2 = Math.abs(signedAreaMm2(coarse.polygon));
  if (areaMm2 < options.minPieceMm2) return null;
  const cutOff = atRim.reduce((sum, value) => sum + value, 0) * picture.mmPerPx > CUT_OFF_MM;
  return { mask, region: regionOf(coarse, sharpRatio, level, cutOff), longestSoftMm };
}

/** The block mask that the fine field describes: corners that the coarse grid cut off come back. */
function redrawn(field: PaperField, grid: BlockGrid, mask: Uint8Array, mmPerPx: number): Uint8Array {
  const calm = calmField(field, mmPerPx);
  const { width, height, pxPerBlock } = grid;
  const out = mask.slice();
  const bx0 = field.x0 / pxPerBlock - grid.firstBlock[0];
  const by0 = field.y0 / pxPerBlock - grid.firstBlock[1];
  for (let by = 0; by * pxPerBlock < field.height; by++) {
    for (let bx = 0; bx * pxPerBlock < field.width; bx++) {
      let sum = 0;
      for (let y = 0; y < pxPerBlock; y++) {
        for (let x = 0; x < pxPerBlock; x++) {
          sum += calm[(by * pxPerBlock + y) * field.width + bx * pxPerBlock + x]!;
        }
      }
      out[(by0 + by) * width + bx0 + bx] = sum > 0.5 * pxPerBlock * pxPerBlock ? 1 : 0;
    }
  }
  const whole = shrunk(grown(out, width, height, 1), width, height, 1);
  const opened = grown(shrunk(whole, width, height, 1.5), width, height, 1.5);
  return holesFilled(largestPart(opened, width), width, height, Number.POSITIVE_INFINITY);
}
