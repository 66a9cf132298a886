// Corners of a closed outline: joints where the direction turns sharply. Between them lie the edges of a piece.
import { type CubicPath, endTangent, joinPaths, segmentCount, tangentAt } from './cubicPath.ts';
import { turnDeg } from './vector.ts';

/**
 * A closed path (end = start) cut at every joint that turns by more than cornerDeg; the first part starts at the first
 * corner. One part, unchanged, when there is no corner.
 */
export function splitAtCorners(closed: CubicPath, cornerDeg: number): CubicPath[] {
  const count = segmentCount(closed);
  const corners: number[] = [];
  for (let joint = 0; joint < count; joint++) {
    const before = (joint + count - 1) % count;
    const arriving = endTangent(closed.slice(3 * before, 3 * before + 4));
    if (Math.abs(turnDeg(arriving, tangentAt(closed, joint))) > cornerDeg) corners.push(joint);
  }
  const first = corners[0];
  if (first === undefined) return [closed];
  const turned = first === 0 ? closed : joinPaths([closed.slice(3 * first), closed.slice(0, 3 * first + 1)]);
  const ends = [...corners.map((corner) => corner - first), count];
  return ends.slice(1).map((end, i) => turned.slice(3 * ends[i]!, 3 * end + 1));
}
