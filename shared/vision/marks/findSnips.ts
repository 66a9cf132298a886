// Snips: short cuts from the paper's edge inward, thinner than a pixel as often as not. Found in the unrolled edge by a
// matched streak: a dip below the paper on both sides, through most of the depth, that ends before it is a line. The cut
// shows the table, or its own shadow: where the table is much lighter than the paper the streak is light instead.
import type { Photo } from '../image.ts';
import type { PlaneMap } from '../ink/planeMap.ts';
import { angleBetweenDeg } from '../ink/polyline.ts';
import { type EdgeBand, unrollEdge } from './edgeBand.ts';
import { MARK_LIMITS } from './markLimits.ts';
import type { OutlineIndex } from './outlineIndex.ts';

export interface EdgeStreak {
  /** Where the streak meets the outline, running length. */
  readonly atMm: number;
  readonly slantDeg: number;
  /** Share of the paper's level. */
  readonly dipRatio: number;
  readonly score: number;
}

const ROW_MM = 0.3;
/** The paper beside a streak: mean over this to each side, without the streak itself. */
const PAPER_FROM_MM = 1;
const PAPER_TO_MM = 3.5;
/** Dip at depth, share of the snip's own, that says it goes on. */
const GOES_ON_RATIO = 0.5;
/** Streaks nearer than this are one. */
const APART_MM = 2.4;

/** @param explained whether something else that was read makes a streak at a place: a tick, a line, a cut triangle */
export function findSnips(
  photo: Photo,
  plane: PlaneMap,
  outline: OutlineIndex,
  explained: (atMm: number) => boolean,
): EdgeStreak[] {
  const { snip } = MARK_LIMITS;
  const band = unrollEdge(photo, plane, outline, {
    fromMm: -TABLE_TO_MM,
    toMm: snip.beyondMm[snip.beyondMm.length - 1]! + ROW_MM,
    alongMm: snip.pitchMm,
    acrossMm: ROW_MM,
  });
  const dips = dipsOf(band);
  const streaks = snip.slantsDeg.map((slantDeg) => streakStrength(band, dips, slantDeg));
  const best = new Float32Array(band.columns);
  const bestSlant = new Int8Array(band.columns);
  for (let c = 0; c < band.columns; c++)
    streaks.forEach((strength, s) => {
      if (strength[c]! > best[c]!) {
        best[c] = strength[c]!;
        bestSlant[c] = s;
      }
    });
  const scatter = Math.max(LEAST_SCATTER, 1.48 * median(best.map(Math.abs)));
  const found: EdgeStreak[] = [];
  const peaks = peaksOf(best, Math.round(APART_MM / band.alongMm)).filter((c) => !explained(c * band.alongMm));
  const clutter =
    Float32Array.from(peaks, (c) => best[c]!)
      .sort()
      .at(-1 - snip.notchesAtMost) ?? 0;
  const leastDip = Math.min(snip.surelyDipRatio, Math.max(snip.leastDipRatio, snip.clutterFactor * clutter));
  for (const c of peaks) {
    const dipRatio = best[c]!;
    const score = dipRatio / scatter;
    const slantDeg = snip.slantsDeg[bestSlant[c]!]!;
    if (score < snip.leastScore || dipRatio < leastDip) continue;
    if (nearCorner(outline, c * band.alongMm)) continue;
    if (goesOn(band, dips, c, slantDeg, dipRatio)) continue;
    found.push({ atMm: footColumn(band, dips, c, slantDeg) * band.alongMm, slantDeg, dipRatio, score });
  }
  return found;
}

/** Scatter of plain paper after JPEG, share of its level: found on rendered photos. */
const LEAST_SCATTER = 0.004;

/** Table beside the edge, clear of the paper's shadow and of the edge's blur. */
const TABLE_FROM_MM = 1;
const TABLE_TO_MM = 2.8;
const PAPER_DEPTHS_MM = [1.5, 4] as const;
/** Columns over which both are averaged, to each side. */
const LEVEL_REACH_MM = 3;

/** Table over paper beside the edge at each column. */
function tableOverPaper(band: EdgeBand): Float32Array {
  const table = meanAlong(band, -TABLE_TO_MM, -TABLE_FROM_MM);
  const paper = meanAlong(band, ...PAPER_DEPTHS_MM);
  return table.map((level, c) => level / Math.max(1, paper[c]!));
}

/** Mean level between two depths over the columns around each one. */
function meanAlong(band: EdgeBand, fromMm: number, toMm: number): Float32Array {
  const { columns, rows, levels } = band;
  const first = Math.max(0, Math.ceil((fromMm - band.fromMm) / band.acrossMm));
  const last = Math.min(rows - 1, Math.floor((toMm - band.fromMm) / band.acrossMm));
  const means = new Float64Array(columns);
  for (let c = 0; c < columns; c++)
    for (let r = first; r <= last; r++) means[c]! += levels[c * rows + r]! / (last - first + 1);
  const reach = Math.min(Math.round(LEVEL_REACH_MM / band.alongMm), (columns - 1) >> 1);
  let sum = 0;
  for (let k = -reach; k <= reach; k++) sum += means[(k + columns) % columns]!;
  return Float32Array.from(means, (_, c) => {
    const mean = sum / (2 * reach + 1);
    sum += means[(c + reach + 1) % columns]! - means[(c - reach + columns) % columns]!;
    return mean;
  });
}

/**
 * For each sample how far it lies off the paper on both sides, to the side that a cut does there, share of the paper's
 * level; column by column.
 */
function dipsOf(band: EdgeBand): Float32Array {
  const { columns, rows, levels, alongMm } = band;
  const { lighterTableRatio } = MARK_LIMITS.snip;
  const light = tableOverPaper(band).map((ratio) => (ratio > lighterTableRatio ? 1 : 0));
  const from = Math.round(PAPER_FROM_MM / alongMm);
  const count = Math.round((PAPER_TO_MM - PAPER_FROM_MM) / alongMm) + 1;
  const dips = new Float32Array(levels.length);
  const ahead = new Float64Array(columns);
  for (let r = 0; r < rows; r++) {
    // running mean over the window that begins `from` columns ahead
    let sum = 0;
    for (let k = 0; k < count; k++) sum += levels[((from + k) % columns) * rows + r]!;
    for (let c = 0; c < columns; c++) {
      ahead[c] = sum / count;
      sum += levels[((c + from + count) % columns) * rows + r]! - levels[((c + from) % columns) * rows + r]!;
    }
    for (let c = 0; c < columns; c++) {
      const behind = ahead[(c + 2 * columns - 2 * from - count + 1) % columns]!;
      const level = levels[c * rows + r]!;
      const paper = light[c] === 1 ? Math.max(ahead[c]!, behind) : Math.min(ahead[c]!, behind);
      dips[c * rows + r] = (light[c] === 1 ? level - paper : paper - level) / Math.max(1, paper);
    }
  }
  return dips;
}

/**
 * Strength of a streak with a slant that meets the edge at each column: the second weakest part of its depth, and nothing
 * where it does not begin at the edge.
 */
function streakStrength(band: EdgeBand, dips: Float32Array, slantDeg: number): Float32Array {
  const { partsMm, mouthRatio } = MARK_LIMITS.snip;
  const strength = new Float32Array(band.columns);
  for (let c = 0; c < band.columns; c++) {
    let weakest = Number.POSITIVE_INFINITY;
    let second = Number.POSITIVE_INFINITY;
    let strongest = 0;
    let mouth = 0;
    for (let k = 0; k + 1 < partsMm.length; k++) {
      const dip = meanDip(band, dips, c, slantDeg, partsMm[k]!, partsMm[k + 1]!);
      if (k === 0) mouth = dip;
      strongest = Math.max(strongest, dip);
      if (dip < weakest) {
        second = weakest;
        weakest = dip;
      } else if (dip < second) second = dip;
    }
    strength[c] = mouth < mouthRatio * strongest ? 0 : second;
  }
  return strength;
}

function meanDip(
  band: EdgeBand,
  dips: Float32Array,
  column: number,
  slantDeg: number,
  fromMm: number,
  toMm: number,
): number {
  const lean = Math.tan((slantDeg * Math.PI) / 180) / band.alongMm;
  let sum = 0;
  let count = 0;
  for (let r = Math.ceil((fromMm - band.fromMm) / band.acrossMm); band.fromMm + r * band.acrossMm < toMm; r++) {
    const depthMm = band.fromMm + r * band.acrossMm;
    const c = Math.round(column + lean * depthMm);
    const wrapped = ((c % band.columns) + band.columns) % band.columns;
    sum += dips[wrapped * band.rows + r]!;
    count++;
  }
  return sum / Math.max(1, count);
}

/** Dark all the way to where no snip reaches: a line. One dark spot there is a printed dot. */
function goesOn(band: EdgeBand, dips: Float32Array, column: number, slantDeg: number, dipRatio: number): boolean {
  const { beyondMm } = MARK_LIMITS.snip;
  for (let k = 0; k + 1 < beyondMm.length; k++) {
    let deepest = 0;
    for (let side = -3; side <= 3; side++)
      deepest = Math.max(deepest, meanDip(band, dips, column + side, slantDeg, beyondMm[k]!, beyondMm[k + 1]!));
    if (deepest <= GOES_ON_RATIO * dipRatio) return false;
  }
  return true;
}

function peaksOf(values: Float32Array, apart: number): number[] {
  const n = values.length;
  const peaks: number[] = [];
  for (let i = 0; i < n; i++) {
    let greatest = values[i]! > 0;
    for (let k = 1; k <= apart && greatest; k++)
      if (values[(i + k) % n]! > values[i]! || values[(i + n - k) % n]! >= values[i]!) greatest = false;
    if (greatest) peaks.push(i);
  }
  return peaks;
}

/** Scissors cut square within about this: keeps a short streak from aiming astray. */
const SLANT_SIGMA_DEG = 8;
/** Scatter of a streak's place in one part of its depth. */
const PLACE_SIGMA_MM = 0.12;
const SEARCH_MM = 1;

/** Column where the streak meets the edge: a line through its places at each depth, held toward square. */
function footColumn(band: EdgeBand, dips: Float32Array, column: number, slantDeg: number): number {
  const { partsMm } = MARK_LIMITS.snip;
  const lean = Math.tan((slantDeg * Math.PI) / 180) / band.alongMm;
  const reach = Math.round(SEARCH_MM / band.alongMm);
  let [w, wd, wdd, wx, wdx] = [0, 0, 0, 0, 0];
  for (let k = 0; k + 1 < partsMm.length; k++) {
    const depthMm = (partsMm[k]! + partsMm[k + 1]!) / 2;
    const straightDown = Float32Array.from({ length: 2 * reach + 1 }, (_, i) =>
      meanDip(band, dips, Math.round(column + lean * depthMm) + i - reach, 0, partsMm[k]!, partsMm[k + 1]!),
    );
    let peak = 0;
    for (let i = 1; i < straightDown.length; i++) if (straightDown[i]! > straightDown[peak]!) peak = i;
    const dip = straightDown[peak]!;
    if (dip <= 0 || peak === 0 || peak === straightDown.length - 1) continue;
    const place = Math.round(column + lean * depthMm) + peak - reach + parabolaOffset(straightDown, peak) - column;
    const placeMm = place * band.alongMm;
    w += dip;
    wd += dip * depthMm;
    wdd += dip * depthMm * depthMm;
    wx += dip * placeMm;
    wdx += dip * depthMm * placeMm;
  }
  if (w === 0) return column;
  const slopeSigma = Math.tan((SLANT_SIGMA_DEG * Math.PI) / 180);
  const prior = ((w / (partsMm.length - 1)) * PLACE_SIGMA_MM ** 2) / slopeSigma ** 2;
  const spread = wdd - (wd * wd) / w + prior;
  const slope = (wdx - (wd * wx) / w) / spread;
  return column + (wx - slope * wd) / w / band.alongMm;
}

function parabolaOffset(values: Float32Array, i: number): number {
  const n = values.length;
  const a = values[(i + n - 1) % n]!;
  const b = values[i]!;
  const c = values[(i + 1) % n]!;
  const bend = a - 2 * b + c;
  return bend >= 0 ? 0 : Math.max(-0.5, Math.min(0.5, (a - c) / (2 * bend)));
}

function nearCorner(outline: OutlineIndex, atMm: number): boolean {
  const { cornerMm, cornerDeg } = MARK_LIMITS.snip;
  const before = outline.placeAt(atMm - cornerMm).along;
  const after = outline.placeAt(atMm + cornerMm).along;
  return angleBetweenDeg(before, after) > cornerDeg;
}

function median(values: Float32Array): number {
  return values.toSorted()[values.length >> 1] ?? 0;
}
