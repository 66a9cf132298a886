// Whether what looks like ticks or snips at the edge of a piece is the print of its paper, as on a newspaper: then lines drawn
// in thought farther inside meet as many, which a person's marks never do.
import { EndType, inflatePathsD, JoinType } from 'clipper2-ts';
import { type Point, tableMm } from '../../base/points.ts';
import { signedAreaMm2 } from '../../geometry/polygon.ts';
import { MARK_LIMITS } from './markLimits.ts';
import { OutlineIndex } from './outlineIndex.ts';

/**
 * @param outline closed, clockwise on the screen, last point not repeated
 * @param atEdge how many marks of one kind the edge shows
 * @param countAt how many of that kind the same reading finds along another closed line
 */
export function isPrint(outline: readonly Point[], atEdge: number, countAt: (line: OutlineIndex) => number): boolean {
  const { leastMarks, insetsMm, shareOfEdge } = MARK_LIMITS.print;
  if (atEdge < leastMarks) return false;
  const edge = new OutlineIndex(outline);
  const lines = insetsMm.flatMap((insetMm) => inset(outline, insetMm) ?? []);
  return (
    lines.length > 0 && lines.every((line) => countAt(line) / line.lengthMm >= (shareOfEdge * atEdge) / edge.lengthMm)
  );
}

/** The line so far inside an outline, the longest part of it; null where the piece is too narrow for one. */
function inset(outline: readonly Point[], byMm: number): OutlineIndex | null {
  const ring = outline.map(([x, y]) => ({ x, y }));
  const shrunk = inflatePathsD([ring], -byMm, JoinType.Miter, EndType.Polygon);
  const parts = shrunk.map((part) => part.map(({ x, y }) => tableMm(x, y)));
  const largest = parts.toSorted((a, b) => Math.abs(signedAreaMm2(b)) - Math.abs(signedAreaMm2(a)))[0];
  if (largest === undefined || largest.length < 3) return null;
  return new OutlineIndex(signedAreaMm2(largest) < 0 ? largest.toReversed() : largest);
}
