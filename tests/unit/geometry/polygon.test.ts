import { describe, expect, it } from 'vitest';
import type { Point } from '../../../shared/base/points.ts';
import { flattenPath } from '../../../shared/geometry/flatten.ts';
import { nearestOnPath } from '../../../shared/geometry/nearest.ts';
import {
  distanceToSegment,
  isClockwise,
  pointInPolygon,
  polygonCentroid,
  resamplePolyline,
  signedAreaMm2,
  simplifyPolyline,
} from '../../../shared/geometry/polygon.ts';
import { distance, lerp } from '../../../shared/geometry/vector.ts';
import { arcPath, ellipsePoints } from '../../support/curves.ts';

const L: Point[] = [
  [0, 0],
  [60, 0],
  [60, 20],
  [20, 20],
  [20, 80],
  [0, 80],
];

describe('polygons with y down', () => {
  it('have positive area when they run clockwise on the screen', () => {
    expect(signedAreaMm2(L)).toBe(2400);
    expect(isClockwise(L)).toBe(true);
    expect(isClockwise(L.toReversed())).toBe(false);
    expect(signedAreaMm2([])).toBe(0);
  });

  it('know inside from outside, and count their outline as inside', () => {
    expect(pointInPolygon([10, 50], L)).toBe(true);
    expect(pointInPolygon([40, 50], L)).toBe(false);
    expect(pointInPolygon([20, 50], L)).toBe(true);
    expect(pointInPolygon([-1e-12, 50], L)).toBe(false);
    expect(pointInPolygon([70, 20], L)).toBe(false);
    expect(pointInPolygon([10, 50], L.toReversed())).toBe(true);
  });

  it('have their centre of area', () => {
    // Two rectangles: 60 x 20 at (30, 10) and 20 x 60 at (10, 50).
    expect(polygonCentroid(L)).toEqual([20, 30]);
    expect(
      polygonCentroid([
        [0, 0],
        [10, 0],
      ]),
    ).toEqual([5, 0]);
    expect(() => polygonCentroid([])).toThrow('no centre');
  });
});

describe('polylines', () => {
  it('lose the points that their shape does not need', () => {
    const points = ellipsePoints(100, 60, 1000);
    const thin = simplifyPolyline(points, 0.1);
    expect(thin.length).toBeLessThan(100);
    for (const point of points) {
      const away = Math.min(...thin.slice(1).map((end, i) => distanceToSegment(point, thin[i]!, end)));
      expect(away).toBeLessThanOrEqual(0.1);
    }
  });

  it('are spaced evenly with both ends kept', () => {
    const even = resamplePolyline(
      [
        [0, 0],
        [3, 0],
        [3, 9.5],
      ],
      2,
    );
    expect(even[0]).toEqual([0, 0]);
    expect(even.at(-1)).toEqual([3, 9.5]);
    expect(even.length).toBe(8);
    expect(distance(even[3]!, even[4]!)).toBeCloseTo(12.5 / 7, 12);
    expect(() => resamplePolyline(L, 0)).toThrow('positive');
  });
});

describe('flattening', () => {
  it.each([0.5, 0.02, 0.001])('keeps chords within %f of the curve', (chordMm) => {
    const arc = arcPath(100, 180, 2);
    const points = flattenPath(arc, chordMm);
    for (let i = 1; i < points.length; i++) {
      expect(nearestOnPath(arc, lerp(points[i - 1]!, points[i]!, 0.5)).distanceMm).toBeLessThanOrEqual(chordMm);
    }
  });

  it('refuses a chord tolerance of nothing', () => {
    expect(() => flattenPath(arcPath(1, 90, 1), 0)).toThrow('positive');
  });
});
