// Stage: the marks of one piece. Long lines are read first (fold bracket, darts, grainline), so that their ends and dashes
// are not taken for notches; what is left at the outline are notches, what stands alone inside are drill holes.
import type { Point, TablePointMm } from '../../base/points.ts';
import { distance, sub } from '../../geometry/vector.ts';
import type { Photo } from '../image.ts';
import type { InkLine } from '../ink/inkLines.ts';
import type { PlaneMap } from '../ink/planeMap.ts';
import { findDarts } from '../marks/findDarts.ts';
import { findDrawnTriangles } from '../marks/findDrawnTriangles.ts';
import { type FoundFold, findFold } from '../marks/findFold.ts';
import { findGrainline, type GrainlineMark } from '../marks/findGrainline.ts';
import { findHoles } from '../marks/findHoles.ts';
import { findLengthenLines } from '../marks/findLengthenLines.ts';
import { findSnips } from '../marks/findSnips.ts';
import { findTicks } from '../marks/findTicks.ts';
import { findWedges } from '../marks/findWedges.ts';
import { groupNotches, type SingleNotch } from '../marks/groupNotches.ts';
import { inkedWay } from '../marks/inkProbe.ts';
import { isCut } from '../marks/isCut.ts';
import { MARK_LIMITS } from '../marks/markLimits.ts';
import { type MarkLine, markLines, mergedStraight } from '../marks/markLines.ts';
import { OutlineIndex } from '../marks/outlineIndex.ts';
import { isPrint } from '../marks/printedPaper.ts';
import { hasPaperlikeSpots } from '../marks/tableSpots.ts';
import type { Excursion } from '../outline/findExcursions.ts';
import type { TracedMark } from '../traced.ts';

/** A piece whose outline is known, as far as its marks depend on it. */
export interface OutlinedPiece {
  /** Closed, last point not repeated. */
  readonly outline: readonly TablePointMm[];
  readonly line: 'paper-edge' | 'drawn-line';
  /** Dents and bumps that were bridged in the outline; empty for a drawn line. */
  readonly excursions: readonly Excursion[];
}

/** @param lines every pen line of the photo (findInkLines) */
export function readMarks(
  photo: Photo,
  plane: PlaneMap,
  lines: readonly InkLine[],
  piece: OutlinedPiece,
): TracedMark[] {
  const outline = new OutlineIndex(piece.outline);
  const outsideMm = piece.line === 'drawn-line' ? MARK_LIMITS.outsideMm : 0;
  const inside = mergedStraight(markLines(lines, outline, outsideMm), outline);
  const claimed = new Set<number>();
  const marks: TracedMark[] = [];

  const fold = findFold(photo, plane, inside, outline);
  if (fold !== null) {
    claimed.add(fold.index);
    marks.push(fold.fold);
  }
  const { darts, used } = findDarts(unclaimed(inside, claimed), outline, (from, to, contrastRatio) =>
    inkedWay(photo, plane, from, to, contrastRatio),
  );
  for (const line of used) claimed.add(inside.indexOf(line));
  marks.push(...darts);
  if (piece.line === 'paper-edge') marks.push(...findWedges(piece.outline));
  const notArms = unclaimed(inside, claimed).filter((line) => !onArm(line, fold));
  const found = findGrainline(photo, plane, notArms, outline);
  if (found !== null && !(fold !== null && found.grainline.heads === 0)) {
    claimed.add(inside.indexOf(found.line));
    marks.push(found.grainline);
  }
  const grain = found?.grainline ?? fold?.fold ?? null;
  const along = grain === null ? null : sub(grain.to, grain.from);
  for (const { mark, lines: pair } of findLengthenLines(unclaimed(inside, claimed), outline, along)) {
    for (const line of pair) claimed.add(inside.indexOf(line));
    marks.push(mark);
  }
  marks.push(
    ...groupNotches(singleNotches(photo, plane, lines, inside, claimed, piece, fold, feetOf(marks), outline), outline),
  );
  const apart = [
    ...headTips(found?.grainline ?? null),
    ...marks.flatMap((mark) => (mark.kind === 'dart' ? [mark.apex] : [])),
  ];
  marks.push(...findHoles(photo, plane, outline, apart));
  return marks;
}

function feetOf(marks: readonly TracedMark[]): Point[] {
  return marks.flatMap((mark) => (mark.kind === 'dart' ? mark.legs : []));
}

function headTips(grainline: GrainlineMark | null): Point[] {
  if (grainline === null || grainline.heads === 0) return [];
  return grainline.heads === 1 ? [grainline.to] : [grainline.from, grainline.to];
}

function unclaimed(lines: readonly MarkLine[], claimed: ReadonlySet<number>): MarkLine[] {
  return lines.filter((_, index) => !claimed.has(index));
}

const EXCURSION_CONFIDENCE = 0.9;
const TICK_CONFIDENCE = 0.9;
/** Dip over scatter at which a snip is certain. */
const CERTAIN_SCORE = 20;

function singleNotches(
  photo: Photo,
  plane: PlaneMap,
  lines: readonly InkLine[],
  inside: readonly MarkLine[],
  claimed: ReadonlySet<number>,
  piece: OutlinedPiece,
  fold: FoundFold | null,
  feet: readonly Point[],
  outline: OutlineIndex,
): SingleNotch[] {
  const notches: SingleNotch[] = [];
  const met = (point: Point): boolean =>
    feet.some((foot) => distance(foot, point) < MARK_LIMITS.snip.footMm) || metByLine(point, inside, fold);
  const isTaken = (atMm: number): boolean =>
    notches.some((other) => outline.apartMm(other.atMm, atMm) < MARK_LIMITS.group.leastMm);
  const add = (notch: SingleNotch): void => {
    if (!isTaken(notch.atMm)) notches.push(notch);
  };
  const bumps = piece.excursions.some(({ tips }) => tips.some(({ shape }) => shape === 'triangle-out'));
  const spotted = bumps && hasPaperlikeSpots(photo, plane, outline);
  for (const excursion of piece.excursions)
    for (const tip of excursion.tips) {
      if (spotted && tip.shape === 'triangle-out') continue;
      const place = outline.nearest(tip.at, MARK_LIMITS.outsideMm);
      // a filled head that touches the edge dents the outline
      if (place === null || (fold !== null && nearArm(place.point, fold))) continue;
      // so does the dark end of a line
      if (tip.shape === 'snip' && met(place.point)) continue;
      if (isCut(photo, plane, tip, place))
        add({ atMm: place.atMm, shape: tip.shape, confidence: EXCURSION_CONFIDENCE });
    }
  const loose = unclaimed(inside, claimed).filter((line) => !onArm(line, fold));
  const triangles = findDrawnTriangles(loose, outline);
  for (const triangle of triangles) add({ ...triangle, confidence: TICK_CONFIDENCE });
  const free = loose.filter((line) => !triangles.some(({ strokes }) => strokes.includes(line)));
  const ticksAt = (line: OutlineIndex): number => {
    const crossing = mergedStraight(markLines(lines, line, 0), line);
    return findTicks(crossing, crossing, line).length;
  };
  const found = findTicks(free, inside, outline);
  const ticks = isPrint(piece.outline, found.length, ticksAt) ? [] : found;
  const atExcursion = (atMm: number): boolean => piece.excursions.some((excursion) => spans(excursion, atMm, outline));
  for (const tick of ticks)
    if (!atExcursion(tick.atMm)) add({ atMm: tick.atMm, shape: 'tick', confidence: TICK_CONFIDENCE });
  const explained = (atMm: number): boolean => atExcursion(atMm) || isTaken(atMm) || met(outline.placeAt(atMm).point);
  if (piece.line === 'paper-edge') {
    const snipsAt = (line: OutlineIndex) => findSnips(photo, plane, line, () => false).length;
    const snips = findSnips(photo, plane, outline, explained);
    if (isPrint(piece.outline, snips.length, snipsAt)) return notches;
    for (const { atMm, score } of snips) add({ atMm, shape: 'snip', confidence: Math.min(1, score / CERTAIN_SCORE) });
  }
  return notches;
}

/** The sides of a triangle look like slits or strokes; this far beside it too. */
const BESIDE_EXCURSION_MM = 1.5;

function spans({ from, to }: Excursion, atMm: number, outline: OutlineIndex): boolean {
  const ends = [from, to].map((p) => outline.nearest(p, MARK_LIMITS.outsideMm)?.atMm);
  const [a, b] = ends;
  if (a === undefined || b === undefined) return false;
  const widthMm = outline.apartMm(a, b) + BESIDE_EXCURSION_MM;
  return outline.apartMm(a, atMm) <= widthMm && outline.apartMm(b, atMm) <= widthMm;
}

/** A bracket's turned ends and their arrow heads. */
const ARM_HALF_WIDTH_MM = 5;

function onArm(line: MarkLine, fold: FoundFold | null): boolean {
  return fold !== null && line.points.every((p) => nearArm(p, fold));
}

function nearArm(p: Point, fold: FoundFold): boolean {
  return fold.arms.some(([from, to]) => {
    const length = distance(from, to);
    const t = Math.min(
      1,
      Math.max(0, ((p[0] - from[0]) * (to[0] - from[0]) + (p[1] - from[1]) * (to[1] - from[1])) / length ** 2),
    );
    return distance(p, [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])]) < ARM_HALF_WIDTH_MM;
  });
}

/** Where a longer line meets the edge there is a dark streak too: feet of darts, ends of brackets, lengthen lines. */
function metByLine(p: Point, inside: readonly MarkLine[], fold: FoundFold | null): boolean {
  if (fold !== null && nearArm(p, fold)) return true;
  return inside.some(({ lengthMm, points }) => {
    if (lengthMm <= MARK_LIMITS.tick.mostMm) return false;
    return [points[0]!, points[points.length - 1]!].some((end) => distance(end, p) < MARK_LIMITS.snip.footMm);
  });
}
