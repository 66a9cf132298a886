// What must hold for any curve: lengths do not depend on the frame, the direction or where the curve is cut.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../shared/base/points.ts';
import { parameterAtLength, pathLengthMm, pointAtLength, subPath } from '../../shared/geometry/arcLength.ts';
import { type CubicPath, reversePath, splitAt, transformPath } from '../../shared/geometry/cubicPath.ts';
import { flattenPath } from '../../shared/geometry/flatten.ts';
import { intersectPaths } from '../../shared/geometry/intersect.ts';
import { nearestOnPath } from '../../shared/geometry/nearest.ts';
import { rigid } from '../../shared/geometry/transform.ts';
import { distance } from '../../shared/geometry/vector.ts';

const coordinate = fc.double({ min: -300, max: 300, noNaN: true });
const point: fc.Arbitrary<Point> = fc.tuple(coordinate, coordinate);
const path: fc.Arbitrary<CubicPath> = fc
  .array(point, { minLength: 4, maxLength: 10 })
  .map((points) => points.slice(0, points.length - ((points.length - 1) % 3)));
const ratio = fc.double({ min: 0, max: 1, noNaN: true });

describe('any cubic path', () => {
  it('is as long moved, turned and walked backwards', () => {
    fc.assert(
      fc.property(path, fc.double({ min: -180, max: 180, noNaN: true }), point, (curve, angle, offset) => {
        const lengthMm = pathLengthMm(curve);
        expect(pathLengthMm(transformPath(rigid(angle, offset), curve))).toBeCloseTo(lengthMm, 5);
        expect(pathLengthMm(reversePath(curve))).toBeCloseTo(lengthMm, 5);
      }),
    );
  });

  it('is as long as its two parts', () => {
    fc.assert(
      fc.property(path, ratio, (curve, at) => {
        const [left, right] = splitAt(curve, at * ((curve.length - 1) / 3));
        expect(pathLengthMm(left) + pathLengthMm(right)).toBeCloseTo(pathLengthMm(curve), 5);
      }),
    );
  });

  it('is never shorter than its chords and no longer than its control polygon', () => {
    fc.assert(
      fc.property(path, (curve) => {
        const lengthMm = pathLengthMm(curve);
        expect(lengthMm).toBeGreaterThanOrEqual(polylineMm(flattenPath(curve, 0.5)) - 1e-6);
        expect(lengthMm).toBeLessThanOrEqual(polylineMm(curve) + 1e-6);
      }),
    );
  });

  it('gives back the length that led to a place', () => {
    fc.assert(
      fc.property(path, ratio, (curve, at) => {
        const wanted = at * pathLengthMm(curve);
        expect(pathLengthMm(subPath(curve, 0, wanted))).toBeCloseTo(wanted, 5);
        expect(parameterAtLength(curve, wanted)).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  it('is nearest to its own points at no distance', () => {
    fc.assert(
      fc.property(path, ratio, (curve, at) => {
        const { point: own } = pointAtLength(curve, at * pathLengthMm(curve));
        expect(nearestOnPath(curve, own).distanceMm).toBeLessThan(1e-5);
      }),
    );
  });

  it('crosses another at places that lie on both', () => {
    fc.assert(
      fc.property(path, path, (a, b) => {
        for (const hit of intersectPaths(a, b)) {
          expect(nearestOnPath(a, hit.point).distanceMm).toBeLessThan(1e-5);
          expect(nearestOnPath(b, hit.point).distanceMm).toBeLessThan(1e-5);
        }
      }),
    );
  });
});

function polylineMm(points: readonly Point[]): number {
  return points.reduce((sum, end, i) => (i === 0 ? 0 : sum + distance(points[i - 1]!, end)), 0);
}
