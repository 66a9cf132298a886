// From a measured outline to a traced piece: corners, edges with their lengths and how sure those are.
import type { TablePointMm } from '../base/points.ts';
import { fitEdges } from '../vision/stages/fitEdges.ts';
import { splitCorners } from '../vision/stages/splitCorners.ts';
import type { TracedPiece, UnsureStretch } from '../vision/traced.ts';

/** An outline measured on one photo or put together from several, wherever it came from. */
export interface MeasuredOutline {
  readonly line: TracedPiece['line'];
  readonly points: readonly TablePointMm[];
  /** By index into `points`. */
  readonly unsure: readonly UnsureStretch[];
  readonly pointSigmaMm: number;
}

export interface PieceFacts {
  readonly id: string;
  readonly photos: readonly string[];
  readonly scaleSigmaRatio: number;
  /** Standard uncertainty of a length along a path that camera and cards bring in. */
  readonly planeSigmaMm: (path: readonly TablePointMm[]) => number;
  /** The marks, once the fitted outline is known. */
  readonly marks: (outline: readonly TablePointMm[]) => TracedPiece['marks'];
}

export function pieceFromOutline(measured: MeasuredOutline, facts: PieceFacts): TracedPiece {
  const { line, points, pointSigmaMm } = measured;
  const { id, photos, scaleSigmaRatio, planeSigmaMm } = facts;
  const { edges, outline } = fitEdges(points, splitCorners(points), { pointSigmaMm, planeSigmaMm });
  const unsure = unsureOn(outline, points, measured.unsure);
  return { id, photos, line, outline, edges, marks: facts.marks(outline), unsure, pointSigmaMm, scaleSigmaRatio };
}

/** The same stretches by index into the final outline: its points nearest to the old ends. */
function unsureOn(
  outline: readonly TablePointMm[],
  points: readonly TablePointMm[],
  stretches: readonly UnsureStretch[],
): UnsureStretch[] {
  const nearest = (at: TablePointMm): number => {
    let best = 0;
    let least = Number.POSITIVE_INFINITY;
    outline.forEach((p, i) => {
      const away = (p[0] - at[0]) ** 2 + (p[1] - at[1]) ** 2;
      if (away < least) {
        least = away;
        best = i;
      }
    });
    return best;
  };
  return stretches.map((stretch) => ({
    ...stretch,
    fromIndex: nearest(points[stretch.fromIndex % points.length]!),
    toIndex: nearest(points[stretch.toIndex % points.length]!),
  }));
}
