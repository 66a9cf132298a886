// Triangle notches drawn with a pen: two short strokes from the outline that meet in a point inside or outside of it.
import { distance, sub } from '../../geometry/vector.ts';
import { moved } from '../ink/polyline.ts';
import { type Foot, footOf } from './foot.ts';
import { MARK_LIMITS } from './markLimits.ts';
import type { MarkLine } from './markLines.ts';
import type { OutlineIndex } from './outlineIndex.ts';

export interface DrawnTriangle {
  /** Running length of its middle along the outline. */
  readonly atMm: number;
  readonly shape: 'triangle-in' | 'triangle-out';
  readonly strokes: readonly [MarkLine, MarkLine];
}

interface Side {
  readonly line: MarkLine;
  readonly foot: Foot;
  readonly tip: readonly [number, number];
  readonly tipInsideMm: number;
}

/** @param lines mark lines that nothing else has claimed */
export function findDrawnTriangles(lines: readonly MarkLine[], outline: OutlineIndex): DrawnTriangle[] {
  const { triangle } = MARK_LIMITS;
  const sides = lines.flatMap((line): Side[] => {
    if (line.lengthMm < triangle.leastSideMm || line.lengthMm > triangle.mostSideMm) return [];
    const foot = [false, true]
      .map((last) => footOf(line, last, outline, MARK_LIMITS.touchMm))
      .find((f) => f !== null && f.slantDeg <= triangle.slantDeg);
    if (foot === undefined || foot === null) return [];
    const tip = line.points[foot.last ? 0 : line.points.length - 1]!;
    return [{ line, foot, tip, tipInsideMm: line.endsInsideMm[foot.last ? 0 : 1] }];
  });
  const found: DrawnTriangle[] = [];
  const used = new Set<Side>();
  for (const a of sides)
    for (const b of sides) {
      if (a === b || used.has(a) || used.has(b)) continue;
      const baseMm = outline.apartMm(a.foot.place.atMm, b.foot.place.atMm);
      if (baseMm < triangle.leastBaseMm || baseMm > triangle.mostBaseMm) continue;
      if (distance(a.tip, b.tip) > triangle.tipsMm || a.tipInsideMm * b.tipInsideMm < 0) continue;
      const middle = moved(a.foot.place.point, sub(b.foot.place.point, a.foot.place.point), 0.5);
      const place = outline.nearest(middle, MARK_LIMITS.outsideMm);
      if (place === null) continue;
      used.add(a);
      used.add(b);
      const shape = a.tipInsideMm > 0 ? 'triangle-in' : 'triangle-out';
      found.push({ atMm: place.atMm, shape, strokes: [a.line, b.line] });
    }
  return found;
}
