import { describe, expect, it } from 'vitest';
import { type Point, tableMm } from '../../../../shared/base/points.ts';
import { findWedges } from '../../../../shared/vision/marks/findWedges.ts';

/** Closed ring with a point every millimetre. */
function dense(corners: readonly Point[]) {
  return corners.flatMap((a, i) => {
    const b = corners[(i + 1) % corners.length]!;
    const parts = Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]));
    return Array.from({ length: parts }, (_, k) =>
      tableMm(a[0] + ((b[0] - a[0]) * k) / parts, a[1] + ((b[1] - a[1]) * k) / parts),
    );
  });
}

describe('darts cut out of the paper', () => {
  it('are read from the outline with both legs and the apex', () => {
    const wedges = findWedges(
      dense([
        [0, 0],
        [200, 0],
        [200, 300],
        [120, 300],
        [105, 190],
        [90, 300],
        [0, 300],
      ]),
    );
    expect(wedges).toHaveLength(1);
    const [{ legs, apex }] = wedges as [(typeof wedges)[number]];
    expect(apex[0]).toBeCloseTo(105, 0);
    expect(apex[1]).toBeCloseTo(190, 0);
    expect(legs.map((leg) => Math.round(leg[0])).sort((a, b) => a - b)).toEqual([90, 120]);
  });

  it('are not read from a square inner corner', () => {
    expect(
      findWedges(
        dense([
          [0, 0],
          [200, 0],
          [200, 100],
          [100, 100],
          [100, 300],
          [0, 300],
        ]),
      ),
    ).toEqual([]);
  });
});
