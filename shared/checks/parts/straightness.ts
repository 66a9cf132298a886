// How far a line strays from the straight line between its ends.
import type { Point } from '../../base/points.ts';
import { type CubicPath, endOf, pointAt, segmentCount, startOf } from '../../geometry/cubicPath.ts';
import { distanceToSegment } from '../../geometry/polygon.ts';
import { distance, lerp } from '../../geometry/vector.ts';

export interface Stray {
  readonly awayMm: number;
  readonly at: Point;
  /** The nearest place on the straight line. */
  readonly foot: Point;
}

/** A cubic strays most near its thirds or its middle; this many places a segment find it to a few percent. */
const PLACES_A_SEGMENT = 6;

export function widestStray(path: CubicPath): Stray {
  const [from, to] = [startOf(path), endOf(path)];
  let widest: Stray = { awayMm: 0, at: from, foot: from };
  const places = segmentCount(path) * PLACES_A_SEGMENT;
  for (let i = 1; i < places; i++) {
    const at = pointAt(path, i / PLACES_A_SEGMENT);
    const awayMm = distanceToSegment(at, from, to);
    if (awayMm > widest.awayMm) widest = { awayMm, at, foot: footOn(from, to, at) };
  }
  return widest;
}

/** The distance alone. */
export function straysMm(path: CubicPath): number {
  return widestStray(path).awayMm;
}

function footOn(from: Point, to: Point, at: Point): Point {
  const lengthMm = distance(from, to);
  if (lengthMm === 0) return from;
  const along = ((at[0] - from[0]) * (to[0] - from[0]) + (at[1] - from[1]) * (to[1] - from[1])) / lengthMm ** 2;
  return lerp(from, to, Math.min(1, Math.max(0, along)));
}
