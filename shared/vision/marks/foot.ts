// Where a mark line meets the outline: its own crossing, or that of its straight continuation over a short gap.
import type { Point } from '../../base/points.ts';
import { distance } from '../../geometry/vector.ts';
import { directionAtEnd } from '../ink/inkLines.ts';
import { lineAngleDeg, moved, turned } from '../ink/polyline.ts';
import { MARK_LIMITS } from './markLimits.ts';
import type { MarkLine } from './markLines.ts';
import type { OutlineIndex, OutlinePlace } from './outlineIndex.ts';

export interface Foot {
  readonly place: OutlinePlace;
  /** True when the line's last point is at the outline. */
  readonly last: boolean;
  /** Angle between the line and the outline's normal. */
  readonly slantDeg: number;
}

const AIM_MM = 8;

/**
 * The line's foot at one end: where the line itself comes out through the outline there, or where its continuation by
 * `reachMm` meets it. Null when neither does.
 */
export function footOf(line: MarkLine, last: boolean, outline: OutlineIndex, reachMm: number): Foot | null {
  const direction = directionAtEnd(line.points, last, AIM_MM);
  const end = line.points[last ? line.points.length - 1 : 0]!;
  const sticksOut = line.endsInsideMm[last ? 1 : 0] < 0;
  const back = moved(end, direction, -Math.min(reachMm, line.lengthMm / 2));
  const place =
    (sticksOut ? wayOut(line, last, outline) : null) ?? outline.crossing(back, moved(end, direction, reachMm));
  if (place === null) return null;
  return { place, last, slantDeg: lineAngleDeg(direction, turned(place.along)) };
}

/** First crossing of the line with the outline, coming from the end that sticks out. */
function wayOut(line: MarkLine, last: boolean, outline: OutlineIndex): OutlinePlace | null {
  const ordered: readonly Point[] = last ? line.points.toReversed() : line.points;
  const end = ordered[0]!;
  for (let i = 1; i < ordered.length; i++) {
    const place = outline.crossing(ordered[i - 1]!, ordered[i]!);
    if (place !== null) return place;
    if (distance(ordered[i]!, end) > MARK_LIMITS.outsideMm + MARK_LIMITS.touchMm) return null;
  }
  return null;
}
