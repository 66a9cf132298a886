// From a sure core to the whole piece, block by block: what the core's paper looks like, which blocks beside it look more
// like that paper than like the table, and what lies over it (weights, hands, rulers).
import type { BlockGrid } from './blockGrid.ts';
import { cellRim } from './cellRim.ts';
import { boxesOf, croppedLabels, type GridBox } from './cropGrid.ts';
import { type Components, components, grown, shrunk } from './maskOps.ts';
import { fitMixture, forgivingDistance, type Mode, shadedDistance, squaredDistance } from './mixture.ts';
import { FEATURES } from './quietWindows.ts';

/** A block as near to the paper as this, and nearer to it than to the table, joins the piece. */
const INNER_MM = 6;
const MODE_SAMPLES = 3000;
/** A rare mode this near to the table's looks is a mixture of both, no look of the paper. */
const MIN_MODE_WEIGHT = 0.15;
const TABLE_LIKE = 30;
export const PAPER_REACH = 40;
/** Spread over a large window, as a natural logarithm over the main look's. */
const FADING_TEXTURE = 1.2;
/** Growth of a piece from its sure core, per round. */
const GROW_MM = 16;
const COVER_DISTANCE = 60;
const MIN_COVER_MM2 = 250;
/** Light changes the table's log colour by this much, and shade its log brightness. */
const LIT_TABLE = { colour: 0.2, darkest: -1.05, grey: { colour: 0.15, leastMm2: 15_000 } } as const;
/** Share of a thing's rim that is one sharp step. */
const THING_SHARP = 0.5;
/** Difference of squared distances that makes a block look three times as much like the one as like the other. */
const BELIEF_SOFTNESS = 4;
/** Paper reflects at least this part of what the cards' white does (kraft 0.25-0.35); black paper less (0.04), and so do tools and
 * telephones, which are smaller than pieces of a garment. */
const DARKEST_PAPER = { small: Math.log(0.12), large: Math.log(0.03), largeMm2: 20_000 } as const;
/** Kraft is about 0.55 and -0.7; stronger colours are toys, tape and tools, yellow rulers below -1.4. */
const MAX_REDNESS = 0.95;
const MAX_BLUENESS = 0.6;
const MIN_BLUENESS = -1.15;
const SURELY_OTHER = 34;

/**
 * The looks of the paper: the modes that make up most of the piece, seen as one material in light and shade. Learnt away
 * from its rim, where blocks hold both paper and table.
 */
export function dominantModes(
  grid: BlockGrid,
  features: Float32Array,
  mask: Uint8Array,
  table: readonly Mode[],
): Mode[] {
  const inner = shrunk(mask, grid.width, grid.height, INNER_MM / grid.mmPerBlock);
  const rows: number[] = [];
  const pick = inner.includes(1) ? inner : mask;
  for (let i = 0; i < pick.length; i++) if (pick[i] === 1 && grid.usable[i] === 1) rows.push(i);
  const step = Math.ceil(rows.length / MODE_SAMPLES);
  const modes = fitMixture(
    features,
    rows.filter((_, i) => i % step === 0),
    4,
  );
  const main = mainLook(modes);
  const row = new Float32Array(FEATURES);
  return modes.filter((mode) => {
    if (mode === main) return true;
    row.set(mode.mean);
    if (mode.weight < MIN_MODE_WEIGHT && shadedDistance(table, row, 0) < TABLE_LIKE) return false;
    // texture is left out: the same paper may carry print in one place
    for (let f = 3; f < FEATURES; f++) row[f] = main.mean[f]!;
    if (shadedDistance([main], row, 0) < COVER_DISTANCE) return true;
    // or the larger part of the paper lies in the shade and this is the lit one
    row.set(main.mean);
    for (let f = 3; f < FEATURES; f++) row[f] = mode.mean[f]!;
    return shadedDistance([mode], row, 0) < COVER_DISTANCE;
  });
}

export function areaOf(mask: Uint8Array, { mmPerBlock }: BlockGrid): number {
  return mask.reduce((sum, value) => sum + value, 0) * mmPerBlock ** 2;
}

/** Bright enough for paper of its size beside the cards' white, and pale enough. */
export function couldBePaper(modes: readonly Mode[], white: number, areaMm2: number): boolean {
  const main = mainLook(modes);
  return (
    main.mean[0]! - white > (areaMm2 < DARKEST_PAPER.largeMm2 ? DARKEST_PAPER.small : DARKEST_PAPER.large) &&
    Math.abs(main.mean[1]!) < MAX_REDNESS &&
    main.mean[2]! < MAX_BLUENESS &&
    main.mean[2]! > MIN_BLUENESS
  );
}

/** Squared distance of every block to the nearest look of this paper and of the table. */
export interface Looks {
  readonly toPaper: Float32Array;
  readonly toTable: Float32Array;
}

export function looksOf(
  grid: BlockGrid,
  features: Float32Array,
  table: readonly Mode[],
  paper: readonly Mode[],
): Looks {
  const toPaper = new Float32Array(grid.usable.length);
  const toTable = new Float32Array(grid.usable.length);
  for (let i = 0; i < toPaper.length; i++) {
    if (grid.usable[i] === 0) continue;
    let nearestPaper = Number.POSITIVE_INFINITY;
    for (let k = 0; k < paper.length; k++)
      nearestPaper = Math.min(nearestPaper, squaredDistance(paper[k]!, features, i));
    let nearestTable = Number.POSITIVE_INFINITY;
    for (let k = 0; k < table.length; k++)
      nearestTable = Math.min(nearestTable, forgivingDistance(table[k]!, features, i));
    toPaper[i] = nearestPaper;
    toTable[i] = nearestTable;
  }
  return { toPaper, toTable };
}

/** The looks without those that are far more uneven than the main one: a reflection fades, paper does not. */
export function evenLooks(modes: readonly Mode[]): Mode[] {
  const main = mainLook(modes);
  const texture = FEATURES - 1;
  return modes.filter((mode) => mode.mean[texture]! - main.mean[texture]! < FADING_TEXTURE);
}

function mainLook(modes: readonly Mode[]): Mode {
  return modes.reduce((best, mode) => (mode.weight > best.weight ? mode : best), modes[0]!);
}

/**
 * The piece with its rim decided anew: blocks nearer to the paper's looks than to the table's, connected to it.
 * @param reach blocks of the piece further than this from the paper's looks are given up
 */
export function regrown(
  grid: BlockGrid,
  { toPaper, toTable }: Looks,
  mask: Uint8Array,
  taken: Uint8Array,
  reach: number,
): Uint8Array {
  const { width, height, mmPerBlock, usable } = grid;
  const around = grown(mask, width, height, GROW_MM / mmPerBlock);
  const next = new Uint8Array(mask.length);
  for (let i = 0; i < mask.length; i++) {
    if (around[i] === 0 || usable[i] === 0 || taken[i] === 1) continue;
    if (toPaper[i]! < toTable[i]! && toPaper[i]! < (mask[i] === 1 ? reach : PAPER_REACH)) next[i] = 1;
  }
  const cleaned = shrunk(grown(next, width, height, 1), width, height, 1);
  const parts = components(cleaned, width);
  const keep = new Set<number>();
  for (let i = 0; i < mask.length; i++) if (mask[i] === 1 && cleaned[i] === 1) keep.add(parts.label[i]!);
  return cleaned.map((value, i) => (value === 1 && keep.has(parts.label[i]!) ? 1 : 0));
}

/** How much each block looks like the paper rather than the table, 0-1. */
export function paperBelief(grid: BlockGrid, { toPaper, toTable }: Looks): Float32Array {
  const belief = new Float32Array(toPaper.length);
  for (let i = 0; i < belief.length; i++) {
    if (grid.usable[i] === 1) belief[i] = 1 / (1 + Math.exp((toPaper[i]! - toTable[i]!) / BELIEF_SOFTNESS));
  }
  return belief;
}

/** Things that are neither this paper nor table and touch the paper: weights, hands, rulers. */
export function coverBeside(
  grid: BlockGrid,
  features: Float32Array,
  fromTable: Float32Array,
  table: readonly Mode[],
  paper: readonly Mode[],
  mask: Uint8Array,
): Uint8Array {
  const { width, height, mmPerBlock } = grid;
  const odd = new Uint8Array(mask.length);
  const probe = new Float32Array(FEATURES);
  const main = mainLook(paper);
  for (let i = 0; i < mask.length; i++) {
    if (grid.usable[i] === 0 || fromTable[i]! <= SURELY_OTHER) continue;
    probe.set(features.subarray(i * FEATURES, (i + 1) * FEATURES));
    for (let f = 3; f < FEATURES; f++) probe[f] = main.mean[f]!;
    if (shadedDistance(paper, probe, 0) > COVER_DISTANCE) odd[i] = 1;
  }
  // mixed blocks along every edge are odd too; they are thin
  const solid = shrunk(odd, width, height, 2);
  const opened = grown(solid, width, height, 3).map((value, i) => (value === 1 && odd[i] === 1 ? 1 : 0));
  const parts = components(opened, width);
  const near = grown(mask, width, height, 3);
  const touching = new Set<number>();
  for (let i = 0; i < mask.length; i++) if (opened[i] === 1 && near[i] === 1) touching.add(parts.label[i]!);
  const minBlocks = MIN_COVER_MM2 / mmPerBlock ** 2;
  const boxes = boxesOf(parts, width, height, 0);
  for (const name of touching) {
    const { size, box } = boxes[name - 1]!;
    if (size < minBlocks || isLight(grid, table, parts, name, size) || !isThing(grid, parts, box, name))
      touching.delete(name);
  }
  return opened.map((value, i) => (value === 1 && touching.has(parts.label[i]!) ? 1 : 0));
}

/** The table in another light has the table's colour; a small grey thing on a grey table is still a thing. */
function isLight(grid: BlockGrid, table: readonly Mode[], { label }: Components, name: number, size: number): boolean {
  const mean = [0, 0, 0];
  for (let i = 0; i < label.length; i++) {
    if (label[i] !== name) continue;
    mean[0]! += grid.lightness[i]! / size;
    mean[1]! += grid.redness[i]! / size;
    mean[2]! += grid.blueness[i]! / size;
  }
  const isLarge = size * grid.mmPerBlock ** 2 > LIT_TABLE.grey.leastMm2;
  return table.some((mode) => {
    const colour = Math.hypot(mean[1]! - mode.mean[1]!, mean[2]! - mode.mean[2]!);
    const more = mean[0]! - mode.mean[0]!;
    if (colour > LIT_TABLE.colour || more < LIT_TABLE.darkest) return false;
    return isLarge || Math.hypot(mode.mean[1]!, mode.mean[2]!) > LIT_TABLE.grey.colour;
  });
}

/** A thing ends sharply; a reflection on the table fades. */
function isThing(grid: BlockGrid, parts: Components, box: GridBox, name: number): boolean {
  const mask = Uint8Array.from(croppedLabels(parts.label, grid.width, box), (label) => (label === name ? 1 : 0));
  return cellRim(grid, { mask, box }).sharpRatio > THING_SHARP;
}
