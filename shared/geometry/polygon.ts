// Polygons and polylines: area, sides, centre, thinning and even spacing. Which side a point lies on is decided exactly
// (robust predicates), magnitudes in floats.
import { orient2d } from 'robust-predicates';
import type { Point } from '../base/points.ts';
import { distance, lerp } from './vector.ts';

/** Signed area of a closed polygon (first point not repeated): positive = clockwise as seen on the screen (y down). */
export function signedAreaMm2(polygon: readonly Point[]): number {
  const origin = polygon[0];
  if (origin === undefined) return 0;
  let doubled = 0;
  for (let i = 1; i + 1 < polygon.length; i++) {
    const a = polygon[i]!;
    const b = polygon[i + 1]!;
    doubled += (a[0] - origin[0]) * (b[1] - origin[1]) - (a[1] - origin[1]) * (b[0] - origin[0]);
  }
  return doubled / 2;
}

/** True when the closed polygon runs clockwise as seen on the screen (y down). */
export function isClockwise(polygon: readonly Point[]): boolean {
  return signedAreaMm2(polygon) > 0;
}

/** True when the point lies inside the closed polygon or on its outline (even-odd rule, decided exactly). */
export function pointInPolygon(point: Point, polygon: readonly Point[]): boolean {
  let inside = false;
  for (let i = 0; i < polygon.length; i++) {
    const a = polygon[i]!;
    const b = polygon[(i + 1) % polygon.length]!;
    const side = orient2d(a[0], a[1], b[0], b[1], point[0], point[1]);
    if (side === 0 && isBetween(point, a, b)) return true;
    const upward = a[1] <= point[1] && b[1] > point[1];
    const downward = b[1] <= point[1] && a[1] > point[1];
    // orient2d is positive when a, b, point turn counter-clockwise with y up.
    if ((upward && side > 0) || (downward && side < 0)) inside = !inside;
  }
  return inside;
}

/** Centre of area of a closed polygon; the mean of its points when it has no area. Throws on an empty polygon. */
export function polygonCentroid(polygon: readonly Point[]): Point {
  const origin = polygon[0];
  if (origin === undefined) throw new Error('an empty polygon has no centre');
  let doubled = 0;
  let x = 0;
  let y = 0;
  for (let i = 1; i + 1 < polygon.length; i++) {
    const a = polygon[i]!;
    const b = polygon[i + 1]!;
    const weight = (a[0] - origin[0]) * (b[1] - origin[1]) - (a[1] - origin[1]) * (b[0] - origin[0]);
    doubled += weight;
    x += weight * (a[0] + b[0] - 2 * origin[0]);
    y += weight * (a[1] + b[1] - 2 * origin[1]);
  }
  if (doubled !== 0) return [origin[0] + x / (3 * doubled), origin[1] + y / (3 * doubled)];
  const mean = polygon.reduce((sum, p) => [sum[0] + p[0], sum[1] + p[1]] as const, [0, 0] as const);
  return [mean[0] / polygon.length, mean[1] / polygon.length];
}

/**
 * The polyline with as many points dropped as its shape allows: none left out lies farther than toleranceMm from it.
 * Ends are kept. Source: Douglas & Peucker 1973.
 */
export function simplifyPolyline(points: readonly Point[], toleranceMm: number): Point[] {
  if (points.length <= 2) return [...points];
  const keep = new Uint8Array(points.length);
  keep[0] = 1;
  keep[points.length - 1] = 1;
  const open: [number, number][] = [[0, points.length - 1]];
  for (let range = open.pop(); range !== undefined; range = open.pop()) {
    const [from, to] = range;
    let farthest = -1;
    let farthestMm = toleranceMm;
    for (let i = from + 1; i < to; i++) {
      const awayMm = distanceToSegment(points[i]!, points[from]!, points[to]!);
      if (awayMm > farthestMm) {
        farthest = i;
        farthestMm = awayMm;
      }
    }
    if (farthest < 0) continue;
    keep[farthest] = 1;
    open.push([from, farthest], [farthest, to]);
  }
  return points.filter((_, i) => keep[i] === 1);
}

/** Points at even distances along the polyline, at most stepMm apart, both ends kept. */
export function resamplePolyline(points: readonly Point[], stepMm: number): Point[] {
  if (!(stepMm > 0)) throw new Error('a step is a positive number of millimetres');
  if (points.length < 2) return [...points];
  const along = new Float64Array(points.length);
  for (let i = 1; i < points.length; i++) along[i] = along[i - 1]! + distance(points[i - 1]!, points[i]!);
  const total = along[points.length - 1]!;
  const steps = Math.max(1, Math.ceil(total / stepMm));
  const even: Point[] = [points[0]!];
  let i = 1;
  for (let k = 1; k < steps; k++) {
    const wanted = (total * k) / steps;
    while (along[i]! < wanted) i++;
    even.push(lerp(points[i - 1]!, points[i]!, (wanted - along[i - 1]!) / (along[i]! - along[i - 1]!)));
  }
  even.push(points[points.length - 1]!);
  return even;
}

/** Distance of a point from a straight segment; from its start when the segment has no length. */
export function distanceToSegment(point: Point, a: Point, b: Point): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const squared = dx * dx + dy * dy;
  const ratio = squared === 0 ? 0 : ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / squared;
  return distance(point, lerp(a, b, Math.min(1, Math.max(0, ratio))));
}

function isBetween(point: Point, a: Point, b: Point): boolean {
  const inX = Math.min(a[0], b[0]) <= point[0] && point[0] <= Math.max(a[0], b[0]);
  const inY = Math.min(a[1], b[1]) <= point[1] && point[1] <= Math.max(a[1], b[1]);
  return inX && inY;
}
