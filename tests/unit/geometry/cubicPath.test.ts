import { describe, expect, it } from 'vitest';
import {
  type CubicPath,
  curvatureAt,
  derivativeAt,
  endOf,
  joinPaths,
  pointAt,
  pointPath,
  polylinePath,
  reversePath,
  segmentCount,
  slicePath,
  splitAt,
  startOf,
  tangentAt,
} from '../../../shared/geometry/cubicPath.ts';
import { distance } from '../../../shared/geometry/vector.ts';
import { arcPath } from '../../support/curves.ts';

const BEND: CubicPath = [
  [0, 0],
  [0, 60],
  [40, 100],
  [100, 100],
];

describe('a cubic path', () => {
  it('refuses a list that is not 3n+1 points', () => {
    expect(() => segmentCount([])).toThrow('3n+1');
    expect(() => segmentCount([[0, 0]])).toThrow('3n+1');
    expect(() => segmentCount(BEND.slice(0, 3))).toThrow('3n+1');
  });

  it('clamps parameters beyond its ends', () => {
    expect(pointAt(BEND, -1)).toEqual([0, 0]);
    expect(pointAt(BEND, 7)).toEqual([100, 100]);
  });

  it('cut in two holds the same points', () => {
    const path = joinPaths([
      BEND,
      polylinePath([
        [100, 100],
        [200, 100],
        [200, 0],
      ]),
    ]);
    for (const t of [0.3, 1, 1.7, 2.999]) {
      const [left, right] = splitAt(path, t);
      expect(distance(endOf(left), pointAt(path, t))).toBeLessThan(1e-12);
      expect(distance(startOf(right), pointAt(path, t))).toBeLessThan(1e-12);
      expect(endOf(right)).toEqual([200, 0]);
    }
  });

  it('cut at an end leaves one part of no length', () => {
    expect(splitAt(BEND, 0)).toEqual([pointPath([0, 0]), BEND]);
    expect(splitAt(BEND, 1)).toEqual([BEND, pointPath([100, 100])]);
  });

  it('sliced inside one cubic runs between the right places', () => {
    const slice = slicePath(BEND, 0.2, 0.7);
    expect(distance(startOf(slice), pointAt(BEND, 0.2))).toBeLessThan(1e-12);
    expect(distance(endOf(slice), pointAt(BEND, 0.7))).toBeLessThan(1e-12);
    expect(distance(pointAt(slice, 0.5), pointAt(BEND, 0.45))).toBeLessThan(1e-12);
  });

  it('has a tangent where handles coincide with the ends', () => {
    const straight: CubicPath = [
      [0, 0],
      [0, 0],
      [10, 0],
      [10, 0],
    ];
    expect(tangentAt(straight, 0)).toEqual([1, 0]);
    expect(tangentAt(straight, 1)).toEqual([1, 0]);
    expect(derivativeAt(straight, 0)).toEqual([0, 0]);
    expect(curvatureAt(straight, 0)).toBe(0);
  });

  it('has a tangent inside a cusp', () => {
    const cusp: CubicPath = [
      [0, 0],
      [100, 100],
      [0, 100],
      [100, 0],
    ];
    expect(Math.hypot(...tangentAt(cusp, 0.5))).toBeCloseTo(1, 9);
  });

  it('has no direction when all its points are one', () => {
    expect(tangentAt(pointPath([3, 4]), 0.5)).toEqual([0, 0]);
  });

  it('bends clockwise with positive curvature, 1 / radius on an arc', () => {
    expect(curvatureAt(arcPath(50, 90, 16), 7.3)).toBeCloseTo(0.02, 5);
    expect(curvatureAt(reversePath(arcPath(50, 90, 16)), 7.3)).toBeCloseTo(-0.02, 5);
  });
});
