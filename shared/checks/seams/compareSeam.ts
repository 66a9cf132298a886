// What of a seam is compared, and how far beyond its band it lies: shared by the rules that judge the lengths of seams.

import { flattenRing } from '../../geometry/flatten.ts';
import { signedAreaMm2 } from '../../geometry/polygon.ts';
import { FRONT_EXTENSION, SEAM_RATIO, STRIP_WIDTH, UNDERLAP } from '../../limits/seamEase.ts';
import { bodySide, isBand, isCollar } from '../../pattern/kinds.ts';
import type { Length } from '../../pattern/measure.ts';
import type { JoinKind, PieceKind } from '../../pattern/model.ts';
import type { SeamSort } from '../../pattern/seamSort.ts';
import type { WalkedSide } from '../../pattern/spans.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import type { CheckContext } from '../context.ts';
import type { Gravity } from '../finding.ts';
import { type Decision, judgeInterval } from '../verdict.ts';
import { forcedGravity } from './forcedGravity.ts';
import { type Band, bandsOf } from './seamBands.ts';

export interface Comparison {
  readonly section: number | null;
  readonly band: Band;
  readonly lengths: readonly [Length, Length];
  readonly difference: Length;
}

/**
 * What is compared: each section, with the part of its difference that a shifted notch explains taken out, since that is
 * what `notch-shifted` reports.
 */
export function comparisonsOf(walk: SeamWalk, context: CheckContext): Comparison[] {
  return bandsOf(walk, context.limits).map(({ section, band }) => {
    if (section === null) return { section, band, lengths: walk.compared, difference: walk.difference };
    const { from, to, lengths, difference } = walk.sections[section]!;
    const explainedMm = (to.pair?.shiftMm ?? 0) - (from.pair?.shiftMm ?? 0);
    return { section, band, lengths, difference: { ...difference, valueMm: difference.valueMm - explainedMm } };
  });
}

export function decide({ band, difference }: Comparison): Decision {
  return judgeInterval(difference.valueMm, difference.sigmaMm, band.fromMm, band.toMm);
}

export function beyondMm({ band, difference }: Comparison): number {
  return Math.max(band.fromMm - difference.valueMm, difference.valueMm - band.toMm);
}

export function mostBeyond(comparisons: readonly Comparison[]): Comparison | null {
  return comparisons.toSorted((a, b) => beyondMm(b) - beyondMm(a))[0] ?? null;
}

/** Look while practice varies; stop where the excess cannot be pushed into the seam; otherwise mend. */
export function gravityOf(comparison: Comparison): Gravity {
  const { band, difference, lengths } = comparison;
  if (difference.valueMm >= band.lookFromMm && difference.valueMm <= band.lookToMm) return 'look';
  const excessMm = band.kind === 'even' ? Math.abs(difference.valueMm) : beyondMm(comparison);
  return forcedGravity(excessMm, Math.min(lengths[0].valueMm, lengths[1].valueMm));
}

/** A band that closes on itself, longer than its garment by an overlap's width, and no overlap entered. */
export function isMaybeUnderlap(walk: SeamWalk, worst: Comparison): boolean {
  const closes = walk.sides.map(({ spans }) => spans.every(({ piece }) => CLOSING_BANDS.includes(piece.kind)));
  if (closes[0] === closes[1] || walk.seam.overlapMm !== 0) return false;
  const excessMm = closes[0] ? -worst.difference.valueMm : worst.difference.valueMm;
  return excessMm >= UNDERLAP.fromMm && excessMm <= UNDERLAP.toMm;
}

/**
 * A proposed collar that is shorter than its neckline by what a front runs on beyond the centre: nobody has said yet that it
 * ends there.
 */
export function isMaybeToCentre({ seam, sides, sorted, basis }: SeamWalk, worst: Comparison): boolean {
  if (seam.status !== 'proposed' || sorted.sort !== 'collar') return false;
  const collar = sides.findIndex(({ spans }) => spans.every(({ piece }) => isCollar(piece.kind)));
  const opens = sides[collar === 1 ? 0 : 1].spans.some(
    ({ piece, shape }) => bodySide(piece) === 'front' && shape.ring.every(({ role }) => role !== 'fold'),
  );
  const shortMm = (collar === 1 ? -1 : 1) * worst.difference.valueMm * (basis === 'round' ? 1 / 2 : 1);
  return opens && shortMm >= FRONT_EXTENSION.fromMm && shortMm <= FRONT_EXTENSION.toMm;
}

const CLOSING_BANDS: readonly PieceKind[] = ['waistband', 'cuff', 'stand'];

export interface RatioCase {
  readonly range: { readonly fromRatio: number; readonly toRatio: number; readonly source: string };
  readonly fuller: 0 | 1;
  readonly bySection: boolean;
}

/**
 * Gathered joins are judged as a ratio; so is a strip that is stretched, elasticated or bound onto its edge, and a band of a
 * knit. Two wide pieces of which one is stretched a little to meet the other are not: their ease is a length.
 */
export function judgedAsRatio(walk: SeamWalk, context: CheckContext): RatioCase | null {
  const { join } = walk.seam;
  const bySection = walk.basis !== 'round';
  const [first, second] = walk.compared;
  if (join === 'gathered') {
    const isTurnedRound = first.valueMm >= SEAM_RATIO.gathered.fromRatio * second.valueMm;
    return { range: SEAM_RATIO.gathered, fuller: isTurnedRound ? 1 : 0, bySection };
  }
  const range = STRIP_RANGES[join];
  const mayBeKnitBand = context.set.preset.cloth === 'knit' && walk.sides.some(isBandSide);
  // Most seams are neither: which side is the strip is asked only where it matters.
  if (range === undefined && !mayBeKnitBand) return null;
  const strip = stripSide(walk);
  if (strip === null) return null;
  const asStrip = { fuller: strip === 1 ? 0 : 1, bySection: false } as const;
  if (range !== undefined) return { range, ...asStrip };
  const isKnitBand = isBandSide(walk.sides[strip]) && isShorterBand(walk, strip, context);
  return isKnitBand ? { range: SEAM_RATIO.band, ...asStrip } : null;
}

function isBandSide({ spans }: WalkedSide): boolean {
  return spans.every(({ piece }) => isBand(piece.kind));
}

/** The side that is a band or a strip: by its kind, else by being narrow, and the second where both are alike. */
function stripSide(walk: SeamWalk): 0 | 1 | null {
  if (PANEL_SEAMS.includes(walk.sorted.sort)) return null;
  const [first, second] = walk.sides.map(isBandSide);
  if (first !== second) return first ? 0 : 1;
  const [a, b] = [widthMm(walk.sides[0]), widthMm(walk.sides[1])];
  const isNarrow = [a, b].map((width) => width <= STRIP_WIDTH.toMm);
  if (isNarrow[0] !== isNarrow[1]) return isNarrow[0] ? 0 : 1;
  return isNarrow[1] ? 1 : null;
}

/** Width of the pieces of a side, square to the seam on average: their area by the length sewn. */
function widthMm({ spans, total }: WalkedSide): number {
  const shapes = new Set(spans.map(({ shape }) => shape));
  const areaMm2 = [...shapes].reduce((sum, { ring }) => {
    const polygon = flattenRing(
      ring.map(({ curve }) => curve),
      AREA_CHORD_MM,
    );
    return sum + Math.abs(signedAreaMm2(polygon));
  }, 0);
  return areaMm2 / total.valueMm;
}

/** A knit band of its edge's length is sewn evenly; a shorter one is stretched on. */
function isShorterBand(walk: SeamWalk, band: 0 | 1, context: CheckContext): boolean {
  const shortMm = band === 1 ? -walk.difference.valueMm : walk.difference.valueMm;
  return shortMm > context.limits.seam.valueMm;
}

/** Seams between the panels of a garment, of which neither is a strip however narrow it is. */
const PANEL_SEAMS: readonly SeamSort[] = ['cap', 'shoulder', 'princess', 'inseam', 'hindarm', 'forearm'];
/** Joins in which one side is a strip, and how long it may be against its edge. */
const STRIP_RANGES: Partial<Record<JoinKind, RatioCase['range']>> = {
  bound: SEAM_RATIO.binding,
  stretched: SEAM_RATIO.band,
  elasticated: SEAM_RATIO.band,
};
/** A width told to a few percent is enough to know a strip. */
const AREA_CHORD_MM = 1;
