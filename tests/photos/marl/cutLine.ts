// The cutting line around a seamline: every edge moved outward by its allowance, corners extended until they meet. Exact to
// the density of the polylines; the product derives the seamline back by its own offset.
import type { Point } from '../../../shared/base/points.ts';
import { type CubicPath, densePath, segmentsOf, straight } from '../cubics.ts';

export interface SeamEdgeSpec {
  readonly label: string;
  readonly role: 'seam' | 'fold' | 'hem' | 'opening';
  readonly allowanceMm: number;
  readonly seam: CubicPath;
}

interface Strip {
  readonly edge: number;
  readonly points: Point[];
  readonly leave: Point;
  readonly arrive: Point;
}

const SMOOTH_MM = 1e-6;

function unit(a: Point, b: Point): Point {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  return [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
}

/** One cubic moved outward (left of a clockwise ring with y down). */
function strip(edge: number, segment: CubicPath, byMm: number): Strip {
  const dense = densePath(segment);
  const tangents = dense.map((_, i) => {
    const before = dense[i - 1];
    const after = dense[i + 1];
    if (before && after) return unit(before, after);
    // the handle gives the true direction at the end
    return before ? unit(segment[2]!, segment[3]!) : unit(segment[0]!, segment[1]!);
  });
  const points = dense.map((p, i): Point => [p[0] + tangents[i]![1] * byMm, p[1] - tangents[i]![0] * byMm]);
  return { edge, points, leave: tangents[0]!, arrive: tangents.at(-1)! };
}

/** Where the straight continuations of two strips meet; both must have to go on, not back. */
function meet(a: Strip, b: Strip): Point {
  const p = a.points.at(-1)!;
  const q = b.points[0]!;
  const cross = a.arrive[0] * b.leave[1] - a.arrive[1] * b.leave[0];
  const onA = ((q[0] - p[0]) * b.leave[1] - (q[1] - p[1]) * b.leave[0]) / cross;
  const onB = ((q[0] - p[0]) * a.arrive[1] - (q[1] - p[1]) * a.arrive[0]) / cross;
  if (onA < -SMOOTH_MM || onB > SMOOTH_MM)
    throw new Error('the cutting lines cross before the corner: trim them there first');
  return [p[0] + a.arrive[0] * onA, p[1] + a.arrive[1] * onA];
}

/** The cutting line edge by edge, as paths of short straight pieces, in the order of the ring. */
export function cuttingLine(ring: readonly SeamEdgeSpec[]): CubicPath[] {
  const strips = ring.flatMap((edge, i) => segmentsOf(edge.seam).map((segment) => strip(i, segment, edge.allowanceMm)));
  strips.forEach((a, i) => {
    const b = strips[(i + 1) % strips.length]!;
    const gap = Math.hypot(b.points[0]![0] - a.points.at(-1)![0], b.points[0]![1] - a.points.at(-1)![1]);
    if (gap < SMOOTH_MM) return;
    const corner = meet(a, b);
    a.points.push(corner);
    b.points.unshift(corner);
  });
  return ring.map((_, i) => {
    const points = strips.filter((s) => s.edge === i).flatMap((s, k) => (k === 0 ? s.points : s.points.slice(1)));
    const distinct = points.filter(
      (p, k) => k === 0 || Math.hypot(p[0] - points[k - 1]![0], p[1] - points[k - 1]![1]) > SMOOTH_MM,
    );
    const path: Point[] = [distinct[0]!];
    for (let k = 1; k < distinct.length; k++) path.push(...straight(distinct[k - 1]!, distinct[k]!).slice(1));
    return path;
  });
}
