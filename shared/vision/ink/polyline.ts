// Small measures on open polylines in the plane, for pen strokes: length along, direction over a stretch, straight fits.
import type { Point } from '../../base/points.ts';
import { cross, distance, dot, sub } from '../../geometry/vector.ts';

/** A straight line: a point on it (the centroid of what was fitted) and a unit direction. */
export interface StraightFit {
  readonly centre: Point;
  readonly direction: Point;
  /** Root mean square distance of the points from the line. */
  readonly rms: number;
}

/** The point `by` along a direction. */
export function moved(p: Point, direction: Point, by: number): Point {
  return [p[0] + by * direction[0], p[1] + by * direction[1]];
}

/** A quarter turn clockwise as seen on the screen (y down): the inside of a clockwise ring. Same length. */
export function turned(a: Point): Point {
  return [-a[1], a[0]];
}

/** Angle between two directions, 0-180 degrees; 0 when one is null. */
export function angleBetweenDeg(a: Point, b: Point): number {
  return (Math.atan2(Math.abs(cross(a, b)), dot(a, b)) * 180) / Math.PI;
}

/** Angle between two lines, 0-90 degrees. */
export function lineAngleDeg(a: Point, b: Point): number {
  const angle = angleBetweenDeg(a, b);
  return angle > 90 ? 180 - angle : angle;
}

/** Running length at each point, starting with 0. */
export function runningLength(points: readonly Point[]): Float64Array {
  const lengths = new Float64Array(points.length);
  for (let i = 1; i < points.length; i++) lengths[i] = lengths[i - 1]! + distance(points[i - 1]!, points[i]!);
  return lengths;
}

export function polylineLength(points: readonly Point[]): number {
  let sum = 0;
  for (let i = 1; i < points.length; i++) sum += distance(points[i - 1]!, points[i]!);
  return sum;
}

/** The point at a length along the polyline, and the index before it; clamped to the ends. */
export function pointAtLength(points: readonly Point[], lengths: Float64Array, at: number): Point {
  const last = points.length - 1;
  if (at <= 0) return points[0]!;
  if (at >= lengths[last]!) return points[last]!;
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (lengths[mid]! <= at) low = mid;
    else high = mid;
  }
  const t = (at - lengths[low]!) / (lengths[high]! - lengths[low]! || 1);
  const a = points[low]!;
  const b = points[high]!;
  return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
}

/** Total least squares line through points (two or more that do not all coincide). */
export function fitStraight(points: readonly Point[]): StraightFit {
  const n = points.length;
  let cx = 0;
  let cy = 0;
  for (const p of points) {
    cx += p[0] / n;
    cy += p[1] / n;
  }
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (const p of points) {
    xx += (p[0] - cx) ** 2;
    xy += (p[0] - cx) * (p[1] - cy);
    yy += (p[1] - cy) ** 2;
  }
  const angle = Math.atan2(2 * xy, xx - yy) / 2;
  const direction: Point = [Math.cos(angle), Math.sin(angle)];
  const across = xx * direction[1] ** 2 - 2 * xy * direction[0] * direction[1] + yy * direction[0] ** 2;
  return { centre: [cx, cy], direction, rms: Math.sqrt(Math.max(0, across) / n) };
}

/** Where two straight lines cross; null when they are parallel. */
export function crossingOf(a: StraightFit, b: StraightFit): Point | null {
  const det = cross(a.direction, b.direction);
  if (det === 0) return null;
  const t = cross(sub(b.centre, a.centre), b.direction) / det;
  return moved(a.centre, a.direction, t);
}

/** Distance across a line, signed, and position along it. */
export function inLine(line: StraightFit, p: Point): { along: number; across: number } {
  const d = sub(p, line.centre);
  return { along: dot(d, line.direction), across: cross(line.direction, d) };
}
