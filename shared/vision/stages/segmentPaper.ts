// Finds the cut pieces of paper on the table, in the true-scale picture. What does not look like the
// table, in areas large enough, with sharp rims; and even areas with a sharp rim all around, whatever the table looks like: where
// the two disagree the rim counts. Says where the photo ends before a piece does, and never takes a reflection for paper
// because it is bright: its rim is soft.
import type { Point, TablePointMm } from '../../base/points.ts';
import type { Salvaged, Warning } from '../../base/result.ts';
import { pointInPolygon, polygonCentroid, signedAreaMm2 } from '../../geometry/polygon.ts';
import type { CoarseOutline } from '../outline/coarseOutline.ts';
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
import {
  couldBePaper,
  coverBeside,
  dominantModes,
  evenLooks,
  type Looks,
  looksOf,
  PAPER_REACH,
  paperBelief,
  regrown,
} from '../segment/growPaper.ts';
import { largestContour } from '../segment/isoContour.ts';
import { type PaperField, paperField } from '../segment/localSplit.ts';
import { components, grown, holesFilled, shrunk } from '../segment/maskOps.ts';
import { type Mode, tableDistance } from '../segment/mixture.ts';
import { paperCells } from '../segment/paperCells.ts';
import type { PaperFindings, PaperRegion } from '../segment/paperRegion.ts';
import { quietWindows } from '../segment/quietWindows.ts';
import { blocksInside, PATH_SPACING_MM, pathSharpness, type RimPath, rimPath } from '../segment/rimPath.ts';
import { type Area, confirmed, parted, sameLine, shareGround, takesOver } from '../segment/rivals.ts';
import { rimSharpness } from '../segment/sharpRim.ts';
import { straightened } from '../segment/strayRuns.ts';
import { isCardWhite, largestPart, nearRim, tableModel } from '../segment/tableModel.ts';
import { type TablePicture, tableFromPicturePx } from '../segment/tablePicture.ts';

export interface SegmentOptions {
  /** Smaller areas are not pieces. */
  readonly minPieceMm2: number;
}

const SEGMENT_DEFAULTS: SegmentOptions = { minPieceMm2: 2000 };

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
/** An area that the evenness of paper proposed; what nothing else saw is never sure. */
const PROPOSED: Level = { distance: 0, minSharpRatio: 0.85, confidence: 1 };
const ALONE: Level = { ...PROPOSED, confidence: 0.6 };
/** A region whose rim is one sharp step by this share is paper of its own. */
const PROVEN: Level = { ...PROPOSED, minSharpRatio: 0.9 };
/** An area with a longer stretch of border without a step is half a piece or a piece and a half: looked for again at the
 * next level, and taken at lower confidence when nothing better comes. */
const MAX_SOFT_MM = 40;
const DOUBT_RATIO = 0.7;
/** Share of the core's own difference from the table that the rest of the piece must have. */
const WHOLE_RATIO = 0.35;
/** Fainter areas this near to a found piece are its shadow or rim. */
const CLAIM_MM = 8;
const GROW_ROUNDS = 3;
/** Surroundings of a core that its piece may grow into or be compared with. */
const NEIGHBOURHOOD_MM = 60;
/** Opening that cuts thin bridges between pieces and thin things off them. */
const OPEN_MM = 3;
/** The contour counts as lying along a cover this near to it. */
const COVER_NEAR_MM = 5;
/** The rim of a proposed area, as wide as this, may be no part of it. */
const WITHIN_MM = 9;
const RIM_MM = 4;
/** A piece runs out of the photo when this much of its border lies on the photo's rim. */
const CUT_OFF_MM = 8;
/** Perimeter over the root of the area: 4 for a square, 11 for a belt of 1000 x 40 mm; more is a cloud of specks. */
const MAX_RAGGEDNESS = 16;
const CARD_PAGE_RATIO = 0.35;
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
  const firstLook = tableModel(seen, seenFeatures, cardWhite(seen));
  const even = evenedLight(seen, seenFeatures, firstLook);
  const grid = even === null ? seen : even.grid;
  const features = even === null ? seenFeatures : even.features;
  const white = cardWhite(grid);
  const table = even === null ? firstLook : tableModel(grid, features, white);
  const fromTable = new Float32Array(grid.usable.length);
  for (let i = 0; i < fromTable.length; i++) {
    if (grid.usable[i] === 1) fromTable[i] = tableDistance(table, features, i);
  }
  const rim = nearRim(grid, RIM_MM);
  const accepted: Placed[] = [];
  const taken = new Uint8Array(fromTable.length);
  const doubtful: Placed[] = [];
  const accept = (placed: Placed): void => {
    pasteSet(taken, grid.width, placed.mask, placed.box);
    accepted.push(placed);
  };
  const searchFor = ({ mask, box }: Area, neighbours: Uint8Array, level: Level): Search => {
    const part = <T extends Uint8Array | Float32Array>(values: T): T => cropped(values, grid.width, box);
    return {
      picture,
      grid: croppedGrid(grid, box),
      features: croppedFeatures(features, grid.width, box),
      table,
      fromTable: part(fromTable),
      core: mask,
      taken: merged(part(taken), neighbours),
      white,
      rim: part(rim),
      level,
      options,
    };
  };
  for (const level of LEVELS) {
    const claimed = grown(taken, grid.width, grid.height, CLAIM_MM / grid.mmPerBlock);
    for (const { core, neighbours, box } of coresAt(grid, fromTable, claimed, level, options)) {
      const found = bestRegion(searchFor({ mask: core, box }, neighbours, level));
      if (found === null) continue;
      const placed = { ...found, box, otherwise: [], isAlone: false };
      if (found.longestSoftMm > MAX_SOFT_MM) doubtful.push(placed);
      else accept(placed);
    }
  }
  for (const cell of paperCells(seen, rim, options.minPieceMm2)) {
    const search = searchFor(cell, new Uint8Array(cell.mask.length), PROPOSED);
    const proof = provenRim(search);
    if (proof === null) continue;
    const area = { mask: proof.mask, box: cell.box };
    const pathMm = proof.points.map(([x, y]) => tableFromPicturePx(picture, x, y));
    const rivals = accepted.filter((placed) => shareGround(placed, area));
    const isProven = ({ mask, box }: Placed): boolean =>
      provenRim(searchFor({ mask, box }, new Uint8Array(mask.length), PROVEN)) !== null;
    if (rivals.length > 0 && !takesOver(area, rivals, isProven)) {
      for (const rival of rivals) rival.otherwise.push(pathMm);
      continue;
    }
    const others = new Uint8Array(taken.length);
    for (const other of accepted) if (!rivals.includes(other)) pasteSet(others, grid.width, other.mask, other.box);
    const level = rivals.length === 0 ? ALONE : PROPOSED;
    const found = drawnRegion({ ...search, level, taken: cropped(others, grid.width, cell.box) }, proof, pathMm);
    if (found === null || hasCard(found.region, cards)) continue;
    for (const gone of rivals) accepted.splice(accepted.indexOf(gone), 1);
    taken.set(others);
    const otherwise = rivals.map(({ region }) => region.coarse.polygon);
    accept({ ...found, box: cell.box, otherwise, isAlone: rivals.length === 0 });
  }
  for (const placed of doubtful) {
    if (overlaps(placed.mask, cropped(taken, grid.width, placed.box))) continue;
    accept({ ...placed, region: { ...placed.region, confidence: DOUBT_RATIO * placed.region.confidence } });
  }
  const regions = accepted
    .map(agreed)
    .filter((region) => !isCardPage(region, cards))
    .map(besideOthers)
    .sort((p, q) => q.areaMm2 - p.areaMm2);
  const warnings = regions.flatMap(({ cutOff, confidence }) => [
    ...(cutOff ? [CUT_OFF] : []),
    ...(confidence < FAINT_CONFIDENCE ? [FAINT] : []),
  ]);
  return { value: { regions, tableIsPaper: looksLikeWhite(table, white) }, warnings };
}

/** A region, the box of the grid that its mask covers, and how others drew it. */
interface Placed extends Found {
  readonly box: GridBox;
  readonly otherwise: (readonly Point[])[];
  /** Nothing but evenness saw it. */
  readonly isAlone: boolean;
}

/** The region, unsure where it was drawn otherwise and all round when evenness alone saw it. */
function agreed({ region, otherwise, isAlone }: Placed): PaperRegion {
  if (otherwise.length === 0 && !isAlone) return region;
  return { ...region, coarse: confirmed(region.coarse, otherwise) };
}

/** The region, unsure where another one lies against it. */
function besideOthers(region: PaperRegion, index: number, all: readonly PaperRegion[]): PaperRegion {
  const others = all.filter((_, i) => i !== index).map(({ coarse }) => coarse.polygon);
  return { ...region, coarse: parted(region.coarse, others) };
}

/** Table with a card on it, or the page of cards: nothing that may be taken for a piece unasked. */
function hasCard({ coarse }: PaperRegion, cards: readonly (readonly Point[])[]): boolean {
  return cards.some((card) => pointInPolygon(polygonCentroid(card), coarse.polygon));
}

/** The page on which the cards were printed, not yet cut apart, is no piece: cards make up most of it. */
function isCardPage({ coarse, areaMm2 }: PaperRegion, cards: readonly (readonly Point[])[]): boolean {
  const onIt = cards.filter((card) => pointInPolygon(polygonCentroid(card), coarse.polygon));
  return onIt.reduce((sum, card) => sum + Math.abs(signedAreaMm2(card)), 0) > CARD_PAGE_RATIO * areaMm2;
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
): { core: Uint8Array; neighbours: Uint8Array; box: GridBox }[] {
  const { width, height, mmPerBlock } = grid;
  const other = new Uint8Array(fromTable.length);
  for (let i = 0; i < other.length; i++) if (fromTable[i]! > level.distance && claimed[i] === 0) other[i] = 1;
  const radius = OPEN_MM / mmPerBlock;
  const opened = grown(shrunk(other, width, height, radius), width, height, radius);
  const parts = components(opened, width);
  const minBlocks = (0.5 * options.minPieceMm2) / mmPerBlock ** 2;
  const margin = Math.ceil(NEIGHBOURHOOD_MM / mmPerBlock);
  const cores = boxesOf(parts, width, height, margin).filter(({ size }) => size >= minBlocks);
  const large = new Set(cores.map(({ name }) => name));
  return cores
    .sort((a, b) => b.size - a.size)
    .map(({ name, box }) => {
      const label = croppedLabels(parts.label, width, box);
      return {
        core: Uint8Array.from(label, (value) => (value === name ? 1 : 0)),
        neighbours: Uint8Array.from(label, (value) => (value !== name && large.has(value) ? 1 : 0)),
        box,
      };
    });
}

function merged(a: Uint8Array, b: Uint8Array): Uint8Array {
  return a.map((value, i) => (value === 1 || b[i] === 1 ? 1 : 0));
}

function overlaps(mask: Uint8Array, taken: Uint8Array): boolean {
  let shared = 0;
  let size = 0;
  for (let i = 0; i < mask.length; i++) {
    if (mask[i] === 0) continue;
    size++;
    if (taken[i] === 1) shared++;
  }
  return shared * 4 > size;
}

interface Found {
  readonly mask: Uint8Array;
  readonly region: PaperRegion;
  readonly longestSoftMm: number;
}

/** Everything about one piece's neighbourhood; arrays are cut to its box. */
interface Search {
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

/**
 * The region of a core. When its border fades away somewhere, a reflection may have been taken for another look of the
 * paper: then it is looked for again without uneven looks, and the result with the clearer border counts.
 */
function bestRegion(search: Search): Found | null {
  const first = regionFrom(search, ANY_LOOK);
  if (first === null || first.longestSoftMm <= MAX_SOFT_MM) return first;
  const second = regionFrom(search, EVEN_LOOK);
  return second !== null && second.longestSoftMm < first.longestSoftMm ? second : first;
}

/** How freely a piece may differ from one place to another. */
interface Freedom {
  readonly looks: (modes: readonly Mode[]) => readonly Mode[];
  /** Blocks further than this from the paper's looks are given up. */
  readonly reach: number;
}
const ANY_LOOK: Freedom = { looks: (modes) => modes, reach: Number.POSITIVE_INFINITY };
const EVEN_LOOK: Freedom = { looks: evenLooks, reach: PAPER_REACH };

/** A proposed area whose rim proves it to be paper. */
interface Proof extends RimPath {
  /** Blocks inside the path. */
  readonly mask: Uint8Array;
  readonly cover: Uint8Array;
  readonly paper: readonly Mode[];
  readonly sharpRatio: number;
  readonly longestSoftMm: number;
}

function provenRim(search: Search): Proof | null {
  const { picture, grid, features, table, fromTable, core, white, level } = search;
  const { width, height } = grid;
  const paper = dominantModes(grid, features, core, table);
  if (!couldBePaper(paper, white)) return null;
  const path = rimPath(picture, grid, core, { x0: 0, y0: 0, width, height });
  if (path === null) return null;
  const things = coverBeside(grid, features, fromTable, table, paper, core);
  const within = shrunk(core, width, height, WITHIN_MM / grid.mmPerBlock);
  const cover = things.map((value, i) => (within[i] === 1 ? 0 : value));
  const sharpness = pathSharpness(path.soft, besideThings(search, path.points, cover));
  if (sharpness.sharpRatio < level.minSharpRatio || sharpness.longestSoftMm > MAX_SOFT_MM) return null;
  return { ...path, ...sharpness, mask: blocksInside(grid, path.points), cover, paper };
}

/** The outline of a proven area: pixel by pixel, or along its path where the two disagree. */
function drawnRegion(search: Search, proof: Proof, pathMm: readonly TablePointMm[]): Found | null {
  const { grid, features, table, options, level } = search;
  const { mask, cover, paper, soft, sharpRatio, longestSoftMm } = proof;
  const finer = outlined(search, mask, looksOf(grid, features, table, paper), cover);
  if (finer !== null && sameLine(finer.region.coarse, pathMm)) return finer;
  const even = straightened(pathMm, besideThings(search, proof.points, cover), soft, PATH_SPACING_MM);
  const region = regionOf(bridged(even.points, even.blocked, even.state), sharpRatio, level, false);
  return region.areaMm2 < options.minPieceMm2 ? null : { mask, region, longestSoftMm };
}

/** 1 for picture points beside a card or a thing that covers the edge. */
function besideThings({ grid }: Search, path: readonly Point[], cover: Uint8Array): Uint8Array {
  const lyingOver = cover.map((value, i) => (value === 1 || grid.card[i] === 1 ? 1 : 0));
  const near = grown(lyingOver, grid.width, grid.height, COVER_NEAR_MM / grid.mmPerBlock);
  return Uint8Array.from(path, ([x, y]) => near[blockAt(grid, x, y)]!);
}

function blockAt({ width, height, pxPerBlock, firstBlock }: BlockGrid, xPx: number, yPx: number): number {
  const bx = Math.min(width - 1, Math.max(0, Math.floor(xPx / pxPerBlock) - firstBlock[0]));
  const by = Math.min(height - 1, Math.max(0, Math.floor(yPx / pxPerBlock) - firstBlock[1]));
  return by * width + bx;
}

function regionOf(coarse: CoarseOutline, sharpRatio: number, level: Level, cutOff: boolean): PaperRegion {
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

/** The region that the core belongs to and its blocks; null when it is no piece of paper. */
function regionFrom(search: Search, freedom: Freedom): Found | null {
  const { grid, features, table, taken, white } = search;
  let mask = wholeOf(search);
  const paper = freedom.looks(dominantModes(grid, features, mask, table));
  if (!couldBePaper(paper, white)) return null;
  const looks = looksOf(grid, features, table, paper);
  for (let round = 0; round < GROW_ROUNDS; round++) mask = regrown(grid, looks, mask, taken, freedom.reach);
  return outlined(search, mask, looks, coverBeside(grid, features, search.fromTable, table, paper, mask));
}

/** The border between paper and table drawn pixel by pixel, near the rim of a mask. */
function outlined(search: Search, core: Uint8Array, looks: Looks, cover: Uint8Array): Found | null {
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
  return main !== null && isCardWhite(main, white);
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
