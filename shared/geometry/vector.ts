// Plain vector arithmetic on points and directions, y down as on the screen.
import type { Point } from '../base/points.ts';

const DEGREES_PER_RADIAN = 180 / Math.PI;

export function add(a: Point, b: Point): Point {
  return [a[0] + b[0], a[1] + b[1]];
}

/** a − b. */
export function sub(a: Point, b: Point): Point {
  return [a[0] - b[0], a[1] - b[1]];
}

export function scale(a: Point, factor: number): Point {
  return [a[0] * factor, a[1] * factor];
}

export function dot(a: Point, b: Point): number {
  return a[0] * b[0] + a[1] * b[1];
}

/** Positive when b points clockwise of a as seen on the screen (y down). */
export function cross(a: Point, b: Point): number {
  return a[0] * b[1] - a[1] * b[0];
}

export function norm(a: Point): number {
  return Math.sqrt(a[0] * a[0] + a[1] * a[1]); // far faster than Math.hypot, and millimetres never overflow
}

export function distance(a: Point, b: Point): number {
  const dx = a[0] - b[0];
  const dy = a[1] - b[1];
  return Math.sqrt(dx * dx + dy * dy);
}

/** a at ratio 0, b at ratio 1; not clamped. */
export function lerp(a: Point, b: Point, ratio: number): Point {
  return [a[0] + (b[0] - a[0]) * ratio, a[1] + (b[1] - a[1]) * ratio];
}

/** The direction of a, length 1; [0, 0] for the zero vector, which has none. */
export function unit(a: Point): Point {
  const length = norm(a);
  return length === 0 ? [0, 0] : [a[0] / length, a[1] / length];
}

/** A quarter turn to the left of travel as seen on the screen (y down): right becomes up. Same length. */
export function leftNormal(a: Point): Point {
  return [a[1], -a[0]];
}

/** Direction of a vector in degrees, −180 to 180: 0 points right, 90 points down (y down). 0 for the zero vector. */
export function angleDeg(a: Point): number {
  return Math.atan2(a[1], a[0]) * DEGREES_PER_RADIAN;
}

/** Turn from a to b in degrees, −180 to 180; positive is clockwise as seen on the screen (y down). */
export function turnDeg(a: Point, b: Point): number {
  return Math.atan2(cross(a, b), dot(a, b)) * DEGREES_PER_RADIAN;
}
