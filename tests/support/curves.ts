// Curves with known measures, and seeded randomness, for the geometry tests.
import type { Point } from '../../shared/base/points.ts';
import { type CubicPath, joinPaths, polylinePath } from '../../shared/geometry/cubicPath.ts';

/** Points of an ellipse about the origin, clockwise on the screen (y down), last = first. */
export function ellipsePoints(a: number, b: number, steps: number): Point[] {
  return Array.from({ length: steps + 1 }, (_, i) => {
    const angle = (2 * Math.PI * (i % steps)) / steps;
    return [a * Math.cos(angle), b * Math.sin(angle)] as const;
  });
}

/**
 * A smooth parametric curve as Hermite cubics on the exact points and derivatives: its error falls with steps⁴, so that
 * enough steps stand for the curve itself.
 */
export function hermitePath(
  point: (t: number) => Point,
  derivative: (t: number) => Point,
  from: number,
  to: number,
  steps: number,
): CubicPath {
  const h = (to - from) / steps;
  const cubics = Array.from({ length: steps }, (_, i) => {
    const t0 = from + h * i;
    const t1 = from + h * (i + 1);
    const [p, s, d0, d1] = [point(t0), point(t1), derivative(t0), derivative(t1)];
    const q: Point = [p[0] + (d0[0] * h) / 3, p[1] + (d0[1] * h) / 3];
    const r: Point = [s[0] - (d1[0] * h) / 3, s[1] - (d1[1] * h) / 3];
    return [p, q, r, s];
  });
  return joinPaths(cubics);
}

/** An ellipse about the origin, clockwise on the screen (y down). */
export function ellipsePath(a: number, b: number, steps: number): CubicPath {
  return hermitePath(
    (t) => [a * Math.cos(t), b * Math.sin(t)],
    (t) => [-a * Math.sin(t), b * Math.cos(t)],
    0,
    2 * Math.PI,
    steps,
  );
}

/** An arc about the origin from angle 0 clockwise on the screen (y down). */
export function arcPath(radius: number, sweepDeg: number, steps: number): CubicPath {
  return hermitePath(
    (t) => [radius * Math.cos(t), radius * Math.sin(t)],
    (t) => [-radius * Math.sin(t), radius * Math.cos(t)],
    0,
    (sweepDeg * Math.PI) / 180,
    steps,
  );
}

/** The sides of a closed polygon, one straight path each. */
export function polygonRing(corners: readonly Point[]): CubicPath[] {
  return corners.map((corner, i) => polylinePath([corner, corners[(i + 1) % corners.length]!]));
}

export function squareRing(sideMm: number): CubicPath[] {
  return polygonRing([
    [0, 0],
    [sideMm, 0],
    [sideMm, sideMm],
    [0, sideMm],
  ]);
}

/** Normal deviates from a seeded congruential generator (Box-Muller). */
export function gaussianNoise(seed: number): () => number {
  let state = seed;
  const uniform = (): number => {
    state = (state * 1103515245 + 12345) % 2147483648;
    return (state + 0.5) / 2147483648;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}
