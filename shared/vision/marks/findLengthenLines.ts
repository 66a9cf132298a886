// Lengthen and shorten here: two straight lines side by side across the piece, square to the grain. Cutting there changes a
// length without touching armholes, darts or hems.
import { type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import { dot, sub } from '../../geometry/vector.ts';
import { inLine, lineAngleDeg, moved } from '../ink/polyline.ts';
import type { TracedMark } from '../traced.ts';
import { endsOnFit, followsOutline } from './findGrainline.ts';
import { MARK_LIMITS } from './markLimits.ts';
import type { MarkLine } from './markLines.ts';
import type { OutlineIndex } from './outlineIndex.ts';

export type LengthenMark = Extract<TracedMark, { kind: 'lengthen-shorten' }>;

export interface FoundLengthen {
  readonly mark: LengthenMark;
  readonly lines: readonly [MarkLine, MarkLine];
}

interface Pair {
  readonly a: MarkLine;
  readonly b: MarkLine;
}

/**
 * @param lines mark lines that nothing else has claimed
 * @param grain direction of the grainline or of the fold; null when the piece shows neither, and then no pair is believed
 */
export function findLengthenLines(
  lines: readonly MarkLine[],
  outline: OutlineIndex,
  grain: Point | null,
): FoundLengthen[] {
  if (grain === null) return [];
  const { lengthen, grainline } = MARK_LIMITS;
  const long = lines.filter(
    (line) =>
      line.lengthMm >= lengthen.leastMm &&
      line.straight.rms <= grainline.straightMm &&
      lineAngleDeg(line.straight.direction, grain) >= 90 - lengthen.slantDeg,
  );
  const pairs: Pair[] = [];
  long.forEach((a, i) => {
    for (const b of long.slice(i + 1)) {
      if (runSideBySide(a, b)) pairs.push({ a, b });
    }
  });
  return pairs
    .filter((pair) => !pairs.some((other) => other !== pair && sharesLine(pair, other)))
    .filter(({ a, b }) => ![a, b].some((line) => followsOutline(line, outline)))
    .map(({ a, b }) => ({ mark: markOf(a, b), lines: [a, b] }));
}

function runSideBySide(a: MarkLine, b: MarkLine): boolean {
  const { lengthen } = MARK_LIMITS;
  if (lineAngleDeg(a.straight.direction, b.straight.direction) > lengthen.parallelDeg) return false;
  const apartMm = Math.abs(inLine(a.straight, b.straight.centre).across);
  if (apartMm < lengthen.apartLeastMm || apartMm > lengthen.apartMostMm) return false;
  const spanB = b.points.map((p) => inLine(a.straight, p).along);
  const spanA = a.points.map((p) => inLine(a.straight, p).along);
  const commonMm = Math.min(Math.max(...spanA), Math.max(...spanB)) - Math.max(Math.min(...spanA), Math.min(...spanB));
  return commonMm >= lengthen.commonRatio * Math.max(a.lengthMm, b.lengthMm);
}

/** A third line beside the two: stripes, a printed grid, rows of stitching. */
function sharesLine(pair: Pair, other: Pair): boolean {
  return [pair.a, pair.b].some((line) => line === other.a || line === other.b);
}

const PAIR_CONFIDENCE = 0.8;

function markOf(a: MarkLine, b: MarkLine): LengthenMark {
  const [fromA, toA] = endsOnFit(a);
  const [firstB, lastB] = endsOnFit(b);
  const same = dot(sub(toA, fromA), sub(lastB, firstB)) >= 0;
  const [fromB, toB] = same ? [firstB, lastB] : [lastB, firstB];
  const put = (p: Point, q: Point): TablePointMm => tableMm(...moved(p, sub(q, p), 0.5));
  return { kind: 'lengthen-shorten', from: put(fromA, fromB), to: put(toA, toB), confidence: PAIR_CONFIDENCE };
}
