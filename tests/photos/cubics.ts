// Cubic paths of the simulated pieces: points, lengths and dense rings. Deliberately not the product's geometry, so that the
// truth of a photo does not depend on the code that is measured against it.
import type { Point } from '../../shared/base/points.ts';

/** 3n+1 control points. */
export type CubicPath = readonly Point[];

export function segmentsOf(path: CubicPath): (readonly [Point, Point, Point, Point])[] {
  const count = (path.length - 1) / 3;
  return Array.from(
    { length: count },
    (_, i) => [path[3 * i]!, path[3 * i + 1]!, path[3 * i + 2]!, path[3 * i + 3]!] as const,
  );
}

function cubicAt([a, b, c, d]: readonly [Point, Point, Point, Point], t: number): Point {
  const s = 1 - t;
  const [wa, wb, wc, wd] = [s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t];
  return [wa * a[0] + wb * b[0] + wc * c[0] + wd * d[0], wa * a[1] + wb * b[1] + wc * c[1] + wd * d[1]];
}

export function straight(a: Point, b: Point): CubicPath {
  const at = (t: number): Point => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
  return [a, at(1 / 3), at(2 / 3), b];
}

const STEPS = 400;
/** Second differences below this are rounding: the segment is straight. */
const STRAIGHT_MM = 1e-6;

/** Dense points along a path, ends included; chords of 400 steps a segment stay within 0.001 mm for curves of our size. */
export function densePath(path: CubicPath): Point[] {
  const points: Point[] = [path[0]!];
  for (const segment of segmentsOf(path)) {
    const [a, b, c, d] = segment;
    const bend =
      Math.hypot(a[0] - 2 * b[0] + c[0], a[1] - 2 * b[1] + c[1]) +
      Math.hypot(b[0] - 2 * c[0] + d[0], b[1] - 2 * c[1] + d[1]);
    const steps = bend < STRAIGHT_MM ? 1 : STEPS;
    for (let i = 1; i <= steps; i++) points.push(cubicAt(segment, i / steps));
  }
  return points;
}

export function polylineLength(points: readonly Point[]): number {
  let sum = 0;
  for (let i = 1; i < points.length; i++)
    sum += Math.hypot(points[i]![0] - points[i - 1]![0], points[i]![1] - points[i - 1]![1]);
  return sum;
}

/** Arc length by Gauss-Legendre of 5 points on 32 parts of every segment (Abramowitz & Stegun 25.4.30). */
export function pathLength(path: CubicPath): number {
  let sum = 0;
  for (const [a, b, c, d] of segmentsOf(path))
    for (let part = 0; part < 32; part++)
      GAUSS_NODES.forEach((node, i) => {
        const t = (part + (node + 1) / 2) / 32;
        const s = 1 - t;
        const dx = 3 * (s * s * (b[0] - a[0]) + 2 * s * t * (c[0] - b[0]) + t * t * (d[0] - c[0]));
        const dy = 3 * (s * s * (b[1] - a[1]) + 2 * s * t * (c[1] - b[1]) + t * t * (d[1] - c[1]));
        sum += (GAUSS_WEIGHTS[i]! * Math.hypot(dx, dy)) / 64;
      });
  return sum;
}

const GAUSS_NODES = [-0.906179845938664, -0.538469310105683, 0, 0.538469310105683, 0.906179845938664];
const GAUSS_WEIGHTS = [0.236926885056189, 0.478628670499366, 0.568888888888889, 0.478628670499366, 0.236926885056189];

/** Point and unit tangent at an arc length along a polyline; extrapolated beyond its ends. */
export function alongPolyline(points: readonly Point[], atMm: number): { readonly at: Point; readonly tangent: Point } {
  let left = atMm;
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1]!, points[i]!];
    const step = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (step > 0 && (left <= step || i === points.length - 1)) {
      const tangent: Point = [(b[0] - a[0]) / step, (b[1] - a[1]) / step];
      return { at: [a[0] + tangent[0] * left, a[1] + tangent[1] * left], tangent };
    }
    left -= step;
  }
  throw new Error('a path without length has no place on it');
}
