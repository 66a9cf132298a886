// Darts and pleats on the seamline: where the mouth opens, how long the legs are, and how the piece moves when a dart is
// sewn. The mouth counts where the legs cross the seamline, not where they end on the cutting line.
import type { Point } from '../base/points.ts';
import { lengthToParameter, placeAtLength } from '../geometry/arcLength.ts';
import { pointAt } from '../geometry/cubicPath.ts';
import { intersectLine } from '../geometry/intersect.ts';
import { nearestOnPath } from '../geometry/nearest.ts';
import type { Affine } from '../geometry/transform.ts';
import { distance, sub, turnDeg } from '../geometry/vector.ts';
import type { Dart, Shape } from './model.ts';
import { type SeamEdge, seamEdge } from './seamline.ts';

/** A stretch of an edge that vanishes when it is sewn: the mouth of a dart or a pleat. */
export interface Closure {
  readonly kind: 'dart' | 'pleat';
  readonly id: string;
  /** Millimetres along the seamline from the edge's start, fromMm < toMm. */
  readonly fromMm: number;
  readonly toMm: number;
}

export interface DartOnSeam {
  /** Where the legs cross the seamline, in the order of the edge, millimetres along it. */
  readonly atMm: readonly [number, number];
  readonly points: readonly [Point, Point];
  /** From the apex to the seamline along each leg. */
  readonly legsMm: readonly [number, number];
  /** Angle between the legs: stays the same when the dart is rotated. */
  readonly intakeDeg: number;
}

/** The dart measured on the seamline; null when its edge does not exist. */
export function dartOnSeam(shape: Shape, dart: Dart): DartOnSeam | null {
  const seam = seamEdge(shape, dart.edge);
  if (seam === undefined) return null;
  const first = legOnSeam(seam, dart.apex, dart.legs[0]);
  const second = legOnSeam(seam, dart.apex, dart.legs[1]);
  const inOrder = first.atMm <= second.atMm;
  const [a, b] = inOrder ? [first, second] : [second, first];
  return {
    atMm: [a.atMm, b.atMm],
    points: [a.point, b.point],
    legsMm: [distance(dart.apex, a.point), distance(dart.apex, b.point)],
    intakeDeg: Math.abs(turnDeg(sub(a.point, dart.apex), sub(b.point, dart.apex))),
  };
}

/** Turns the part beyond the dart about the apex so that the second leg comes to lie on the first. */
export function closingTransform(dart: Dart, on: DartOnSeam): Affine {
  const turnRad = (turnDeg(sub(on.points[1], dart.apex), sub(on.points[0], dart.apex)) * Math.PI) / 180;
  const cos = Math.cos(turnRad);
  const sin = Math.sin(turnRad);
  const [x, y] = dart.apex;
  return [cos, sin, -sin, cos, x - cos * x + sin * y, y - sin * x - cos * y];
}

const known = new WeakMap<Shape, Map<string, readonly Closure[]>>();

/** All mouths on one edge in the order of the edge, overlapping ones merged so that nothing is taken out twice. */
export function closuresOn(shape: Shape, edgeId: string): readonly Closure[] {
  let byEdge = known.get(shape);
  if (byEdge === undefined) {
    byEdge = new Map();
    known.set(shape, byEdge);
  }
  let closures = byEdge.get(edgeId);
  if (closures === undefined) {
    closures = merged(mouths(shape, edgeId));
    byEdge.set(edgeId, closures);
  }
  return closures;
}

/** Length along the edge from its start to a place, with every mouth before it closed; a place inside a mouth counts as its start. */
export function closedMm(closures: readonly Closure[], atMm: number): number {
  let taken = 0;
  for (const { fromMm, toMm } of closures) taken += Math.max(0, Math.min(atMm, toMm) - fromMm);
  return atMm - taken;
}

function mouths(shape: Shape, edgeId: string): Closure[] {
  const darts = shape.darts
    .filter((dart) => dart.edge === edgeId)
    .flatMap((dart): Closure[] => {
      const on = dartOnSeam(shape, dart);
      return on === null ? [] : [{ kind: 'dart', id: dart.id, fromMm: on.atMm[0], toMm: on.atMm[1] }];
    });
  const pleats = shape.pleats
    .filter((pleat) => pleat.edge === edgeId)
    .map(
      (pleat): Closure => ({
        kind: 'pleat',
        id: pleat.id,
        fromMm: Math.min(pleat.fromMm, pleat.toMm),
        toMm: Math.max(pleat.fromMm, pleat.toMm),
      }),
    );
  return [...darts, ...pleats].sort((a, b) => a.fromMm - b.fromMm);
}

function merged(sorted: readonly Closure[]): Closure[] {
  const kept: Closure[] = [];
  for (const closure of sorted) {
    const last = kept.at(-1);
    if (last !== undefined && closure.fromMm < last.toMm)
      kept[kept.length - 1] = { ...last, toMm: Math.max(last.toMm, closure.toMm) };
    else kept.push(closure);
  }
  return kept;
}

/** The crossing of the leg, or of its straight extension, that is nearest to where the leg was drawn to end. */
function legOnSeam(seam: SeamEdge, apex: Point, end: Point): { readonly atMm: number; readonly point: Point } {
  let best: { t: number; awayMm: number } | null = null;
  for (const t of distance(apex, end) > 0 ? intersectLine(apex, end, seam.path) : []) {
    const awayMm = distance(pointAt(seam.path, t), end);
    if (best === null || awayMm < best.awayMm) best = { t, awayMm };
  }
  const atMm = best === null ? nearestOnPath(seam.path, end).atMm : lengthToParameter(seam.path, best.t);
  return { atMm, point: placeAtLength(seam.path, atMm) };
}
