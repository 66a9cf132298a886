import { describe, expect, it } from 'vitest';
import type { Point } from '../../../shared/base/points.ts';
import { pathLengthMm } from '../../../shared/geometry/arcLength.ts';
import { type CubicPath, endOf, joinPaths, polylinePath, startOf } from '../../../shared/geometry/cubicPath.ts';
import { offsetPath, offsetRing } from '../../../shared/geometry/offset.ts';
import { distance } from '../../../shared/geometry/vector.ts';
import { arcPath, polygonRing, squareRing } from '../../support/curves.ts';

const FINE_MM = 1e-6;
const ends = (ring: readonly CubicPath[]): number[][] =>
  ring.map((path) => startOf(path).map((value) => Math.round(value * 1000) / 1000 + 0));

describe('the parallel of one path', () => {
  it('lies to the left of travel for a positive distance: above a line to the right', () => {
    expect(
      offsetPath(
        polylinePath([
          [0, 0],
          [30, 0],
        ]),
        5,
        FINE_MM,
      )[0],
    ).toEqual([0, -5]);
  });

  it('is the path itself at no distance', () => {
    const path = arcPath(10, 90, 4);
    expect(offsetPath(path, 0, FINE_MM)).toBe(path);
  });

  it('has no length where the path bends tighter than the distance all along', () => {
    expect(pathLengthMm(offsetPath(arcPath(10, 90, 4), -15, FINE_MM))).toBe(0);
  });

  it('mitres a kink inside the path, on both sides', () => {
    const path = polylinePath([
      [0, 0],
      [100, 0],
      [100, 100],
    ]);
    expect(pathLengthMm(offsetPath(path, 10, FINE_MM))).toBeCloseTo(220, 6);
    expect(pathLengthMm(offsetPath(path, -10, FINE_MM))).toBeCloseTo(180, 6);
  });

  it('cuts the loop at a bend tighter than the distance', () => {
    // Straight 100, quarter turn of radius 5, straight 100; 20 to the inside the sides just meet.
    const path = joinPaths([
      polylinePath([
        [-100, -5],
        [0, -5],
      ]),
      arcPath(5, 90, 8).map(([x, y]): Point => [y, -x]),
      polylinePath([
        [5, 0],
        [5, 100],
      ]),
    ]);
    const inner = offsetPath(path, -20, FINE_MM);
    expect(pathLengthMm(inner)).toBeCloseTo(2 * 85, 2);
  });
});

describe('the parallels of a ring', () => {
  it('meet in corners with a distance of their own for each edge', () => {
    const ring = offsetRing(
      squareRing(100).map((path, i) => ({ path, distanceMm: [-10, -15, -40, 0][i]! })),
      FINE_MM,
    );
    expect(ends(ring)).toEqual([
      [0, 10],
      [85, 10],
      [85, 60],
      [0, 60],
    ]);
  });

  it('start exactly where the one before ends', () => {
    const ring = offsetRing(
      polygonRing([
        [0, 0],
        [80, 7],
        [95, 133],
        [-12, 121],
      ]).map((path) => ({ path, distanceMm: -9.5 })),
      FINE_MM,
    );
    ring.forEach((path, i) => {
      expect(startOf(path)).toEqual(endOf(ring[(i + 3) % 4]!));
    });
  });

  it('step where two edges run straight on with different distances', () => {
    const corners: Point[] = [
      [0, 0],
      [50, 0],
      [100, 0],
      [100, 80],
      [0, 80],
    ];
    const ring = offsetRing(
      polygonRing(corners).map((path, i) => ({ path, distanceMm: i === 0 ? -10 : -15 })),
      FINE_MM,
    );
    expect(endOf(ring[0]!)).toEqual([50, 10]);
    expect(startOf(ring[1]!)).toEqual([50, 15]);
  });

  it('join smoothly where a curve runs on into a line', () => {
    const quarter = arcPath(50, 90, 8);
    const ring = offsetRing(
      [
        quarter,
        polylinePath([
          [0, 50],
          [-60, 50],
        ]),
        polylinePath([
          [-60, 50],
          [50, 0],
        ]),
      ].map((path) => ({
        path,
        distanceMm: -8,
      })),
      FINE_MM,
    );
    expect(distance(endOf(ring[0]!), [0, 42])).toBeLessThan(1e-4);
  });

  it('let an edge vanish that its neighbours swallow', () => {
    const ring = offsetRing(
      polygonRing([
        [0, 0],
        [95, 0],
        [100, 5],
        [100, 100],
        [0, 100],
      ]).map((path) => ({ path, distanceMm: -20 })),
      FINE_MM,
    );
    expect(pathLengthMm(ring[1]!)).toBe(0);
    expect(distance(endOf(ring[0]!), [80, 20])).toBeLessThan(1e-6);
    expect(distance(startOf(ring[2]!), [80, 20])).toBeLessThan(1e-6);
  });

  it('vanish as a whole when inset past the middle', () => {
    const ring = offsetRing(
      squareRing(100).map((path) => ({ path, distanceMm: -60 })),
      FINE_MM,
    );
    expect(ring.map(pathLengthMm)).toEqual([0, 0, 0, 0]);
  });

  it('work on a ring of one closed edge with a corner', () => {
    const drop: CubicPath = [
      [0, 0],
      [120, -120],
      [120, 120],
      [0, 0],
    ];
    const [inner] = offsetRing([{ path: drop, distanceMm: -5 }], FINE_MM);
    expect(distance(startOf(inner!), endOf(inner!))).toBeLessThan(1e-6);
    // The right angle at the corner draws the inner corner in by 5√2.
    expect(distance(startOf(inner!), [0, 0])).toBeGreaterThan(5 * Math.SQRT2 - 0.5);
  });
});
