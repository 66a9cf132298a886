// Lengths of curves against closed forms, published values and an independent Bézier library.
import { Bezier } from 'bezier-js';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../shared/base/points.ts';
import { pathLengthMm, pointAtLength, subPath } from '../../shared/geometry/arcLength.ts';
import { type CubicPath, endOf, transformPath } from '../../shared/geometry/cubicPath.ts';
import { fitCubicPath } from '../../shared/geometry/fitCubics.ts';
import { type Affine, compose, rigid } from '../../shared/geometry/transform.ts';
import { distance } from '../../shared/geometry/vector.ts';
import { ellipsePath, hermitePath } from '../support/curves.ts';

const S_CURVE: CubicPath = [
  [0, 0],
  [0, 100],
  [100, 0],
  [100, 100],
];
const ARMHOLE_LIKE: CubicPath = [
  [0, 0],
  [0, 60],
  [40, 100],
  [100, 100],
];

describe('lengths that are known in closed form', () => {
  it.each([
    // 4 a E(e), complete elliptic integral, by the arithmetic-geometric mean (Abramowitz & Stegun 17.6).
    { what: 'ellipse 100 x 60', path: ellipsePath(100, 60, 400), lengthMm: 510.539977268 },
    { what: 'ellipse 2 x 1', path: ellipsePath(2, 1, 400), lengthMm: 9.6884482205 },
    {
      // sqrt(5)/2 + asinh(2)/4: integral of sqrt(1 + 4x²).
      what: 'y = x² from 0 to 1',
      path: [
        [0, 0],
        [1 / 3, 0],
        [2 / 3, 1 / 3],
        [1, 1],
      ] as CubicPath,
      lengthMm: Math.sqrt(5) / 2 + Math.asinh(2) / 4,
    },
    {
      // Parabola arch span 100, rise 25: the quadratic (0,0)(50,50)(100,0), degree raised. Computed from the definition.
      what: 'parabola arch',
      path: [
        [0, 0],
        [100 / 3, 100 / 3],
        [200 / 3, 100 / 3],
        [100, 0],
      ] as CubicPath,
      lengthMm: 50 * (Math.SQRT2 + Math.asinh(1)),
    },
    // Computed from the definition, integral of |B'|.
    { what: 'cubic S', path: S_CURVE, lengthMm: 167.654262742 },
    { what: 'armhole-like cubic', path: ARMHOLE_LIKE, lengthMm: 159.2185390223 },
    {
      // Riškus, "Approximation of a cubic Bézier curve by circular arcs" (2006): k = 4(√2 − 1)/3; length computed.
      what: 'quarter circle as one cubic',
      path: [
        [1, 0],
        [1, 0.5522847498],
        [0.5522847498, 1],
        [0, 1],
      ] as CubicPath,
      lengthMm: 1.5710166981,
    },
    {
      // Huygens / Wren 1658: one arch of a cycloid is eight radii; it ends in cusps.
      what: 'cycloid of radius 10',
      path: hermitePath(
        (t) => [10 * (t - Math.sin(t)), -10 * (1 - Math.cos(t))],
        (t) => [10 * (1 - Math.cos(t)), -10 * Math.sin(t)],
        0,
        2 * Math.PI,
        400,
      ),
      lengthMm: 80,
    },
    {
      // Catenary: the length of cosh x from 0 to 1 is sinh 1.
      what: 'catenary from 0 to 1',
      path: hermitePath(
        (t) => [t, Math.cosh(t)],
        (t) => [1, Math.sinh(t)],
        0,
        1,
        200,
      ),
      lengthMm: Math.sinh(1),
    },
  ])('measures the $what', ({ path, lengthMm }) => {
    expect(Math.abs(pathLengthMm(path) / lengthMm - 1)).toBeLessThan(1e-9);
  });

  it('shows the known excess of a cubic quarter circle: 0.01403 % too long', () => {
    const k = 0.5522847498;
    const quarter: CubicPath = [
      [1, 0],
      [1, k],
      [k, 1],
      [0, 1],
    ];
    // Computed from the definition: +1.402927e-4 of π/2.
    expect(pathLengthMm(quarter) / (Math.PI / 2) - 1).toBeCloseTo(1.402927e-4, 9);
  });

  it('walks a clothoid of end radius 100 and length 50 to its end point', () => {
    // Fresnel integrals: tangent angle s² / (2 R L). End point (49.6884029215, 4.1481024269), computed from the series
    // of Abramowitz & Stegun 7.3.11-7.3.13; the length is 50 by construction.
    const path = clothoid(100, 50, 200);
    expect(pathLengthMm(path)).toBeCloseTo(50, 7);
    expect(endOf(path)[0]).toBeCloseTo(49.6884029215, 7);
    expect(endOf(path)[1]).toBeCloseTo(4.1481024269, 7);
    const turnDeg = (Math.atan2(...swap(pointAtLength(path, 50).tangent)) * 180) / Math.PI;
    expect(turnDeg).toBeCloseTo(14.3239449, 4); // L / (2 R) radians
  });

  it('fits points of the clothoid and still measures 50', () => {
    const points = Array.from({ length: 51 }, (_, i) => pointAtLength(clothoid(100, 50, 200), i).point);
    expect(pathLengthMm(fitCubicPath(points, { toleranceMm: 0.01 }))).toBeCloseTo(50, 2);
  });

  it('fits points of an ellipse and finds its perimeter to a few hundredths', () => {
    const points = Array.from({ length: 501 }, (_, i) => pointAtLength(ellipsePath(100, 60, 64), i * 1.02108).point);
    const fitted = fitCubicPath([...points.slice(0, 500), points[0]!], { toleranceMm: 0.02 });
    expect(Math.abs(pathLengthMm(fitted) - 510.539977268)).toBeLessThan(0.03);
  });
});

describe('the same curve in other frames', () => {
  const frames: { what: string; map: Affine; factor: number }[] = [0.01, 0.1, 1, 10, 100].flatMap((factor) =>
    [0, 37, 90, 211].flatMap((angle) =>
      [1, -1].map((mirror) => ({
        what: `scaled ${factor}, turned ${angle}, ${mirror < 0 ? 'mirrored' : 'not mirrored'}`,
        map: compose(rigid(angle, [1234.5, -678.9]), [factor * mirror, 0, 0, factor, 0, 0]),
        factor,
      })),
    ),
  );
  it.each(frames)('keeps lengths and places: $what', ({ map, factor }) => {
    const path = transformPath(map, ARMHOLE_LIKE);
    expect(Math.abs(pathLengthMm(path) / (159.2185390223 * factor) - 1)).toBeLessThan(1e-8);
    const half = subPath(path, 0, (159.2185390223 * factor) / 2);
    const expected = transformPath(map, [pointAtLength(ARMHOLE_LIKE, 159.2185390223 / 2).point])[0]!;
    expect(distance(endOf(half), expected)).toBeLessThan(2e-6 * Math.max(1, factor));
  });
});

describe('an independent library', () => {
  it.each([
    { what: 'an S', path: S_CURVE },
    { what: 'an armhole', path: ARMHOLE_LIKE },
    {
      what: 'a near loop',
      path: [
        [0, 0],
        [150, 20],
        [-60, 80],
        [90, 10],
      ] as CubicPath,
    },
  ])('agrees with bezier-js on the length of $what', ({ path }) => {
    // bezier-js 6 uses one 24-point Gauss-Legendre rule without halving: too coarse near a cusp, so it is asked in parts.
    const other = new Bezier(path.map(([x, y]) => ({ x, y })));
    const parts = Array.from({ length: 64 }, (_, i) => other.split(i / 64, (i + 1) / 64).length());
    expect(pathLengthMm(path)).toBeCloseTo(
      parts.reduce((sum, part) => sum + part, 0),
      6,
    );
  });

  it('agrees with bezier-js on a point and its normal along the curve', () => {
    const other = new Bezier(ARMHOLE_LIKE.map(([x, y]) => ({ x, y })));
    const halfwayMm = other.split(0, 0.4).length();
    const { point, tangent } = pointAtLength(ARMHOLE_LIKE, halfwayMm);
    expect(distance(point, [other.get(0.4).x, other.get(0.4).y])).toBeLessThan(1e-5);
    const { x, y } = other.derivative(0.4);
    expect(tangent[0] * y - tangent[1] * x).toBeCloseTo(0, 4);
  });
});

/** Points by Simpson's rule on the definition, exact derivatives: x' = cos φ, y' = sin φ, φ = s² / (2 R L). */
function clothoid(radius: number, length: number, steps: number): CubicPath {
  const angle = (s: number): number => (s * s) / (2 * radius * length);
  const points: Point[] = [[0, 0]];
  const h = length / steps;
  for (let i = 0; i < steps; i++) {
    const [a, b, c] = [h * i, h * (i + 0.5), h * (i + 1)].map(angle) as [number, number, number];
    const [x, y] = points[i]!;
    points.push([
      x + (h / 6) * (Math.cos(a) + 4 * Math.cos(b) + Math.cos(c)),
      y + (h / 6) * (Math.sin(a) + 4 * Math.sin(b) + Math.sin(c)),
    ]);
  }
  return hermitePath(
    (s) => points[Math.round(s / h)]!,
    (s) => [Math.cos(angle(s)), Math.sin(angle(s))],
    0,
    length,
    steps,
  );
}

function swap([x, y]: Point): [number, number] {
  return [y, x];
}
