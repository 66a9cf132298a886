// Where a hand takes hold of an alteration: a point of the piece, the direction in which one of its amounts grows, and how far
// the point goes for it. The window shows a handle there; what the amount does to the piece is the alteration's own.
import type { Point } from '../base/points.ts';
import { add, dot, norm, scale, sub, unit } from '../geometry/vector.ts';
import type { Edge, Size } from '../pattern/model.ts';
import { seamEdge } from '../pattern/seamline.ts';
import { type End, outwardAt, pointAtEnd } from './kernel/ends.ts';
import type { Place } from './kernel/find.ts';

export interface Grasp {
  readonly piece: string;
  readonly size: Size;
  /** The amount that it sets, millimetres. */
  readonly param: string;
  /** Where the point lies when the amount is `fromMm`, piece millimetres. */
  readonly at: Point;
  readonly fromMm: number;
  /** Unit direction in which the amount grows. */
  readonly toward: Point;
  /** How far the point goes along it for a millimetre of the amount. */
  readonly travelRatio: number;
  /** The largest amount that the shape has room for; null = as much as the amount may be. */
  readonly mostMm: number | null;
  /** The line that is held, where it is a line and no corner; it moves with the point. */
  readonly line: readonly [Point, Point] | null;
}

type Held = Pick<Grasp, 'param' | 'at' | 'toward'> & Partial<Grasp>;

/** A grasp on a piece; what is not said: it lies there when nothing is changed, and goes as far as the amount says. */
export function graspOn({ piece, size }: Place, held: Held): Grasp {
  return { piece: piece.id, size, fromMm: 0, travelRatio: 1, mostMm: null, line: null, ...held };
}

/** The end of a seam that becomes shorter as the amount grows (longer with `way` −1). */
export function endGrasp(place: Place, param: string, edge: Edge, end: End, way: 1 | -1 = 1): readonly Grasp[] {
  const path = seamEdge(place.shape, edge.id)?.path;
  if (path === undefined) return [];
  return [graspOn(place, { param, at: pointAtEnd(path, end), toward: scale(outwardAt(path, end), -way) })];
}

/** Enough to see a direction, too little to turn it. */
export const LITTLE_MM = 1;

/** A point that goes on no straight line: it sets out the way that a little of the amount takes it. */
export function settingOut(place: Place, param: string, at: Point, afterLittle: Point): Grasp {
  const by = sub(afterLittle, at);
  return graspOn(place, { param, at, toward: unit(by), travelRatio: norm(by) / LITTLE_MM });
}

/** Where the grasp lies at an amount. */
export function graspAt({ at, toward, fromMm, travelRatio }: Grasp, amountMm: number): Point {
  return add(at, scale(toward, travelRatio * (amountMm - fromMm)));
}

/** The amount that brings the grasp nearest to a point of the piece. */
export function amountUnder({ at, toward, fromMm, travelRatio }: Grasp, point: Point): number {
  return fromMm + dot(sub(point, at), toward) / travelRatio;
}
