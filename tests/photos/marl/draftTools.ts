// Drawing aids for the demo pieces: curves that leave and arrive in given directions and have a given length.
import type { Point } from '../../../shared/base/points.ts';
import { type CubicPath, pathLength } from '../cubics.ts';
import { solve } from './solve.ts';

/** Unit direction, degrees clockwise from +x as seen with y down. */
export function direction(deg: number): Point {
  const r = (deg * Math.PI) / 180;
  return [Math.cos(r), Math.sin(r)];
}

export function moved(p: Point, along: Point, byMm: number): Point {
  return [p[0] + along[0] * byMm, p[1] + along[1] * byMm];
}

/** A cubic from a in direction leaveDeg to b arriving in direction arriveDeg; handles are shares of the chord. */
export function curveBetween(
  a: Point,
  leaveDeg: number,
  b: Point,
  arriveDeg: number,
  handleA: number,
  handleB: number,
): CubicPath {
  const chord = Math.hypot(b[0] - a[0], b[1] - a[1]);
  return [a, moved(a, direction(leaveDeg), handleA * chord), moved(b, direction(arriveDeg), -handleB * chord), b];
}

/** The same with both handles stretched alike until the curve has a length. */
export function curveOfLength(
  a: Point,
  leaveDeg: number,
  b: Point,
  arriveDeg: number,
  lengthMm: number,
  weights: readonly [number, number] = [1, 1],
): CubicPath {
  const at = (k: number): CubicPath => curveBetween(a, leaveDeg, b, arriveDeg, k * weights[0], k * weights[1]);
  return at(solve((k) => pathLength(at(k)), lengthMm, 0.05, 0.95));
}

/** Direction of the path at its end, degrees. */
export function endDeg(path: CubicPath): number {
  const [a, b] = [path.at(-2)!, path.at(-1)!];
  return (Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI;
}

export function reversed(path: CubicPath): CubicPath {
  return path.toReversed();
}

export function joined(...paths: readonly CubicPath[]): CubicPath {
  return paths.flatMap((path, i) => (i === 0 ? [...path] : path.slice(1)));
}
