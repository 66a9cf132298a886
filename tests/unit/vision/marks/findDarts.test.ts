import { describe, expect, it } from 'vitest';
import type { Point } from '../../../../shared/base/points.ts';
import { distance, lerp } from '../../../../shared/geometry/vector.ts';
import { fitStraight } from '../../../../shared/vision/ink/polyline.ts';
import { findDarts } from '../../../../shared/vision/marks/findDarts.ts';
import type { MarkLine } from '../../../../shared/vision/marks/markLines.ts';
import { OutlineIndex } from '../../../../shared/vision/marks/outlineIndex.ts';

const outline = new OutlineIndex([
  [0, 0],
  [200, 0],
  [200, 200],
  [0, 200],
]);
const apex: Point = [90, 100];

function leg(from: Point, to: Point): MarkLine {
  const points = Array.from({ length: 101 }, (_, i) => lerp(from, to, i / 100));
  const lengthMm = distance(from, to);
  const inside = (p: Point): number => outline.nearest(p, 24)?.insideMm ?? Number.POSITIVE_INFINITY;
  const endsInsideMm = [inside(from), inside(to)] as const;
  return { points, lengthMm, inkedMm: lengthMm, contrastRatio: 0.7, straight: fitStraight(points), endsInsideMm };
}

describe('findDarts', () => {
  const whole = leg([80, 0.5], apex);
  const [foot, cutAt]: Point[] = [
    [104, 0.5],
    [95.6, 60],
  ];
  const cut = leg(foot!, cutAt!);

  it('reads a dart of which another line took the last stretch of a leg, when there is ink on the way', () => {
    const asked: Point[] = [];
    const { darts, used } = findDarts([whole, cut], outline, (from, to) => {
      asked.push(from, to);
      return 0.7;
    });
    expect(darts).toHaveLength(1);
    expect(distance(darts[0]!.apex, apex)).toBeLessThan(1);
    expect(used).toEqual([whole, cut]);
    expect(distance(asked[0]!, cutAt!)).toBeLessThan(0.01);
    expect(distance(asked[1]!, apex)).toBeLessThan(1);
  });

  it('reads none where the paper between is plain, or where most of a leg is missing', () => {
    expect(findDarts([whole, cut], outline, () => 0.1).darts).toEqual([]);
    const stub = leg([104, 0.5], [100.5, 25]);
    expect(findDarts([whole, stub], outline, () => 1).darts).toEqual([]);
  });
});
