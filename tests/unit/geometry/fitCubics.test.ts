import { describe, expect, it } from 'vitest';
import type { Point } from '../../../shared/base/points.ts';
import { pathLengthMm } from '../../../shared/geometry/arcLength.ts';
import { endOf, endTangent, segmentCount, splitAt, startOf, tangentAt } from '../../../shared/geometry/cubicPath.ts';
import { fitCubicPath } from '../../../shared/geometry/fitCubics.ts';
import { nearestOnPath } from '../../../shared/geometry/nearest.ts';
import { angleDeg, distance, turnDeg } from '../../../shared/geometry/vector.ts';
import { ellipsePoints, gaussianNoise } from '../../support/curves.ts';

describe('fitting cubics', () => {
  it('through two points gives the straight line', () => {
    expect(
      pathLengthMm(
        fitCubicPath(
          [
            [0, 0],
            [30, 40],
          ],
          { toleranceMm: 0.1 },
        ),
      ),
    ).toBeCloseTo(50, 9);
  });

  it('refuses points that are all the same', () => {
    expect(() =>
      fitCubicPath(
        [
          [1, 1],
          [1, 1],
        ],
        { toleranceMm: 0.1 },
      ),
    ).toThrow('two different points');
  });

  it.each([0.001, 0.01, 0.1, 1])('keeps within %f of every point and to the end points', (toleranceMm) => {
    const points = ellipsePoints(100, 60, 400).slice(0, 301);
    const path = fitCubicPath(points, { toleranceMm });
    for (const point of points) expect(nearestOnPath(path, point).distanceMm).toBeLessThanOrEqual(toleranceMm);
    expect(startOf(path)).toEqual(points[0]);
    expect(endOf(path)).toEqual(points[300]);
  });

  it('needs only a few cubics for a smooth curve', () => {
    expect(segmentCount(fitCubicPath(ellipsePoints(100, 60, 400), { toleranceMm: 0.1 }))).toBeLessThanOrEqual(10);
  });

  it('is smooth at every joint', () => {
    const path = fitCubicPath(ellipsePoints(100, 60, 400), { toleranceMm: 0.02 });
    for (let joint = 1; joint < segmentCount(path); joint++) {
      expect(Math.abs(turnDeg(endTangent(splitAt(path, joint)[0]), tangentAt(path, joint)))).toBeLessThan(1e-6);
    }
  });

  it('keeps the tangents it is given', () => {
    const arc = ellipsePoints(100, 100, 400).slice(0, 101);
    const path = fitCubicPath(arc, { toleranceMm: 0.05, startTangent: [0, 1], endTangent: [-1, 0] });
    expect(angleDeg(tangentAt(path, 0))).toBeCloseTo(90, 9);
    expect(Math.abs(angleDeg(endTangent(path)))).toBeCloseTo(180, 9);
  });

  it('measures a noisy outline without curling: σ 0.03 at 1 mm, tolerance 5σ', () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      const noise = gaussianNoise(seed);
      const points = ellipsePoints(100, 60, 510).map(([x, y]): Point => [x + 0.03 * noise(), y + 0.03 * noise()]);
      const path = fitCubicPath(points, { toleranceMm: 0.15 });
      expect(Math.abs(pathLengthMm(path) - 510.539977268)).toBeLessThan(0.2);
    }
  });

  it('follows a corner by small cubics rather than missing it', () => {
    const points: Point[] = [
      ...Array.from({ length: 20 }, (_, i): Point => [i, 0]),
      ...Array.from({ length: 20 }, (_, i): Point => [20, i]),
    ];
    const path = fitCubicPath(points, { toleranceMm: 0.05 });
    expect(Math.max(...points.map((point) => nearestOnPath(path, point).distanceMm))).toBeLessThanOrEqual(0.05);
    expect(distance(endOf(path), [20, 19])).toBe(0);
  });
});
