import { describe, expect, it } from 'vitest';
import { bernsteinRoots } from '../../../shared/geometry/bernstein.ts';
import { type CubicPath, pointAt } from '../../../shared/geometry/cubicPath.ts';
import { nearestOnPath } from '../../../shared/geometry/nearest.ts';
import { distance } from '../../../shared/geometry/vector.ts';
import { arcPath } from '../../support/curves.ts';

describe('the nearest place', () => {
  it('on an arc lies on the ray from its centre', () => {
    const place = nearestOnPath(arcPath(100, 180, 128), [30, 40]);
    expect(distance(place.point, [60, 80])).toBeLessThan(1e-4);
    expect(place.distanceMm).toBeCloseTo(50, 5);
    expect(place.atMm).toBeCloseTo(100 * Math.atan2(4, 3), 3);
  });

  it('is an end where the path turns away', () => {
    expect(nearestOnPath(arcPath(100, 90, 8), [120, -50]).atMm).toBe(0);
  });

  it('is never beaten by a dense search, on a curve with two bends', () => {
    const path: CubicPath = [
      [0, 0],
      [150, 20],
      [-60, 80],
      [90, 100],
    ];
    for (const point of [
      [40, 50],
      [80, 20],
      [-10, 90],
      [45, 49],
    ] as const) {
      const found = nearestOnPath(path, point);
      const dense = Math.min(...Array.from({ length: 2001 }, (_, i) => distance(pointAt(path, i / 2000), point)));
      expect(found.distanceMm).toBeLessThanOrEqual(dense + 1e-12);
      expect(dense - found.distanceMm).toBeLessThan(0.01);
      expect(distance(found.point, point)).toBeCloseTo(found.distanceMm, 9);
    }
  });
});

describe('roots of a Bernstein polynomial', () => {
  it('are all found, also at the ends', () => {
    // t (t − 1/2) (t − 1): Bernstein coefficients 0, 1/6, −1/6, 0.
    const roots = bernsteinRoots([0, 1 / 6, -1 / 6, 0]);
    expect(roots.length).toBe(3);
    [0, 0.5, 1].forEach((root, i) => {
      expect(roots[i]).toBeCloseTo(root, 10);
    });
  });

  it('are none where the control polygon keeps one sign, or for zero', () => {
    expect(bernsteinRoots([1, 2, 0.5])).toEqual([]);
    expect(bernsteinRoots([0, 0, 0])).toEqual([]);
  });
});
