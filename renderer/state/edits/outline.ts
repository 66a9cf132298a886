// Hand corrections of a piece's outline: corners, handles, a stretch pulled or drawn again. Each gives a new shape whose ring
// still closes; corner i lies at the end of edge i.
import type { Point } from '../../../shared/base/points.ts';
import { pathLengthMm, pointAtLength, subPath } from '../../../shared/geometry/arcLength.ts';
import { type CubicPath, endTangent, tangentAt } from '../../../shared/geometry/cubicPath.ts';
import { fitCubicPath } from '../../../shared/geometry/fitCubics.ts';
import { flattenPath } from '../../../shared/geometry/flatten.ts';
import { nearestOnPath } from '../../../shared/geometry/nearest.ts';
import { add, distance, norm, scale, sub, turnDeg } from '../../../shared/geometry/vector.ts';
import type { Edge, Shape } from '../../../shared/pattern/model.ts';
import { repaired, tryRepair } from './repairing.ts';

/** Handles that lie this straight through their point are a smooth join and stay one. */
const SMOOTH_DEG = 2;
/** How closely a pulled stretch follows the wanted line. */
const PULL_FIT_MM = 0.05;
/** A hand's wobble with a mouse, which a drawn stretch is smoothed by. */
const DRAWN_FIT_MM = 0.6;
const CHORD_MM = 0.05;
/** A pulled stretch is sampled this densely. */
const PULL_STEP_MM = 2;
/** Shorter strokes are a slip of the hand, not a line. */
const LEAST_STROKE_MM = 5;

/** The corner at the end of edge `index`, moved; both edges are turned and stretched about their other ends. */
export function moveCorner(shape: Shape, index: number, to: Point): Shape {
  const from = shape.ring[index]!.curve.at(-1)!;
  return distance(from, to) === 0 ? shape : repaired(shape, { kind: 'corner-moved', from, to });
}

/** Control point `index` of an edge moved: a corner, a point on the line with its handles, or one handle. */
export function moveControl(shape: Shape, edgeId: string, index: number, to: Point): Shape {
  const place = shape.ring.findIndex((edge) => edge.id === edgeId);
  const edge = shape.ring[place];
  if (edge === undefined || edge.curve[index] === undefined) return shape;
  if (index === 0) return moveCorner(shape, (place + shape.ring.length - 1) % shape.ring.length, to);
  if (index === edge.curve.length - 1) return moveCorner(shape, place, to);
  const curve = index % 3 === 0 ? moveAnchor(edge.curve, index, to) : moveHandle(edge.curve, index, to);
  // The cubics that changed: between the joints before and after.
  const changed = curve.flatMap((point, i) => (point === edge.curve[i] ? [] : [i]));
  const [first, last] = [changed[0], changed.at(-1)];
  if (first === undefined || last === undefined) return shape;
  const stretch = curve.slice(3 * Math.floor((first - 1) / 3), 3 * Math.ceil((last + 1) / 3) + 1);
  return repaired(shape, { kind: 'stretch-redrawn', curve: stretch });
}

/**
 * The edge pulled so that its place `atMm` (along the traced line) comes to lie at `to`; the line within `reachMm` on both
 * sides follows smoothly, corners stay.
 */
export function pullEdge(shape: Shape, edgeId: string, atMm: number, to: Point, reachMm: number): Shape {
  const edge = shape.ring.find(({ id }) => id === edgeId);
  if (edge === undefined) return shape;
  const lengthMm = pathLengthMm(edge.curve);
  const delta = sub(to, pointAtLength(edge.curve, atMm).point);
  const [from, until] = [Math.max(0, atMm - reachMm), Math.min(lengthMm, atMm + reachMm)];
  if (norm(delta) === 0 || from >= atMm || until <= atMm) return shape;
  const steps = Math.max(8, Math.ceil((until - from) / PULL_STEP_MM));
  const points = Array.from({ length: steps + 1 }, (_, i) => {
    const s = from + ((until - from) * i) / steps;
    const away = s < atMm ? (atMm - s) / (atMm - from) : (s - atMm) / (until - atMm);
    return add(pointAtLength(edge.curve, s).point, scale(delta, (1 + Math.cos(Math.PI * away)) / 2));
  });
  const before = subPath(edge.curve, 0, from);
  const after = subPath(edge.curve, until, lengthMm);
  const fitted = fitCubicPath(points, {
    toleranceMm: PULL_FIT_MM,
    ...(from > 0 ? { startTangent: endTangent(before) } : {}),
    ...(until < lengthMm ? { endTangent: tangentAt(after, 0) } : {}),
  });
  return repaired(shape, { kind: 'stretch-redrawn', curve: fitted });
}

/** The part of the edge between the ends of a drawn stroke, replaced by the stroke; null when the stroke is too short. */
export function redrawStretch(shape: Shape, edgeId: string, stroke: readonly Point[]): Shape | null {
  const edge = shape.ring.find(({ id }) => id === edgeId);
  const [first, last] = [stroke[0], stroke.at(-1)];
  if (edge === undefined || first === undefined || last === undefined) return null;
  const [a, b] = [nearestOnPath(edge.curve, first), nearestOnPath(edge.curve, last)];
  if (Math.abs(a.atMm - b.atMm) < LEAST_STROKE_MM) return null;
  const forward = a.t < b.t;
  const [start, end] = forward ? [a, b] : [b, a];
  const drawn = forward ? stroke : stroke.toReversed();
  const line = [start.point, ...drawn.slice(1, -1), end.point];
  const fitted = fitCubicPath(line, { toleranceMm: DRAWN_FIT_MM });
  const made = tryRepair(shape, { kind: 'stretch-redrawn', curve: fitted });
  return made.ok ? made.value : null;
}

/** The edge whose traced line is nearest to a point, and where on it. */
export function nearestEdge(
  shape: Shape,
  point: Point,
): { readonly edge: Edge; readonly atMm: number; readonly distanceMm: number } {
  let best: { edge: Edge; atMm: number; distanceMm: number } | null = null;
  for (const edge of shape.ring) {
    const { atMm, distanceMm } = nearestOnPath(edge.curve, point);
    if (best === null || distanceMm < best.distanceMm) best = { edge, atMm, distanceMm };
  }
  if (best === null) throw new Error('a shape has at least one edge');
  return best;
}

/** The traced line of the whole shape as a polygon, for drawing and hit-testing. */
export function outlineOf(shape: Shape): Point[] {
  return shape.ring.flatMap((edge) => flattenPath(edge.curve, CHORD_MM).slice(0, -1));
}

function moveAnchor(curve: CubicPath, index: number, to: Point): CubicPath {
  const delta = sub(to, curve[index]!);
  return curve.map((point, i) => (Math.abs(i - index) <= 1 ? add(point, delta) : point));
}

function moveHandle(curve: CubicPath, index: number, to: Point): CubicPath {
  const anchorIndex = index % 3 === 1 ? index - 1 : index + 1;
  const otherIndex = 2 * anchorIndex - index;
  const anchor = curve[anchorIndex]!;
  const other = curve[otherIndex];
  const moved = curve.map((point, i) => (i === index ? to : point));
  if (other === undefined) return moved;
  const isSmooth = Math.abs(turnDeg(sub(anchor, curve[index]!), sub(other, anchor))) <= SMOOTH_DEG;
  const lengthMm = distance(to, anchor);
  if (!isSmooth || lengthMm === 0) return moved;
  const turned = add(anchor, scale(sub(anchor, to), distance(other, anchor) / lengthMm));
  return moved.map((point, i) => (i === otherIndex ? turned : point));
}
