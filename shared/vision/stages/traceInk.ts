// Stage: closed outlines drawn with a pen on a sheet, measured on the original photo. What lies inside them is for
// readMarks; what the paper's own edge is, for segmentPaper.
import { fail, ok, type Result } from '../../base/result.ts';
import { polygonCentroid, signedAreaMm2 } from '../../geometry/polygon.ts';
import { distance } from '../../geometry/vector.ts';
import type { Photo } from '../image.ts';
import { closeRing, type InkRing, type InkSide } from '../ink/closeRing.ts';
import { enclosedRims } from '../ink/enclosedRegions.ts';
import { followRim, type RimRun } from '../ink/followRim.ts';
import { type InkLine, joinStrokes } from '../ink/inkLines.ts';
import { findInkStrokes, type InkSearch } from '../ink/inkStrokes.ts';
import type { PlaneMap } from '../ink/planeMap.ts';
import { drawnWith, hasOddStretch, penOf } from '../ink/samePen.ts';
import { type PlaneSolution, photoFromTable, tableFromPhoto } from '../plane/planeSolution.ts';
import type { StageContext } from '../stageContext.ts';

export interface TraceInkOptions extends InkSearch {
  /** Which edge of the pen line is the outline. */
  readonly line: InkSide;
}

export const TRACE_INK_DEFAULTS: TraceInkOptions = { line: 'centre', within: [], without: [] };

/** A drawn outline: an InkRing whose points are the wanted edge of the ink. */
export interface DrawnOutline extends InkRing {
  readonly areaMm2: number;
  /** A line of it runs out of the photo: the piece goes on there, and this ring closes along other lines. */
  readonly cutOff: boolean;
}

export interface TracedInk {
  readonly outlines: readonly DrawnOutline[];
  /** Every pen line found, for readMarks. */
  readonly lines: readonly InkLine[];
}

/** A ring of which less is ink was closed by chance. */
const LEAST_INKED_RATIO = 0.5;

export function planeMapOf(solution: PlaneSolution): PlaneMap {
  return {
    tableFromPhoto: (point) => tableFromPhoto(solution, point),
    photoFromTable: (point) => photoFromTable(solution, point),
    mmPerPixel: solution.mmPerPixel,
  };
}

/** All pen lines in the photo, joined over dashes and crossings. Shared by traceInk and readMarks. */
export function findInkLines(photo: Photo, plane: PlaneMap, search: InkSearch): InkLine[] {
  return joinStrokes(findInkStrokes(photo, plane, search));
}

/** Closed outlines of at least 20 square centimetres, the largest first. Fails with `ink-no-outline` when there is none. */
export function traceInk(
  photo: Photo,
  plane: PlaneMap,
  options: TraceInkOptions,
  ctx: StageContext,
): Result<TracedInk> {
  const lines = findInkLines(photo, plane, options);
  const outlines = drawnOutlines(lines, options.line, ctx);
  if (outlines.length === 0)
    return fail('ink-no-outline', 'No closed drawn outline was found. Go over the gaps in the line, or trace by hand.');
  return ok({ outlines, lines });
}

/** Closed outlines of at least 20 square centimetres among the pen lines, the largest first. */
export function drawnOutlines(lines: readonly InkLine[], side: InkSide, ctx: StageContext): DrawnOutline[] {
  const found = ringsOf(lines, side, ctx).map((ring) => {
    const pen = penOf(ring.runs, lines);
    if (pen === null || !hasOddStretch(ring.runs, lines, pen)) return ring;
    const alone = lines.filter((line) => drawnWith(pen, line));
    return ringsOf(alone, side, ctx).find((other) => isSameRing(ring.outline, other.outline)) ?? ring;
  });
  return found.map(({ outline }) => outline).sort((a, b) => b.areaMm2 - a.areaMm2);
}

interface FollowedRing {
  readonly outline: DrawnOutline;
  readonly runs: readonly RimRun[];
}

function ringsOf(lines: readonly InkLine[], side: InkSide, ctx: StageContext): FollowedRing[] {
  return enclosedRims(lines, ctx.cv).flatMap((rim) => {
    const clockwise = signedAreaMm2(rim) > 0 ? rim : rim.toReversed();
    const runs = followRim(clockwise, lines);
    const ring = closeRing(runs, lines, side);
    if (ring === null || ring.inkedRatio < LEAST_INKED_RATIO) return [];
    const cutOff = runs.some((run) => lines[run.line]!.leavesPhoto);
    return [{ outline: { ...ring, areaMm2: signedAreaMm2(ring.points), cutOff }, runs }];
  });
}

/** A ring of one pen stands for the one with a strange stretch when it lies in the same place and is drawn as fully. */
const SAME = { areaRatio: 0.88, middleMm: 15, inkedRatioLoss: 0.03 } as const;

function isSameRing(mixed: DrawnOutline, alone: DrawnOutline): boolean {
  const [small, large] = [mixed.areaMm2, alone.areaMm2].sort((a, b) => a - b);
  return (
    small! >= SAME.areaRatio * large! &&
    distance(polygonCentroid(mixed.points), polygonCentroid(alone.points)) <= SAME.middleMm &&
    alone.inkedRatio >= mixed.inkedRatio - SAME.inkedRatioLoss
  );
}
