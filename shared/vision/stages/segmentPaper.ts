// Finds the cut pieces of paper on the table, in the true-scale picture. What does not look like the
// table, in areas large enough, with sharp rims; and even areas with a sharp rim all around, whatever the table looks like: where
// the two disagree the rim counts. Says where the photo ends before a piece does, and never takes a reflection for paper
// because it is bright: its rim is soft.
import type { Point } from '../../base/points.ts';
import type { Salvaged, Warning } from '../../base/result.ts';
import { pointInPolygon, polygonCentroid, signedAreaMm2 } from '../../geometry/polygon.ts';
import { type BlockGrid, blockGrid } from '../segment/blockGrid.ts';
import { bestRegion } from '../segment/coreRegion.ts';
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
import { components, grown, shrunk } from '../segment/maskOps.ts';
import { type Mode, tableDistance } from '../segment/mixture.ts';
import { paperCells } from '../segment/paperCells.ts';
import type { PaperFindings, PaperRegion } from '../segment/paperRegion.ts';
import {
  type Found,
  LEVELS,
  type Level,
  MAX_SOFT_MM,
  merged,
  OPEN_MM,
  type Search,
  type SegmentOptions,
} from '../segment/pieceSearch.ts';
import { drawnRegion, provenRim } from '../segment/provenArea.ts';
import { quietWindows } from '../segment/quietWindows.ts';
import { type Area, confirmed, parted, shareGround, takesOver } from '../segment/rivals.ts';
import { isCardWhite, nearRim, tableModel } from '../segment/tableModel.ts';
import { type TablePicture, tableFromPicturePx } from '../segment/tablePicture.ts';

const SEGMENT_DEFAULTS: SegmentOptions = { minPieceMm2: 2000 };

/** An area that the evenness of paper proposed; what nothing else saw is never sure. */
const PROPOSED: Level = { distance: 0, minSharpRatio: 0.85, confidence: 1 };
const ALONE: Level = { ...PROPOSED, confidence: 0.6 };
/** A region whose rim is one sharp step by this share is paper of its own. */
const PROVEN: Level = { ...PROPOSED, minSharpRatio: 0.9 };
const DOUBT_RATIO = 0.7;
/** Fainter areas this near to a found piece are its shadow or rim. */
const CLAIM_MM = 8;
/** Surroundings of a core that its piece may grow into or be compared with. */
const NEIGHBOURHOOD_MM = 60;
const RIM_MM = 4;
const CARD_PAGE_RATIO = 0.35;

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
