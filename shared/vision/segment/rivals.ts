// Two witnesses look for paper: what differs from the table's look, and even areas that end in one sharp step. Says which
// of them draws a piece that both saw; and that nobody is sure of an outline where the other one drew it elsewhere, or saw
// no piece at all.
import type { Point } from '../../base/points.ts';
import { segmentIndex } from '../../geometry/segmentIndex.ts';
import { type CoarseOutline, DOUBTED, SEEN } from '../outline/coarseOutline.ts';
import type { GridBox } from './cropGrid.ts';

/** Blocks of a grid, in their box. */
export interface Area {
  readonly mask: Uint8Array;
  readonly box: GridBox;
}

const RIVALRY = {
  /** Two areas that share this much of the smaller are about the same paper; this much of both, they are the same area. */
  sameGround: 0.1,
  sameArea: 0.97,
  /** Things lying over the edge make differences as small as this of both. */
  nearlySame: 0.9,
  /** An area that lies by this share in a much larger one is a part of it. */
  partOf: 0.9,
  /** Table lies between two papers: where two regions have so many blocks this near to one another, light parts them. */
  touchingBlocks: 2,
  fewestTouching: 10,
} as const;

/** Two outlines of one piece are the same where they are nowhere apart by more than this over more than a notch is long. */
const SAME_LINE = { apartMm: 2.5, notchMm: 14 } as const;

/** Lines this near to one another, over more than a notch is long, have no table between them. */
const TOGETHER = { nearMm: 5, leastMm: 14 } as const;

/** What two areas share: of the one, of the other, and of both together. */
interface Shares {
  readonly ofOne: number;
  readonly ofOther: number;
  readonly ofBoth: number;
}

export function shareGround(one: Area, other: Area): boolean {
  const { ofOne, ofOther } = sharedBlocks(one, other);
  return Math.max(ofOne, ofOther) > RIVALRY.sameGround;
}

/**
 * True when an even area with a proven rim takes the place of the regions that it shares ground with. A region gives way to the area that it is
 * a part of (light cut it off), and when its own rim proves nothing (a reflection was added to it). It stands against a part of
 * itself (a ruler lies across) and against anything else when its rim is proven; and two proven regions with table between
 * them are two papers.
 */
export function takesOver<Region extends Area>(
  area: Area,
  regions: readonly Region[],
  isProven: (region: Region) => boolean,
): boolean {
  const parts = regions.filter((region) => isPartOf(region, area));
  if (parts.length > 1) return papersAmong(parts.filter(isProven)) < 2;
  if (regions.length === 1 && sharedBlocks(regions[0]!, area).ofBoth > RIVALRY.sameArea) return false;
  return regions.every((region) => parts.includes(region) || !isProven(region));
}

/** Regions that lie against one another count as one. */
function papersAmong(regions: readonly Area[]): number {
  return regions.filter((one, i) => !regions.slice(0, i).some((other) => lieTogether(one, other))).length;
}

function lieTogether(one: Area, other: Area): boolean {
  const { touchingBlocks: reach, fewestTouching } = RIVALRY;
  let touching = 0;
  for (let y = 0; y < one.box.height; y++)
    for (let x = 0; x < one.box.width; x++) {
      if (one.mask[y * one.box.width + x] === 1 && hasBlockNear(other, one.box.x0 + x, one.box.y0 + y, reach))
        touching++;
    }
  return touching >= fewestTouching;
}

/** Whether an area has a block no farther from a place of the grid, along both axes. */
function hasBlockNear({ mask, box }: Area, x: number, y: number, reach: number): boolean {
  for (let oy = Math.max(0, y - reach - box.y0); oy <= Math.min(box.height - 1, y + reach - box.y0); oy++)
    for (let ox = Math.max(0, x - reach - box.x0); ox <= Math.min(box.width - 1, x + reach - box.x0); ox++) {
      if (mask[oy * box.width + ox] === 1) return true;
    }
  return false;
}

function isPartOf(one: Area, other: Area): boolean {
  const { ofOne, ofOther, ofBoth } = sharedBlocks(one, other);
  return ofOne > RIVALRY.partOf && ofOne > ofOther && ofBoth < RIVALRY.nearlySame;
}

/** The outline with what none of the others confirms called doubted; all of it when there is no other. */
export function confirmed(outline: CoarseOutline, others: readonly (readonly Point[])[]): CoarseOutline {
  return doubtedAt(outline, apartFrom(outline, others));
}

/** Two outlines of one piece are the same but for notches. */
export function sameLine(outline: CoarseOutline, other: readonly Point[]): boolean {
  return !apartFrom(outline, [other]).includes(1);
}

/**
 * The outline called doubted along others that lie against it: papers have table between them, so it may be one paper parted by a
 * line of light or shade, or one lying on another.
 */
export function parted(outline: CoarseOutline, others: readonly (readonly Point[])[]): CoarseOutline {
  const near = nearAny(outline, others, TOGETHER.nearMm);
  const along = near.map((isNear, i) => (isNear === 1 && outline.state[i] === SEEN ? 1 : 0));
  dropShortRuns(along, outline.polygon, TOGETHER.leastMm);
  return doubtedAt(outline, along);
}

function doubtedAt({ polygon, state }: CoarseOutline, flags: Uint8Array): CoarseOutline {
  return { polygon, state: state.map((known, i) => (flags[i] === 1 ? DOUBTED : known)) };
}

/** 1 where the seen outline runs apart from every other one over more than a notch. */
function apartFrom(outline: CoarseOutline, others: readonly (readonly Point[])[]): Uint8Array {
  const near = nearAny(outline, others, SAME_LINE.apartMm);
  const off = near.map((isNear, i) => (isNear === 0 && outline.state[i] === SEEN ? 1 : 0));
  dropShortRuns(off, outline.polygon, SAME_LINE.notchMm);
  return off;
}

/** 1 where a point lies near any of the other lines. */
function nearAny({ polygon }: CoarseOutline, others: readonly (readonly Point[])[], withinMm: number): Uint8Array {
  const { nearest } = segmentIndex(others.map((points) => ({ points, closed: true })));
  return Uint8Array.from(polygon, (at) => (nearest(at, withinMm) === null ? 0 : 1));
}

/** Clears runs of ones along a closed line that are no longer than this; a line of ones all round stays. */
function dropShortRuns(flags: Uint8Array, polygon: readonly Point[], mostMm: number): void {
  const n = polygon.length;
  const start = flags.indexOf(0);
  if (start < 0) return;
  let from = 0;
  let lengthMm = 0;
  for (let k = 1; k <= n; k++) {
    const [before, at] = [polygon[(start + k - 1) % n]!, polygon[(start + k) % n]!];
    if (flags[(start + k) % n] === 1) {
      lengthMm += Math.hypot(at[0] - before[0], at[1] - before[1]);
      continue;
    }
    if (lengthMm <= mostMm) for (let j = from + 1; j < k; j++) flags[(start + j) % n] = 0;
    from = k;
    lengthMm = 0;
  }
}

function sharedBlocks(one: Area, other: Area): Shares {
  let shared = 0;
  let own = 0;
  let others = 0;
  for (const value of other.mask) others += value;
  for (let y = 0, i = 0; y < one.box.height; y++) {
    for (let x = 0; x < one.box.width; x++, i++) {
      if (one.mask[i] === 0) continue;
      own++;
      const ox = one.box.x0 + x - other.box.x0;
      const oy = one.box.y0 + y - other.box.y0;
      if (ox < 0 || oy < 0 || ox >= other.box.width || oy >= other.box.height) continue;
      shared += other.mask[oy * other.box.width + ox]!;
    }
  }
  return {
    ofOne: shared / Math.max(1, own),
    ofOther: shared / Math.max(1, others),
    ofBoth: shared / Math.max(1, own + others - shared),
  };
}
