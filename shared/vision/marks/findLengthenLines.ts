// Lengthen and shorten here: two straight lines side by side across the piece, or one alone, square to the grain. Cutting
// there changes a length without touching armholes, darts or hems.
import { type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import { dot, sub } from '../../geometry/vector.ts';
import { inLine, lineAngleDeg, moved } from '../ink/polyline.ts';
import type { TracedMark } from '../traced.ts';
import { crossesPiece, spanRatioOf } from './acrossPiece.ts';
import { endsOnFit, followsOutline } from './findGrainline.ts';
import { MARK_LIMITS } from './markLimits.ts';
import type { MarkLine } from './markLines.ts';
import type { OutlineIndex } from './outlineIndex.ts';

export type LengthenMark = Extract<TracedMark, { kind: 'lengthen-shorten' }>;

export interface FoundLengthen {
  readonly mark: LengthenMark;
  readonly lines: readonly MarkLine[];
}

interface Pair {
  readonly a: MarkLine;
  readonly b: MarkLine;
}

/**
 * @param lines mark lines that nothing else has claimed
 * @param grain direction of the grainline or of the fold; where the piece shows neither, lines over the short way of the
 * piece are believed
 */
export function findLengthenLines(
  lines: readonly MarkLine[],
  outline: OutlineIndex,
  grain: Point | null,
): FoundLengthen[] {
  const { lengthen, grainline } = MARK_LIMITS;
  const square = (line: MarkLine, slantDeg: number): boolean =>
    grain === null ? crossesPiece(line, outline) : lineAngleDeg(line.straight.direction, grain) >= 90 - slantDeg;
  const straight = lines.filter(
    (line) => line.lengthMm >= lengthen.leastMm && line.straight.rms <= grainline.straightMm,
  );
  const pairs = pairsOf(straight.filter((line) => square(line, lengthen.slantDeg))).filter(
    ({ a, b }) => ![a, b].some((line) => followsOutline(line, outline)),
  );
  if (pairs.length > 0) return pairs.map(({ a, b }) => ({ mark: markOf(a, b), lines: [a, b] }));
  const single = straight.filter(
    (line) => square(line, lengthen.singleSlantDeg) && spanRatioOf(line, outline) >= lengthen.spanRatio,
  );
  if (single.length !== 1 || hasCompanion(single[0]!, straight) || isHem(single[0]!, outline)) return [];
  return [{ mark: singleMark(single[0]!), lines: single }];
}

function pairsOf(lines: readonly MarkLine[]): Pair[] {
  const pairs: Pair[] = [];
  lines.forEach((a, i) => {
    for (const b of lines.slice(i + 1)) {
      if (runSideBySide(a, b)) pairs.push({ a, b });
    }
  });
  return pairs.filter((pair) => !pairs.some((other) => other !== pair && sharesLine(pair, other)));
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

/** Another line of about the same direction and length: one of several construction lines. */
function hasCompanion(line: MarkLine, lines: readonly MarkLine[]): boolean {
  const { companionRatio, companionDeg } = MARK_LIMITS.lengthen;
  return lines.some(
    (other) =>
      other !== line &&
      other.lengthMm >= companionRatio * line.lengthMm &&
      lineAngleDeg(other.straight.direction, line.straight.direction) <= companionDeg,
  );
}

const HEM_SAMPLES = 9;

/** A line that keeps its distance to one edge all along. */
function isHem(line: MarkLine, outline: OutlineIndex): boolean {
  const { hemMm, hemDriftMm } = MARK_LIMITS.lengthen;
  const [from, to] = endsOnFit(line);
  const away: number[] = [];
  // the ends lie nearer to the edges that the line runs into
  for (let k = 2; k + 2 < HEM_SAMPLES; k++) {
    const near = outline.nearest(moved(from, sub(to, from), k / (HEM_SAMPLES - 1)), hemMm);
    if (near === null) return false;
    away.push(near.insideMm);
  }
  return Math.max(...away) - Math.min(...away) <= hemDriftMm;
}

const PAIR_CONFIDENCE = 0.8;
const SINGLE_CONFIDENCE = 0.5;

function markOf(a: MarkLine, b: MarkLine): LengthenMark {
  const [fromA, toA] = endsOnFit(a);
  const [firstB, lastB] = endsOnFit(b);
  const same = dot(sub(toA, fromA), sub(lastB, firstB)) >= 0;
  const [fromB, toB] = same ? [firstB, lastB] : [lastB, firstB];
  const put = (p: Point, q: Point): TablePointMm => tableMm(...moved(p, sub(q, p), 0.5));
  return { kind: 'lengthen-shorten', from: put(fromA, fromB), to: put(toA, toB), confidence: PAIR_CONFIDENCE };
}

function singleMark(line: MarkLine): LengthenMark {
  const [from, to] = endsOnFit(line);
  return {
    kind: 'lengthen-shorten',
    from: tableMm(from[0], from[1]),
    to: tableMm(to[0], to[1]),
    confidence: SINGLE_CONFIDENCE,
  };
}
