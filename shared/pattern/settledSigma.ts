// How surely an edge's length is known once nothing of its line is in doubt any more: what its traced sigma held for doubted
// stretches (vision/outline/doubtSigma.ts) goes with the doubt.
import type { Point } from '../base/points.ts';
import { endOf, endTangent, startOf, tangentAt } from '../geometry/cubicPath.ts';
import { distance, turnDeg } from '../geometry/vector.ts';
import type { Edge, Shape } from './model.ts';

/** A corner is set by about this much of the line on either side (vision's corner fit): doubt there is doubt about both edges. */
const CORNER_REACH_MM = 9;

/** Corners that turn by less are reckoned with this turn: their edges meet at no sharper place than their length tells. */
const LEAST_TURN_DEG = 15;

/**
 * `after` is `before` with less doubt about its line: edges that had some on them or at a corner, and have none left, are as
 * sure as their corners, and never less sure than before.
 * @param edgeAt id of the edge that a place lies on; null where the line no longer runs
 */
export function withSettledSigma(before: Shape, after: Shape, edgeAt: (at: Point) => string | null): Shape {
  const was = doubted(before, edgeAt);
  const is = doubted(after, edgeAt);
  const ring = after.ring.map((edge, i) => {
    if (edge.sigmaMm === null || !was.has(edge.id) || is.has(edge.id)) return edge;
    return { ...edge, sigmaMm: Math.min(edge.sigmaMm, seenSigma(after, i)) };
  });
  return { ...after, ring };
}

function doubted({ ring, unsure = [] }: Shape, edgeAt: (at: Point) => string | null): ReadonlySet<string> {
  const found = new Set<string>();
  for (const at of unsure.flatMap(({ points }) => points)) {
    const on = edgeAt(at);
    if (on === null) continue;
    found.add(on);
    for (const { id, curve } of ring)
      if (Math.min(distance(startOf(curve), at), distance(endOf(curve), at)) < CORNER_REACH_MM) found.add(id);
  }
  return found;
}

/**
 * Standard uncertainty of an edge's length, millimetres, from its two corners. A corner is where two lines meet, each known
 * across itself to the sigma s of one point. With the edge along x and the other line at the turn θ, moving the edge by a and the
 * other by b across themselves moves the meeting along x by (b − a cos θ) / sin θ: variance s² (1 + cos² θ) / sin² θ.
 */
function seenSigma({ ring, accuracy }: Shape, index: number): number {
  const corner = (i: number): number => {
    const [into, out] = [ring[(i + ring.length - 1) % ring.length]!, ring[i % ring.length]!];
    return alongRatio(into, out);
  };
  return accuracy.pointSigmaMm * Math.hypot(corner(index), corner(index + 1));
}

function alongRatio(into: Edge, out: Edge): number {
  const turnRad = (turnDeg(endTangent(into.curve), tangentAt(out.curve, 0)) * Math.PI) / 180;
  const sine = Math.max(Math.abs(Math.sin(turnRad)), Math.sin((LEAST_TURN_DEG * Math.PI) / 180));
  return Math.hypot(1, Math.cos(turnRad)) / sine;
}
