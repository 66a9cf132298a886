// New curves put into a shape, with everything that lies on the edges carried along: notches and pleats by their distance
// from the end that did not move, darts by their mouth on the seamline.
import type { Point } from '../../base/points.ts';
import { pathLengthMm, pointAtLength } from '../../geometry/arcLength.ts';
import { type CubicPath, cubicSize, endOf, pointAt, segment, segmentCount, startOf } from '../../geometry/cubicPath.ts';
import { intersectLine } from '../../geometry/intersect.ts';
import { nearestOnPath } from '../../geometry/nearest.ts';
import { COINCIDENT_MM } from '../../geometry/tolerances.ts';
import { add, distance } from '../../geometry/vector.ts';
import { dartOnSeam } from '../../pattern/darts.ts';
import type { Dart, Notch, Pleat, Shape } from '../../pattern/model.ts';
import { type SeamEdge, seamEdge } from '../../pattern/seamline.ts';
import type { Still } from './blend.ts';

/** Where a place along the old seamline lies along the new one, millimetres from the edge's start. */
export type Carry = (atMm: number, was: SeamEdge, now: SeamEdge) => number;

export interface Change {
  readonly curve: CubicPath;
  readonly carry: Carry;
  /** How far the traced line moved at a place along the old one: takes the dart legs along. Absent: they stay. */
  readonly moveAt?: (atMm: number) => Point;
}

export interface Reshaped {
  readonly shape: Shape;
  /** Carries a place on an edge's seamline from the old shape to the new one; same place on edges that did not change. */
  readonly carry: (edgeId: string, atMm: number) => number;
}

/** Places keep their distance from the edge's start. */
export const fromStart: Carry = (atMm) => atMm;
/** Places keep their distance from the edge's end. */
export const fromEnd: Carry = (atMm, was, now) => now.lengthMm - (was.lengthMm - atMm);
/** Places up to splitMm keep their distance from the start, the others from the end. */
export function splitAtPlace(splitMm: number): Carry {
  return (atMm, was, now) => (atMm <= splitMm ? fromStart : fromEnd)(atMm, was, now);
}
/** Places up to the middle keep their distance from the start, the others from the end. */
export const fromNearerEnd: Carry = (atMm, was, now) => splitAtPlace(was.lengthMm / 2)(atMm, was, now);

/** Places between known ones keep their share of the way; both lists rise and are equally long. */
export function betweenPlaces(wasMm: readonly number[], nowMm: readonly number[]): Carry {
  return (atMm) => {
    const after = wasMm.findIndex((place) => place >= atMm);
    const next = after === -1 ? wasMm.length - 1 : Math.max(1, after);
    const [a, b] = [wasMm[next - 1]!, wasMm[next]!];
    const [p, q] = [nowMm[next - 1]!, nowMm[next]!];
    return b === a ? p : p + ((atMm - a) / (b - a)) * (q - p);
  };
}

/**
 * The shape with some edges redrawn; `darts` replaces darts by id. Edges not named keep their very curve. Throws when the
 * ring does not close any more: whoever moves a corner moves both of its edges.
 */
export function reshape(
  shape: Shape,
  changes: ReadonlyMap<string, Change>,
  darts: ReadonlyMap<string, Dart> = new Map(),
): Reshaped {
  const ring = shape.ring.map((edge) => {
    const change = changes.get(edge.id);
    return change === undefined ? edge : { ...edge, curve: withoutSlivers(change.curve) };
  });
  ring.forEach((edge, i) => {
    const next = ring[(i + 1) % ring.length]!;
    const gapMm = distance(endOf(edge.curve), startOf(next.curve));
    // An outline that was open is not closed here; it is for a check to tell.
    const wasMm = distance(endOf(shape.ring[i]!.curve), startOf(shape.ring[(i + 1) % ring.length]!.curve));
    if (gapMm > wasMm + RING_GAP_MM) throw new Error(`${edge.id} and ${next.id} no longer meet: ${gapMm} mm`);
  });
  const outline: Shape = { ...shape, ring, notches: [], darts: [], pleats: [] };
  const carry = (edgeId: string, atMm: number): number => {
    const was = seamEdge(shape, edgeId);
    const now = seamEdge(outline, edgeId);
    if (was === undefined || now === undefined) return atMm;
    const change = changes.get(edgeId);
    const atNow = change === undefined ? samePlace(was, now, atMm) : change.carry(atMm, was, now);
    return Math.min(Math.max(0, atNow), now.lengthMm);
  };
  const moved: Shape = {
    ...outline,
    notches: shape.notches.map((notch): Notch => ({ ...notch, atMm: carry(notch.edge, notch.atMm) })),
    pleats: shape.pleats.map((pleat): Pleat => {
      const fromMm = carry(pleat.edge, pleat.fromMm);
      return { ...pleat, fromMm, toMm: fromMm + pleat.toMm - pleat.fromMm };
    }),
    darts: shape.darts.map((dart) => darts.get(dart.id) ?? movedDart(shape, outline, dart, changes.get(dart.edge))),
  };
  return { shape: moved, carry };
}

/** Cuts that fall on a joint leave cubics of no length; they are dropped, the ends of the path stay. */
function withoutSlivers(curve: CubicPath): CubicPath {
  const out: Point[] = [startOf(curve)];
  for (let i = 0; i < segmentCount(curve); i++) {
    const cubic = segment(curve, i);
    if (cubicSize(cubic) > COINCIDENT_MM) out.push(...cubic.slice(1));
  }
  if (out.length === 1) return curve;
  out[out.length - 1] = endOf(curve);
  return out;
}

/** Set files round coordinates; a gap of this much was there before. */
const RING_GAP_MM = 0.05;

/** The mouths of darts on an edge, along its traced line: they move as one piece. */
export function mouthsOn(shape: Shape, edgeId: string): readonly Still[] {
  const edge = shape.ring.find((candidate) => candidate.id === edgeId);
  if (edge === undefined) return [];
  return shape.darts
    .filter((dart) => dart.edge === edgeId)
    .map((dart) => {
      const [a, b] = dart.legs.map((leg) => nearestOnPath(edge.curve, leg).atMm) as [number, number];
      return { fromMm: Math.min(a, b), toMm: Math.max(a, b) };
    })
    .sort((a, b) => a.fromMm - b.fromMm);
}

/** The dart whose legs leave the apex through two places on the seamline and end on the traced line. */
function dartThrough(outline: Shape, dart: Dart, apex: Point, placesMm: readonly [number, number]): Dart {
  const seam = seamEdge(outline, dart.edge);
  if (seam === undefined) return dart;
  const legs = placesMm.map((atMm): Point => {
    const through = pointAtLength(seam.path, atMm).point;
    const crossings = intersectLine(apex, through, seam.edge.curve).map((t) => pointAt(seam.edge.curve, t));
    return crossings.toSorted((p, q) => distance(p, through) - distance(q, through))[0] ?? through;
  });
  return { ...dart, apex, legs: [legs[0]!, legs[1]!] };
}

/** An edge that was not redrawn may still begin a little earlier or later on the seamline, where its neighbour changed. */
function samePlace(was: SeamEdge, now: SeamEdge, atMm: number): number {
  if (was.edge === now.edge && was.lengthMm === now.lengthMm) return atMm;
  const point = pointAtLength(was.path, atMm).point;
  const place = nearestOnPath(now.path, point);
  return Math.abs(place.atMm - atMm) <= COINCIDENT_MM ? atMm : place.atMm;
}

/** Legs go with the line, the apex stays at the body, the mouth keeps its width on the seamline. */
function movedDart(was: Shape, outline: Shape, dart: Dart, change: Change | undefined): Dart {
  if (change?.moveAt === undefined) return dart;
  const { moveAt } = change;
  const edge = was.ring.find((candidate) => candidate.id === dart.edge);
  const before = dartOnSeam(was, dart);
  if (edge === undefined || before === null) return dart;
  const [first, second] = dart.legs;
  const at = (leg: Point) => nearestOnPath(edge.curve, leg).atMm;
  const [a, b] = [at(first), at(second)];
  const inside = Math.sign(b - a) * Math.min(Math.abs(b - a) / 2, INSIDE_MOUTH_MM);
  const legs: readonly [Point, Point] = [add(first, moveAt(a + inside)), add(second, moveAt(b - inside))];
  const moved = { ...dart, legs };
  const after = dartOnSeam({ ...outline, darts: [moved] }, moved);
  if (after === null) return moved;
  const middleMm = (after.atMm[0] + after.atMm[1]) / 2;
  const halfMm = (before.atMm[1] - before.atMm[0]) / 2;
  const widened = dartThrough(outline, moved, dart.apex, [middleMm - halfMm, middleMm + halfMm]);
  const isTurned = dartIsTurned(dart, was);
  return isTurned ? { ...widened, legs: [widened.legs[1], widened.legs[0]] } : widened;
}

/** Read just inside the mouth, where the displacement is that of the whole mouth. */
const INSIDE_MOUTH_MM = 0.01;

function dartIsTurned(dart: Dart, shape: Shape): boolean {
  const edge = shape.ring.find((candidate) => candidate.id === dart.edge);
  if (edge === undefined || pathLengthMm(edge.curve) === 0) return false;
  return nearestOnPath(edge.curve, dart.legs[0]).atMm > nearestOnPath(edge.curve, dart.legs[1]).atMm;
}
