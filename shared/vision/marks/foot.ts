// Where a mark line meets the outline: its own crossing, or that of its straight continuation over a short gap.
import type { Point } from '../../base/points.ts';
import { directionAtEnd } from '../ink/inkLines.ts';
import { add, lineAngleDeg, turned } from '../ink/polyline.ts';
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

/** The line's foot at one end; null when its continuation by `reachMm` does not meet the outline. */
export function footOf(line: MarkLine, last: boolean, outline: OutlineIndex, reachMm: number): Foot | null {
  const direction = directionAtEnd(line.points, last, AIM_MM);
  const end = line.points[last ? line.points.length - 1 : 0]!;
  const back: Point = add(end, direction, -Math.min(reachMm, line.lengthMm / 2));
  const beyond = add(end, direction, reachMm);
  const place = outline.crossing(back, beyond);
  if (place === null) return null;
  return { place, last, slantDeg: lineAngleDeg(direction, turned(place.along)) };
}
