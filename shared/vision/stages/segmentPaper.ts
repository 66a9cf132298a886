// Finds the cut pieces of paper on the table, in the true-scale picture: what does not look like the table, in areas
// large enough, with sharp rims. Says where the photo ends before a piece does, and never takes a reflection for paper
// because it is bright: its rim is soft.
import type { Point } from '../../base/points.ts';
import type { Salvaged, Warning } from '../../base/result.ts';
import { signedAreaMm2 } from '../../geometry/polygon.ts';
import { type BlockGrid, blockGrid } from '../segment/blockGrid.ts';
import { calmField } from '../segment/calmField.ts';
import { bridged } from '../segment/contourLabels.ts';
import {
  boxesOf,
  cropped,
  croppedFeatures,
  croppedGrid,
  croppedLabels,
  type GridBox,
  pasteSet,
} from '../segment/cropGrid.ts';
import { evenedLight } from '../segment/evenLight.ts';
import { largestContour } from '../segment/isoContour.ts';
import { type PaperField, paperField } from '../segment/localSplit.ts';
import { components, grown, holesFilled, shrunk } from '../segment/maskOps.ts';
import { fitMixture, type Mode, shadedDistance, squaredDistance } from '../segment/mixture.ts';
import type { PaperFindings, PaperRegion } from '../segment/paperRegion.ts';
import { FEATURES, quietWindows } from '../segment/quietWindows.ts';
import { largestPart, nearRim, tableModel } from '../segment/tableModel.ts';
import { type TablePicture, tableFromPicturePx } from '../segment/tablePicture.ts';

export interface SegmentOptions {
  /** Smaller areas are not pieces. */
  readonly minPieceMm2: number;
}

export const SEGMENT_DEFAULTS: SegmentOptions = { minPieceMm2: 2000 };

/** How different from the table an area is (squared distance over 6 features; chi-square 99 % is 17), clearest first. */
interface Level {
  readonly distance: number;
  /** Share of the outline that must be one sharp step: the fainter the paper, the more proof. */
  readonly minSharpRatio: number;
  readonly confidence: number;
}
const LEVELS: readonly Level[] = [
  { distance: 34, minSharpRatio: 0.5, confidence: 1 },
  { distance: 16, minSharpRatio: 0.65, confidence: 0.85 },
  { distance: 7.5, minSharpRatio: 0.5, confidence: 0.65 },
];
const SURELY_OTHER = 34;
/** Fainter areas this near to a found piece are its shadow or rim. */
const CLAIM_MM = 8;
/** A block as near to the paper as this, and nearer to it than to the table, joins the piece. */
const PAPER_REACH = 40;
/** Growth of a piece from its sure core, per round. */
const GROW_MM = 16;
const GROW_ROUNDS = 3;
/** Surroundings of a core that its piece may grow into or be compared with. */
const NEIGHBOURHOOD_MM = 60;
/** Opening that cuts thin bridges between pieces and thin things off them. */
const OPEN_MM = 3;
/** Difference of squared distances that makes a block look three times as much like the one as like the other. */
const BELIEF_SOFTNESS = 4;
const COVER_DISTANCE = 60;
const MIN_COVER_MM2 = 250;
/** The contour counts as lying along a cover this near to it. */
const COVER_NEAR_MM = 5;
const RIM_MM = 4;
/** Paper reflects at least this part of what the cards' white does (kraft 0.25-0.35). */
const MIN_PAPER_LIGHTNESS = Math.log(0.12);
/** Kraft is about 0.55 and -0.7; stronger colours are toys, tape and tools. */
const MAX_REDNESS = 0.95;
const MAX_BLUENESS = 0.6;
/** Reaches of the sharpness test across the outline. */
const STEP_NEAR_MM = 1.5;
const SHARP_STEP = 0.6;
/** Two parts of one surface differ by less than this many standard deviations of a pixel. */
const MIN_SEPARATION = 1.2;
/** Perimeter over the root of the area: 4 for a square, 11 for a belt of 1000 x 40 mm; more is a cloud of specks. */
const MAX_RAGGEDNESS = 16;
const SHEET_MM2 = 55_000;
const SHEET_FILL_RATIO = 0.96;

/**
 * @param cards outlines of the cards in table millimetres
 * @returns regions by falling area
 */
export function segmentPaper(
  picture: TablePicture,
  cards: readonly (readonly Point[])[],
  options: SegmentOptions = SEGMENT_DEFAULTS,
): Salvaged<PaperFindings> {
  const seen = blockGrid(picture, cards);
  const seenFeatures = quietWindows(seen);
  const firstLook = tableModel(seen, seenFeatures);
  const even = evenedLight(seen, seenFeatures, firstLook);
  const grid = even === null ? seen : even.grid;
  const features = even === null ? seenFeatures : even.features;
  const table = even === null ? firstLook : tableModel(grid, features);
  const white = cardWhite(grid);
  const fromTable = new Float32Array(grid.usable.length);
  for (let i = 0; i < fromTable.length; i++) {
    if (grid.usable[i] === 1) fromTable[i] = shadedDistance(table, features, i);
  }
  const warnings: Warning[] = [];
  const regions: PaperRegion[] = [];
  const rim = nearRim(grid, RIM_MM);
  const taken = new Uint8Array(fromTable.length);
  for (const level of LEVELS) {
    const claimed = grown(taken, grid.width, grid.height, CLAIM_MM / grid.mmPerBlock);
    for (const { core, box } of coresAt(grid, fromTable, claimed, level, options)) {
      const part = <T extends Uint8Array | Float32Array>(values: T): T => cropped(values, grid.width, box);
      const found = regionFrom({
        picture,
        grid: croppedGrid(grid, box),
        features: croppedFeatures(features, grid.width, box),
        table,
        fromTable: part(fromTable),
        core,
        taken: part(taken),
        white,
        rim: part(rim),
        level,
        options,
      });
      if (found === null) continue;
      pasteSet(taken, grid.width, found.mask, box);
      regions.push(found.region);
      if (found.region.cutOff) warnings.push(CUT_OFF);
      if (found.region.confidence < FAINT_CONFIDENCE) warnings.push(FAINT);
    }
  }
  regions.sort((a, b) => b.areaMm2 - a.areaMm2);
  return { value: { regions, tableIsPaper: looksLikeWhite(table, white) }, warnings };
}

const CUT_OFF: Warning = {
  code: 'piece-cut-off',
  message: 'A piece of paper runs out of the photo. Photograph it again with the whole piece in the picture.',
};

const FAINT_CONFIDENCE = 0.65;
const FAINT: Warning = {
  code: 'piece-faint',
  message:
    'A piece of paper hardly differs from the table, so its outline is unsure. Lay it on a surface of another colour.',
};

/** Connected areas that are not table at this level and not yet spoken for, largest first, each in its own box. */
function coresAt(
  grid: BlockGrid,
  fromTable: Float32Array,
  claimed: Uint8Array,
  level: Level,
  options: SegmentOptions,
): { core: Uint8Array; box: GridBox }[] {
  const { width, height, mmPerBlock } = grid;
  const other = new Uint8Array(fromTable.length);
  for (let i = 0; i < other.length; i++) if (fromTable[i]! > level.distance && claimed[i] === 0) other[i] = 1;
  const radius = OPEN_MM / mmPerBlock;
  const opened = grown(shrunk(other, width, height, radius), width, height, radius);
  const parts = components(opened, width, height);
  const minBlocks = (0.5 * options.minPieceMm2) / mmPerBlock ** 2;
  const margin = Math.ceil(NEIGHBOURHOOD_MM / mmPerBlock);
  return boxesOf(parts, width, height, margin)
    .filter(({ size }) => size >= minBlocks)
    .sort((a, b) => b.size - a.size)
    .map(({ name, box }) => {
      const label = croppedLabels(parts.label, width, box);
      return { core: Uint8Array.from(label, (value) => (value === name ? 1 : 0)), box };
    });
}

/** Everything about one piece's neighbourhood; arrays are cut to its box. */
interface Search {
  readonly picture: TablePicture;
  readonly grid: BlockGrid;
  readonly features: Float32Array;
  readonly table: readonly Mode[];
  readonly fromTable: Float32Array;
  readonly core: Uint8Array;
  readonly taken: Uint8Array;
  readonly white: number;
  readonly rim: Uint8Array;
  readonly level: Level;
  readonly options: SegmentOptions;
}

/** The region that the core belongs to and its blocks; null when it is no piece of paper. */
function regionFrom(search: Search): { readonly mask: Uint8Array; readonly region: PaperRegion } | null {
  const { picture, grid, features, table, fromTable, core, taken, white, rim, level, options } = search;
  const { width, height, mmPerBlock } = grid;
  const paper = dominantModes(features, core);
  if (!couldBePaper(paper, white)) return null;
  let mask = core;
  for (let round = 0; round < GROW_ROUNDS; round++) mask = regrown(grid, features, table, paper, mask, taken);
  const cover = coverBeside(grid, features, fromTable, paper, mask);
  mask = mask.map((value, i) => (cover[i] === 1 ? 0 : value));
  const radius = OPEN_MM / mmPerBlock;
  mask = grown(shrunk(mask, width, height, radius), width, height, radius);
  mask = holesFilled(largestPart(mask, width, height), width, height, Number.POSITIVE_INFINITY);
  const blocks = mask.reduce((sum, value) => sum + value, 0);
  if (blocks * mmPerBlock ** 2 < options.minPieceMm2) return null;
  const other = cover.map((value, i) => (value === 1 || grid.card[i] === 1 ? 1 : 0));
  const belief = paperBelief(grid, features, table, paper);
  mask = redrawn(paperField(picture, grid, mask, other, belief), grid, mask, picture.mmPerPx);
  const field = paperField(picture, grid, mask, other, belief);
  const contour = largestContour(calmField(field, picture.mmPerPx), field.width, field.height, 0.5);
  if (contour === null) return null;
  if ((contour.length * picture.mmPerPx) / Math.sqrt(blocks * mmPerBlock ** 2) > MAX_RAGGEDNESS) return null;
  const nearCover = grown(other, width, height, COVER_NEAR_MM / mmPerBlock);
  const blocked = new Uint8Array(contour.length);
  let rimPoints = 0;
  const points = contour.map(([x, y], i) => {
    const px = x + field.x0;
    const py = y + field.y0;
    const bx = Math.min(width - 1, Math.floor(px / grid.pxPerBlock) - grid.firstBlock[0]);
    const by = Math.min(height - 1, Math.floor(py / grid.pxPerBlock) - grid.firstBlock[1]);
    const block = Math.max(0, by) * width + Math.max(0, bx);
    if (nearCover[block] === 1) blocked[i] = 1;
    if (rim[block] === 1) rimPoints++;
    return tableFromPicturePx(picture, px, py);
  });
  const coarse = bridged(points, blocked);
  const areaMm2 = Math.abs(signedAreaMm2(coarse.polygon));
  if (areaMm2 < options.minPieceMm2) return null;
  const sharpRatio = sharpShare(field, contour, blocked, picture.mmPerPx);
  if (sharpRatio < level.minSharpRatio) return null;
  const region: PaperRegion = {
    coarse,
    areaMm2,
    sharpRatio,
    confidence: level.confidence * Math.min(1, sharpRatio / 0.9),
    cutOff: rimPoints * picture.mmPerPx > 8,
    sheet: areaMm2 > SHEET_MM2 && areaMm2 / boxAreaMm2(coarse.polygon) > SHEET_FILL_RATIO,
  };
  return { mask, region };
}

/** The looks of the paper: the modes that make up most of the core, seen as one material in light and shade. */
function dominantModes(features: Float32Array, core: Uint8Array): Mode[] {
  const rows: number[] = [];
  for (let i = 0; i < core.length; i++) if (core[i] === 1) rows.push(i);
  const step = Math.ceil(rows.length / 3000);
  const modes = fitMixture(
    features,
    rows.filter((_, i) => i % step === 0),
    4,
  );
  const main = modes.reduce((best, mode) => (mode.weight > best.weight ? mode : best), modes[0]!);
  const row = new Float32Array(FEATURES);
  return modes.filter((mode) => {
    row.set(mode.mean);
    // texture is left out: the same paper may carry print in one place
    for (let f = 3; f < FEATURES; f++) row[f] = main.mean[f]!;
    return mode === main || shadedDistance([main], row, 0) < COVER_DISTANCE;
  });
}

function couldBePaper(modes: readonly Mode[], white: number): boolean {
  const main = modes.reduce((best, mode) => (mode.weight > best.weight ? mode : best), modes[0]!);
  return (
    main.mean[0]! - white > MIN_PAPER_LIGHTNESS && Math.abs(main.mean[1]!) < MAX_REDNESS && main.mean[2]! < MAX_BLUENESS
  );
}

function regrown(
  grid: BlockGrid,
  features: Float32Array,
  table: readonly Mode[],
  paper: readonly Mode[],
  mask: Uint8Array,
  taken: Uint8Array,
): Uint8Array {
  const { width, height, mmPerBlock, usable } = grid;
  const reach = grown(mask, width, height, GROW_MM / mmPerBlock);
  const next = new Uint8Array(mask.length);
  for (let i = 0; i < mask.length; i++) {
    if (reach[i] === 0 || usable[i] === 0 || taken[i] === 1) continue;
    const toTable = nearest(table, features, i);
    const toPaper = nearest(paper, features, i);
    if (mask[i] === 1 ? toPaper < toTable : toPaper < toTable && toPaper < PAPER_REACH) next[i] = 1;
  }
  const cleaned = shrunk(grown(next, width, height, 1), width, height, 1);
  const parts = components(cleaned, width, height);
  const keep = new Set<number>();
  for (let i = 0; i < mask.length; i++) if (mask[i] === 1 && cleaned[i] === 1) keep.add(parts.label[i]!);
  return cleaned.map((value, i) => (value === 1 && keep.has(parts.label[i]!) ? 1 : 0));
}

function nearest(modes: readonly Mode[], features: Float32Array, row: number): number {
  let best = Number.POSITIVE_INFINITY;
  for (const mode of modes) best = Math.min(best, squaredDistance(mode, features, row));
  return best;
}

/** How much each block looks like the paper rather than the table, 0-1. */
function paperBelief(
  grid: BlockGrid,
  features: Float32Array,
  table: readonly Mode[],
  paper: readonly Mode[],
): Float32Array {
  const belief = new Float32Array(grid.usable.length);
  for (let i = 0; i < belief.length; i++) {
    if (grid.usable[i] === 0) continue;
    const lead = nearest(table, features, i) - nearest(paper, features, i);
    belief[i] = 1 / (1 + Math.exp(-lead / BELIEF_SOFTNESS));
  }
  return belief;
}

/** Things that are neither this paper nor table and touch the paper: weights, hands, rulers. */
function coverBeside(
  grid: BlockGrid,
  features: Float32Array,
  fromTable: Float32Array,
  paper: readonly Mode[],
  mask: Uint8Array,
): Uint8Array {
  const { width, height, mmPerBlock } = grid;
  const odd = new Uint8Array(mask.length);
  const probe = new Float32Array(FEATURES);
  const main = paper.reduce((best, mode) => (mode.weight > best.weight ? mode : best), paper[0]!);
  for (let i = 0; i < mask.length; i++) {
    if (grid.usable[i] === 0 || fromTable[i]! <= SURELY_OTHER) continue;
    probe.set(features.subarray(i * FEATURES, (i + 1) * FEATURES));
    for (let f = 3; f < FEATURES; f++) probe[f] = main.mean[f]!;
    if (shadedDistance(paper, probe, 0) > COVER_DISTANCE) odd[i] = 1;
  }
  // mixed blocks along every edge are odd too; they are thin
  const solid = shrunk(odd, width, height, 2);
  const opened = grown(solid, width, height, 3).map((value, i) => (value === 1 && odd[i] === 1 ? 1 : 0));
  const parts = components(opened, width, height);
  const near = grown(mask, width, height, 3);
  const touching = new Set<number>();
  for (let i = 0; i < mask.length; i++) if (opened[i] === 1 && near[i] === 1) touching.add(parts.label[i]!);
  const minBlocks = MIN_COVER_MM2 / mmPerBlock ** 2;
  return opened.map((value, i) => {
    const name = parts.label[i]!;
    return value === 1 && touching.has(name) && parts.size[name]! >= minBlocks ? 1 : 0;
  });
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
  return holesFilled(largestPart(opened, width, height), width, height, Number.POSITIVE_INFINITY);
}

/** Share of the free contour where the change from table to paper happens within +-STEP_NEAR_MM. */
function sharpShare(field: PaperField, contour: readonly Point[], blocked: Uint8Array, mmPerPx: number): number {
  const reach = STEP_NEAR_MM / mmPerPx;
  const n = contour.length;
  const turnReach = Math.max(2, Math.round(2 / mmPerPx));
  let free = 0;
  let sharp = 0;
  for (let i = 0; i < n; i++) {
    if (blocked[i] === 1) continue;
    const before = contour[(i - turnReach + n) % n]!;
    const after = contour[(i + turnReach) % n]!;
    const length = Math.hypot(after[0] - before[0], after[1] - before[1]);
    if (length === 0) continue;
    // clockwise on the screen: the inside lies to the right of travel
    const nx = -(after[1] - before[1]) / length;
    const ny = (after[0] - before[0]) / length;
    free++;
    const [x, y] = contour[i]!;
    const inner = fieldAt(field, x + nx * reach, y + ny * reach);
    const outer = fieldAt(field, x - nx * reach, y - ny * reach);
    if (inner - outer > SHARP_STEP && separationAt(field, x, y) > MIN_SEPARATION) sharp++;
  }
  return free === 0 ? 0 : sharp / free;
}

function separationAt(field: PaperField, x: number, y: number): number {
  const xx = Math.min(Math.max(Math.round(x), 0), field.width - 1);
  const yy = Math.min(Math.max(Math.round(y), 0), field.height - 1);
  return field.separation[yy * field.width + xx]!;
}

function fieldAt(field: PaperField, x: number, y: number): number {
  const xx = Math.round(x);
  const yy = Math.round(y);
  if (xx < 0 || yy < 0 || xx >= field.width || yy >= field.height) return 0;
  return field.data[yy * field.width + xx]!;
}

/** Log lightness of the cards' white: the 80th percentile on the cards, or of everything when no card is there. */
function cardWhite(grid: BlockGrid): number {
  const onCards: number[] = [];
  const all: number[] = [];
  for (let i = 0; i < grid.card.length; i++) {
    if (grid.outside[i] === 1) continue;
    all.push(grid.lightness[i]!);
    if (grid.card[i] === 1) onCards.push(grid.lightness[i]!);
  }
  const values = onCards.length > 20 ? onCards : all;
  values.sort((a, b) => a - b);
  return values[Math.floor(values.length * 0.8)] ?? 0;
}

function looksLikeWhite(table: readonly Mode[], white: number): boolean {
  const main = table.reduce<Mode | null>(
    (best, mode) => (best === null || mode.weight > best.weight ? mode : best),
    null,
  );
  if (main === null) return false;
  return main.mean[0]! - white > Math.log(0.75) && Math.abs(main.mean[1]!) < 0.12 && Math.abs(main.mean[2]!) < 0.3;
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
