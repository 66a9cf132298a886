// How an edge goes on over what was not seen: round a corner where straight edges lead there, smoothly where they bend there.
import { describe, expect, it } from 'vitest';
import { type Point, tableMm } from '../../../../shared/base/points.ts';
import { distance } from '../../../../shared/geometry/vector.ts';
import { edgesWithDoubt } from '../../../../shared/vision/outline/doubtSigma.ts';
import { wayBetween } from '../../../../shared/vision/outline/edgeWay.ts';
import { type LocalCurve, localCurve } from '../../../../shared/vision/outline/localFit.ts';
import type { TracedEdge } from '../../../../shared/vision/traced.ts';

/** An edge of 20 mm that ends (or starts) at a place, bent by some radius; 0 = straight. */
function flank(at: Point, tangent: Point, which: 'before' | 'after', bendPerMm = 0): LocalCurve {
  const sign = which === 'before' ? -1 : 1;
  const s = Array.from({ length: 41 }, (_, i) => (sign * i) / 2);
  const points = s.map((mm): Point => {
    const [along, aside] =
      bendPerMm === 0 ? [mm, 0] : [Math.sin(mm * bendPerMm) / bendPerMm, (1 - Math.cos(mm * bendPerMm)) / bendPerMm];
    return [at[0] + along * tangent[0] - aside * tangent[1], at[1] + along * tangent[1] + aside * tangent[0]];
  });
  return localCurve(points, s)!;
}

/** To the right along y = 0 up to x = 0, and down along x = 90 from y = 6 on: the corner lies at (90, 0). */
const BEFORE = flank([0, 0], [1, 0], 'before');
const AFTER = flank([90, 6], [0, 1], 'after');

describe('the way over a covered stretch', () => {
  it('leads into the corner where straight edges meet, be it far from one of them', () => {
    const found = wayBetween(BEFORE, AFTER)!;
    expect(found.isCorner).toBe(true);
    expect(Math.min(...found.way.map((p) => distance(p, [90, 0])))).toBeLessThan(0.01);
  });

  it('leads there too when the far edge bends away from the other', () => {
    expect(wayBetween(flank([0, 0], [1, 0], 'before', -1 / 200), AFTER)?.isCorner).toBe(true);
  });

  it('guesses no corner so far ahead of an edge that bends toward the other: a curve may lead there', () => {
    expect(wayBetween(flank([0, 0], [1, 0], 'before', 1 / 100), AFTER)).toBeNull();
  });

  it('tells the bend of an edge by its radius (a circle of 80)', () => {
    expect(flank([0, 0], [1, 0], 'before', 1 / 80).bendPerMm).toBeCloseTo(1 / 80, 3);
    expect(BEFORE.bendPerMm).toBe(0);
  });
});

describe('the sigma of a bridged edge', () => {
  const corner: Point = [90, 0];
  const outline = [
    ...straightPoints([-60, 0], [0, 0]),
    ...straightPoints([0, 0], corner),
    ...straightPoints(corner, [90, 40]),
    ...straightPoints([90, 40], [90, 100]),
    ...straightPoints([90, 100], [-60, 100]),
    ...straightPoints([-60, 100], [-60, 0]),
  ];
  const edges = [
    [[-60, 0], corner],
    [corner, [90, 100]],
    [
      [90, 100],
      [-60, 100],
    ],
    [
      [-60, 100],
      [-60, 0],
    ],
  ].map(([from, to]) => edge(from as Point, to as Point));
  const doubtFrom = (points: readonly Point[], from: Point, to: Point, reason: 'covered' | 'weak-edge') => {
    const line = points.map(([x, y]) => tableMm(x, y));
    const at = (p: Point) => line.findIndex((q) => distance(p, q) < 1e-9);
    return edgesWithDoubt(edges, line, [{ fromIndex: at(from), toIndex: at(to), reason }]).map(
      ({ sigmaMm }) => sigmaMm,
    );
  };

  it('spans the corner and the roundest arc that fits under the cover: r (2 - pi/2) for a right angle, once in ten', () => {
    const [top] = doubtFrom(outline, [0, 0], [90, 40], 'covered');
    const arcMm = 40 * (2 - Math.PI / 2);
    expect(top!).toBeGreaterThan(Math.sqrt(0.1) * arcMm);
    expect(top!).toBeLessThan(Math.sqrt(0.1) * arcMm + 3);
  });

  it('spans the corner that a smooth bridge cut off', () => {
    const cut = [
      ...straightPoints([-60, 0], [0, 0]),
      ...straightPoints([0, 0], [90, 40]),
      ...straightPoints([90, 40], [90, 100]),
      ...straightPoints([90, 100], [-60, 100]),
      ...straightPoints([-60, 100], [-60, 0]),
    ];
    const missingMm = 90 + 40 - Math.hypot(90, 40);
    const [top] = doubtFrom(cut, [0, 0], [90, 40], 'covered');
    expect(2 * top!).toBeGreaterThan(missingMm);
  });

  it('stays within what a misled outline is off by when nothing of it is sure', () => {
    const line = outline.map(([x, y]) => tableMm(x, y));
    const all = { fromIndex: 0, toIndex: line.length - 1, reason: 'weak-edge' } as const;
    for (const { sigmaMm } of edgesWithDoubt(edges, line, [all])) {
      expect(sigmaMm).toBeGreaterThan(7);
      expect(sigmaMm).toBeLessThan(20);
    }
  });

  it('stays within that too when a measured stretch runs round several corners, wherever its sides would meet', () => {
    // the sides lean toward one another and would meet 225 mm above the sure base
    const corners: Point[] = [
      [0, 0],
      [100, 0],
      [80, 90],
      [20, 90],
    ];
    const next = (i: number): Point => corners[(i + 1) % 4]!;
    const line = corners.flatMap((from, i) => straightPoints(from, next(i))).map(([x, y]) => tableMm(x, y));
    const at = ([x, y]: Point) => line.findIndex((q) => distance([x, y], q) < 0.6);
    const unsure = { fromIndex: at([98, 9]), toIndex: at([2, 9]), reason: 'weak-edge' } as const;
    const found = edgesWithDoubt(
      corners.map((from, i) => edge(from, next(i))),
      line,
      [unsure],
    );
    for (const { sigmaMm } of found) expect(sigmaMm).toBeLessThan(27);
  });
});

function straightPoints(from: Point, to: Point): Point[] {
  const count = Math.round(distance(from, to));
  return Array.from({ length: count }, (_, i): Point => {
    const t = i / count;
    return [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];
  });
}

function edge(from: Point, to: Point): TracedEdge {
  const [a, b] = [tableMm(...from), tableMm(...to)];
  const between = (t: number) => tableMm(from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1]));
  return {
    id: 'e',
    curve: [a, between(1 / 3), between(2 / 3), b],
    lengthMm: distance(from, to),
    sigmaMm: 0.1,
    localSigmaMm: 0.1,
  };
}
