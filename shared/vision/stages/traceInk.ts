// Stage: closed outlines drawn with a pen on a sheet, measured on the original photo. What lies inside them is for
// readMarks; what the paper's own edge is, for segmentPaper.
import { fail, ok, type Result } from '../../base/result.ts';
import { signedAreaMm2 } from '../../geometry/polygon.ts';
import type { Photo } from '../image.ts';
import { closeRing, type InkRing, type InkSide } from '../ink/closeRing.ts';
import { enclosedRims } from '../ink/enclosedRegions.ts';
import { followRim } from '../ink/followRim.ts';
import { type InkLine, joinStrokes } from '../ink/inkLines.ts';
import { findInkStrokes, type InkSearch } from '../ink/inkStrokes.ts';
import type { PlaneMap } from '../ink/planeMap.ts';
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
  const found: DrawnOutline[] = [];
  for (const rim of enclosedRims(lines, ctx.cv)) {
    const clockwise = signedAreaMm2(rim) > 0 ? rim : rim.toReversed();
    const runs = followRim(clockwise, lines);
    const ring = closeRing(runs, lines, side);
    if (ring === null || ring.inkedRatio < LEAST_INKED_RATIO) continue;
    const cutOff = runs.some((run) => lines[run.line]!.leavesPhoto);
    found.push({ ...ring, areaMm2: signedAreaMm2(ring.points), cutOff });
  }
  return found.sort((a, b) => b.areaMm2 - a.areaMm2);
}
