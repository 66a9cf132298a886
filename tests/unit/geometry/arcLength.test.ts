import { describe, expect, it } from 'vitest';
import {
  lengthToParameter,
  parameterAtLength,
  pathLengthMm,
  pointAtLength,
  subPath,
} from '../../../shared/geometry/arcLength.ts';
import {
  type CubicPath,
  endOf,
  joinPaths,
  pointPath,
  polylinePath,
  startOf,
} from '../../../shared/geometry/cubicPath.ts';
import { distance } from '../../../shared/geometry/vector.ts';

const PATH: CubicPath = joinPaths([
  [
    [0, 0],
    [0, 60],
    [40, 100],
    [100, 100],
  ],
  polylinePath([
    [100, 100],
    [150, 100],
    [150, 40],
  ]),
]);

describe('lengths along a path', () => {
  it('are zero on a path of one point', () => {
    expect(pathLengthMm(pointPath([5, 5]))).toBe(0);
    expect(pointAtLength(pointPath([5, 5]), 3).point).toEqual([5, 5]);
  });

  it('lead to a parameter and back', () => {
    for (const sMm of [0, 0.001, 40, 159.2, 159.3, 200, 269]) {
      expect(lengthToParameter(PATH, parameterAtLength(PATH, sMm))).toBeCloseTo(sMm, 6);
    }
  });

  it('are clamped to the ends', () => {
    expect(pointAtLength(PATH, -5).point).toEqual([0, 0]);
    expect(pointAtLength(PATH, 1e6).point).toEqual([150, 40]);
  });

  it('add up over a cut', () => {
    const total = pathLengthMm(PATH);
    expect(pathLengthMm(subPath(PATH, 0, 77)) + pathLengthMm(subPath(PATH, 77, total))).toBeCloseTo(total, 6);
  });

  it('run backwards when asked from far to near', () => {
    const back = subPath(PATH, 200, 50);
    expect(pathLengthMm(back)).toBeCloseTo(150, 6);
    expect(distance(startOf(back), pointAtLength(PATH, 200).point)).toBeLessThan(1e-6);
    expect(distance(endOf(back), pointAtLength(PATH, 50).point)).toBeLessThan(1e-6);
  });

  it('are right through a cusp', () => {
    // x = t², y = t³ on [-1, 1]: length 2 (13√13 − 8) / 27, from the definition.
    const cusp: CubicPath = [
      [1, -1],
      [-1 / 3, 1],
      [-1 / 3, -1],
      [1, 1],
    ];
    expect(pathLengthMm(cusp)).toBeCloseTo((2 * (13 * Math.sqrt(13) - 8)) / 27, 6);
  });
});
