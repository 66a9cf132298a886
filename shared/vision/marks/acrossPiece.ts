// How a straight line lies across a piece: what share of the way from edge to edge it covers, and whether that way is short.
import type { Point } from '../../base/points.ts';
import { distance } from '../../geometry/vector.ts';
import { moved } from '../ink/polyline.ts';
import { MARK_LIMITS } from './markLimits.ts';
import type { MarkLine } from './markLines.ts';
import type { OutlineIndex } from './outlineIndex.ts';

const DIRECTIONS = 18;

/** Share of the way from edge to edge that the line covers; 0 when it does not lie inside. */
export function spanRatioOf(line: MarkLine, outline: OutlineIndex): number {
  const chordMm = chordAt(line.straight.centre, line.straight.direction, outline);
  return chordMm === null ? 0 : endToEndMm(line) / chordMm;
}

/** Whether the line runs from edge to edge the short way: no direction through its middle is much shorter. */
export function crossesPiece(line: MarkLine, outline: OutlineIndex): boolean {
  const { wholeSpanRatio, shortestRatio } = MARK_LIMITS.lengthen;
  const { centre, direction } = line.straight;
  const chordMm = chordAt(centre, direction, outline);
  if (chordMm === null || endToEndMm(line) / chordMm < wholeSpanRatio) return false;
  for (let k = 0; k < DIRECTIONS; k++) {
    const turn = (Math.PI * k) / DIRECTIONS;
    const other = chordAt(centre, [Math.cos(turn), Math.sin(turn)], outline);
    if (other !== null && chordMm > shortestRatio * other) return false;
  }
  return true;
}

function endToEndMm({ points }: MarkLine): number {
  return distance(points[0]!, points[points.length - 1]!);
}

/** Length of the straight way through a point from edge to edge; null when the point does not lie inside. */
function chordAt(at: Point, direction: Point, outline: OutlineIndex): number | null {
  if (!outline.contains(at)) return null;
  const { min, max } = outline.box();
  const reachMm = distance(min, max);
  const ahead = outline.crossing(at, moved(at, direction, reachMm));
  const behind = outline.crossing(at, moved(at, direction, -reachMm));
  return ahead === null || behind === null ? null : distance(ahead.point, behind.point);
}
