import { describe, expect, it } from 'vitest';
import { type CubicPath, pointAt, polylinePath, transformPath } from '../../../shared/geometry/cubicPath.ts';
import {
  intersectLine,
  intersectPaths,
  intersectSegment,
  selfIntersections,
} from '../../../shared/geometry/intersect.ts';
import { compose, rigid } from '../../../shared/geometry/transform.ts';
import { distance } from '../../../shared/geometry/vector.ts';
import { arcPath, polygonRing, squareRing } from '../../support/curves.ts';

const S: CubicPath = [
  [0, 0],
  [0, 100],
  [100, 0],
  [100, 100],
];

describe('crossings of two paths', () => {
  it('two circles of radius 100, centres 100 apart, cross at ±60 degrees', () => {
    const a = arcPath(100, 360, 24);
    const b = transformPath(rigid(0, [100, 0]), a);
    const points = intersectPaths(a, b).map(({ point }) => point);
    expect(points.length).toBe(2);
    for (const [x, y] of points) {
      expect(x).toBeCloseTo(50, 3);
      expect(Math.abs(y)).toBeCloseTo(50 * Math.sqrt(3), 2);
    }
  });

  it('an S and its diagonal cross three times, with parameters that give the points', () => {
    const hits = intersectSegment([0, 0], [100, 100], S);
    expect(hits.length).toBe(3);
    for (const { point, tB } of hits) expect(distance(pointAt(S, tB), point)).toBeLessThan(1e-6);
    expect(intersectLine([0, 0], [100, 100], S).map((t) => Math.round(t * 1e6) / 1e6)).toEqual([0, 0.5, 1]);
  });

  it('paths that lie on one another, or pass by, report none', () => {
    expect(
      intersectPaths(
        polylinePath([
          [0, 0],
          [10, 0],
        ]),
        polylinePath([
          [2, 0],
          [8, 0],
        ]),
      ),
    ).toEqual([]);
    expect(
      intersectPaths(
        polylinePath([
          [0, 0],
          [10, 0],
        ]),
        polylinePath([
          [5, 0.01],
          [5, 8],
        ]),
      ),
    ).toEqual([]);
  });

  it('a path that ends on another touches it once', () => {
    expect(
      intersectPaths(
        polylinePath([
          [0, 0],
          [10, 0],
        ]),
        polylinePath([
          [5, 0],
          [5, 8],
        ]),
      ).length,
    ).toBe(1);
  });
});

describe('a ring that crosses itself', () => {
  it('a square does not', () => {
    expect(selfIntersections(squareRing(100))).toEqual([]);
  });

  it('a bow tie does, in its middle', () => {
    const crossings = selfIntersections(
      polygonRing([
        [0, 0],
        [100, 100],
        [100, 0],
        [0, 100],
      ]),
    );
    expect(crossings.map(({ point }) => point.map(Math.round))).toEqual([[50, 50]]);
    expect([crossings[0]!.first.path, crossings[0]!.second.path]).toEqual([0, 2]);
  });

  it.each([0.01, 1, 100].flatMap((factor) => [0, 77].map((angle) => ({ factor, angle }))))(
    'one cubic with a loop does, scaled $factor and turned $angle',
    ({ factor, angle }) => {
      const map = compose(rigid(angle, [300, 5]), [factor, 0, 0, factor, 0, 0]);
      const loop = transformPath(map, [
        [0, 0],
        [150, 100],
        [-50, 100],
        [100, 0],
      ]);
      const crossings = selfIntersections([
        loop,
        transformPath(
          map,
          polylinePath([
            [100, 0],
            [0, 0],
          ]),
        ),
      ]);
      expect(crossings.length).toBe(1);
      expect(distance(crossings[0]!.point, transformPath(map, [[50, 300 / 7]])[0]!)).toBeLessThan(
        1e-6 * Math.max(1, factor),
      );
    },
  );

  it('a smooth closed curve does not', () => {
    expect(selfIntersections([arcPath(100, 360, 24)])).toEqual([]);
  });
});
