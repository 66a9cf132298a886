import { describe, expect, it } from 'vitest';
import { type Point, type TablePointMm, tableMm } from '../../../../shared/base/points.ts';
import { resamplePolyline } from '../../../../shared/geometry/polygon.ts';
import { GAP, SEEN } from '../../../../shared/vision/outline/coarseOutline.ts';
import { straightened } from '../../../../shared/vision/segment/strayRuns.ts';
import { distanceToRing } from '../../../support/paperRaster.ts';

const SPACING_MM = 0.8;
const SQUARE: Point[] = [
  [0, 0],
  [200, 0],
  [200, 200],
  [0, 200],
];

/** The contour through these corners, and what is soft and covered of it. */
function contour(
  ring: readonly Point[],
  isSoft: (at: Point) => boolean,
  isCovered: (at: Point) => boolean = () => false,
) {
  const points: TablePointMm[] = resamplePolyline([...ring, ring[0]!], SPACING_MM)
    .slice(0, -1)
    .map(([x, y]) => tableMm(x, y));
  const flags = (is: (at: Point) => boolean): Uint8Array => Uint8Array.from(points, (at) => (is(at) ? 1 : 0));
  return { points, result: straightened(points, flags(isCovered), flags(isSoft), SPACING_MM) };
}

const farthest = (points: readonly Point[]): number => Math.max(...points.map((at) => distanceToRing(SQUARE, at)));

describe('straightened', () => {
  const bulge: Point[] = [
    [0, 0],
    [80, 0],
    [85, -30],
    [110, -30],
    [115, 0],
    [200, 0],
    [200, 200],
    [0, 200],
  ];

  it('goes straight on where the contour follows a brim without a sharp step', () => {
    const { result } = contour(bulge, ([, y]) => y < -0.1);
    expect(farthest(result.points)).toBeLessThan(0.5);
    expect(result.state).toContain(GAP);
  });

  it('sees one brim in soft runs with a sharper place between them', () => {
    const { result } = contour(bulge, ([x, y]) => y < -0.1 && (x < 90 || x > 104));
    expect(farthest(result.points)).toBeLessThan(0.5);
  });

  it('leaves a tongue of paper with a sharp border as it is', () => {
    const { points, result } = contour(bulge, () => false);
    expect(result.points).toEqual(points);
    expect(new Set(result.state)).toEqual(new Set([SEEN]));
  });

  it('leaves what a cover touches to the bridge over the cover', () => {
    const { points, result } = contour(
      bulge,
      ([, y]) => y < -0.1,
      ([, y]) => y < -29,
    );
    expect(result.points).toEqual(points);
  });

  it('puts a corner back that was bitten off', () => {
    const bitten: Point[] = [
      [0, 0],
      [185, 0],
      [200, 18],
      [200, 200],
      [0, 200],
    ];
    const { result } = contour(bitten, ([x, y]) => x > 185.1 && y < 17.9);
    expect(Math.min(...result.points.map(([x, y]) => Math.hypot(x - 200, y)))).toBeLessThan(0.3);
  });

  it('keeps a faint edge between two corners', () => {
    const { points, result } = contour(SQUARE, ([x, y]) => y < 0.1 && x > 5 && x < 195);
    expect(result.points).toEqual(points);
  });

  it('keeps a faint edge that goes on as its neighbours do', () => {
    const { points, result } = contour(SQUARE, ([x, y]) => y < 0.1 && x > 60 && x < 140);
    expect(result.points).toEqual(points);
  });
});
