// Darts cut out of the paper: the outline itself runs from the edge in to a sharp point and back. Such a wedge is a dart
// with its legs on the outline, not two edges and three corners to be sewn.
import type { TablePointMm } from '../../base/points.ts';
import { distance } from '../../geometry/vector.ts';
import { type OutlineCorner, splitCorners } from '../stages/splitCorners.ts';
import type { DartMark } from './findDarts.ts';
import { MARK_LIMITS } from './markLimits.ts';

const CUT_CONFIDENCE = 0.9;

/** @param outline closed, clockwise on the screen (y down), last point not repeated */
export function findWedges(outline: readonly TablePointMm[]): DartMark[] {
  const corners = splitCorners(outline);
  const n = corners.length;
  if (n < 3) return [];
  return corners.flatMap((apex, i): DartMark[] => {
    const before = corners[(i + n - 1) % n]!;
    const after = corners[(i + 1) % n]!;
    return isWedge(before, apex, after)
      ? [{ kind: 'dart', legs: [before.at, after.at], apex: apex.at, confidence: CUT_CONFIDENCE }]
      : [];
  });
}

function isWedge(before: OutlineCorner, apex: OutlineCorner, after: OutlineCorner): boolean {
  const { dart } = MARK_LIMITS;
  // clockwise outlines turn clockwise at their own corners, and back at the point of a wedge
  if (apex.turnDeg > 0 || before.turnDeg < 0 || after.turnDeg < 0) return false;
  if (180 + apex.turnDeg > dart.angleMostDeg) return false;
  const legs = [distance(before.at, apex.at), distance(after.at, apex.at)];
  const mouthMm = distance(before.at, after.at);
  return (
    Math.min(...legs) >= dart.leastLegMm &&
    Math.min(...legs) >= dart.legsRatio * Math.max(...legs) &&
    mouthMm >= dart.mouthLeastMm &&
    mouthMm <= dart.mouthMostMm
  );
}
