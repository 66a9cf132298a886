// What the table looks like, learnt from where it must show: a ring around each card and the rim of the photo. The ring
// is trusted more: a piece may run out of the photo, and then the rim shows paper.
import type { Point } from '../../base/points.ts';
import type { BlockGrid } from './blockGrid.ts';
import { components, distanceToSet, grown } from './maskOps.ts';
import { fitMixture, type Mode, nearestMode, shadedDistance } from './mixture.ts';

/** The ring around a card; the first millimetres hold the card's own shadow and its cutting error. */
const RING_FROM_MM = 4;
const RING_TO_MM = 22;
const RIM_MM = 18;
const MODES = 7;
const MAX_SAMPLES = 4000;
/** A rim block further than this from everything seen around the cards is of another kind. */
const OTHER_KIND_DISTANCE = 40;
/** Another kind along the rim is table too (floor, a second cloth) when it takes this share of the rim without cards. */
const LONE_RIM_SHARE = 0.12;
/** With cards, a foreign kind needs this share of the rim: more than one piece running out of the picture takes. */
const CARDED_RIM_SHARE = 0.35;

/** A look that most of the rings have is table. */
const MAIN_SHARE = 0.4;
/** A look of the rings that the rim shows this much more rarely is something lying beside a card. */
const STRAY_RATIO = 0.05;
/** Table goes on under a card, so chance alone shows a look on opposite sides of it; a look that is seen so by less than this share
 * of what chance would give lies beside the cards. Rarer looks than make this many blocks by chance cannot be judged. */
const OPPOSITE = { share: 0.2, leastBlocks: 10 } as const;
/** Other light changes the colour of a table (log ratios) by no more than this; and white that is brighter than the cards by
 * more than this (log light) is no paper but lies in the sun. */
const LIT = { colour: 0.2, brightest: Math.log(1.25) } as const;

/**
 * Modes of the table's surface; empty when nothing of it can be seen.
 * @param white log lightness of the cards' white
 */
export function tableModel(grid: BlockGrid, features: Float32Array, white: number): Mode[] {
  const { width, height, usable, card, outside, mmPerBlock } = grid;
  const toCard = distanceToSet(card, width, height);
  const toRim = distanceToSet(rimMask(outside, width, height), width, height);
  const ring: number[] = [];
  const rim: number[] = [];
  for (let i = 0; i < usable.length; i++) {
    if (usable[i] === 0) continue;
    const cardMm = toCard[i]! * mmPerBlock;
    if (cardMm >= RING_FROM_MM && cardMm <= RING_TO_MM) ring.push(i);
    else if (cardMm > RING_TO_MM && toRim[i]! * mmPerBlock <= RIM_MM) rim.push(i);
  }
  const around = fitMixture(features, thinned(ring), MODES);
  if (rim.length === 0) return around;
  const kin: number[] = [];
  const foreign: number[] = [];
  for (const row of rim) {
    (around.length > 0 && shadedDistance(around, features, row) > OTHER_KIND_DISTANCE ? foreign : kin).push(row);
  }
  if (around.length === 0) return modesOfShare(features, rim, LONE_RIM_SHARE);
  const modes = fitMixture(features, thinned([...ring, ...kin]), MODES);
  const looks = looksAt(modes, features, ring, usable.length);
  const inRing = shares(modes, looks, ring);
  const atRim = shares(modes, looksAt(modes, features, kin, usable.length), kin).map(
    (share) => (share * kin.length) / rim.length,
  );
  const isBeside = oneSided(grid, modes, looks, ring, white);
  const own = modes.filter((mode, k) => {
    // what only the rings show is paper beside a card, or the page on which the cards still are; what no card has around
    // it is paper beside a card that runs out of the photo
    const stray = atRim[k]! < STRAY_RATIO * inRing[k]! || isBeside[k]!;
    return !stray || (inRing[k]! > MAIN_SHARE && !isCardWhite(mode, white));
  });
  if (foreign.length < rim.length * CARDED_RIM_SHARE) return own.length > 0 ? own : modes;
  return [...own, ...fitMixture(features, thinned(foreign), 3)];
}

/** What white may lose in the light of a room: brightness as a logarithm, then a cast of redness and of blueness. */
const CARD_WHITE = { darkest: Math.log(0.75), redness: 0.12, blueness: 0.3 } as const;

/** As light as the cards' white and without colour. */
export function isCardWhite({ mean }: Mode, white: number): boolean {
  const { darkest, redness, blueness } = CARD_WHITE;
  return mean[0]! - white > darkest && Math.abs(mean[1]!) < redness && Math.abs(mean[2]!) < blueness;
}

/** Which modes lie to one side of the cards only and are no lit or shaded part of what goes on under them. */
function oneSided(
  grid: BlockGrid,
  modes: readonly Mode[],
  look: Int8Array,
  ring: readonly number[],
  white: number,
): boolean[] {
  const { width, height, card } = grid;
  const middles = middlesOf(card, width);
  const faced = modes.map(() => 0);
  const alike = modes.map(() => 0);
  for (const row of ring) {
    const [x, y] = [row % width, Math.floor(row / width)];
    const away = middles.map(([mx, my]) => Math.hypot(mx - x, my - y));
    const [mx, my] = middles[away.indexOf(Math.min(...away))]!;
    const [ox, oy] = [Math.round(2 * mx - x), Math.round(2 * my - y)];
    const other = ox < 0 || oy < 0 || ox >= width || oy >= height ? -1 : look[oy * width + ox]!;
    if (other < 0) continue;
    faced[look[row]!]!++;
    if (other === look[row]) alike[look[row]!]!++;
  }
  const allFaced = faced.reduce((sum, n) => sum + n, 0);
  const isUnder = modes.map((_, k) => {
    const byChance = (faced[k]! * faced[k]!) / Math.max(1, allFaced);
    return byChance < OPPOSITE.leastBlocks || alike[k]! >= OPPOSITE.share * byChance;
  });
  const under = modes.filter((_, k) => isUnder[k]);
  return modes.map((mode, k) => {
    if (isUnder[k] || under.length === 0) return false;
    const [light, redness, blueness] = [mode.mean[0]!, mode.mean[1]!, mode.mean[2]!];
    const isSameColour = under.some(({ mean }) => Math.hypot(mean[1]! - redness, mean[2]! - blueness) < LIT.colour);
    return !isSameColour || (isCardWhite(mode, white) && light - white < LIT.brightest);
  });
}

/** Middle of every card, in blocks. */
function middlesOf(card: Uint8Array, width: number): Point[] {
  const { label, size } = components(card, width);
  const x = size.map(() => 0);
  const y = size.map(() => 0);
  for (let i = 0; i < card.length; i++) {
    if (card[i] === 0) continue;
    x[label[i]!]! += i % width;
    y[label[i]!]! += Math.floor(i / width);
  }
  return size.flatMap((n, k): Point[] => (k === 0 || n === 0 ? [] : [[x[k]! / n, y[k]! / n]]));
}

/** The nearest mode of every one of the rows, -1 for all others. */
function looksAt(modes: readonly Mode[], features: Float32Array, rows: readonly number[], count: number): Int8Array {
  const looks = new Int8Array(count).fill(-1);
  for (const row of rows) looks[row] = nearestMode(modes, features, row);
  return looks;
}

/** Share of the rows that have each look. */
function shares(modes: readonly Mode[], looks: Int8Array, rows: readonly number[]): number[] {
  const counts = modes.map(() => 0);
  for (const row of rows) counts[looks[row]!]!++;
  return counts.map((count) => count / Math.max(1, rows.length));
}

function modesOfShare(features: Float32Array, rows: readonly number[], share: number): Mode[] {
  const modes = fitMixture(features, thinned(rows), MODES);
  const large = modes.filter((mode) => mode.weight >= share);
  return large.length > 0 ? large : modes;
}

function thinned(rows: readonly number[]): readonly number[] {
  const step = Math.ceil(rows.length / MAX_SAMPLES);
  return step <= 1 ? rows : rows.filter((_, i) => i % step === 0);
}

/** Blocks outside the photo, and a frame of one block around the grid. */
function rimMask(outside: Uint8Array, width: number, height: number): Uint8Array {
  const mask = outside.slice();
  for (let x = 0; x < width; x++) {
    mask[x] = 1;
    mask[(height - 1) * width + x] = 1;
  }
  for (let y = 0; y < height; y++) {
    mask[y * width] = 1;
    mask[y * width + width - 1] = 1;
  }
  return mask;
}

/** True for blocks within `reachMm` of the end of the photo. */
export function nearRim(grid: BlockGrid, reachMm: number): Uint8Array {
  return grown(rimMask(grid.outside, grid.width, grid.height), grid.width, grid.height, reachMm / grid.mmPerBlock);
}

/** Largest connected part of a mask, or an empty mask. */
export function largestPart(mask: Uint8Array, width: number): Uint8Array {
  const parts = components(mask, width);
  let best = 0;
  for (let k = 1; k < parts.size.length; k++) if (best === 0 || parts.size[k]! > parts.size[best]!) best = k;
  return mask.map((value, i) => (value === 1 && parts.label[i] === best ? 1 : 0));
}
