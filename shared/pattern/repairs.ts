// Corrections by hand as plain data: making one on a shape and keeping it, so that it can be made again on the next trace of
// the same piece (rebaseRepairs.ts). A correction names places, never indices: the next trace may number its edges anew.
import type { Point } from '../base/points.ts';
import { fail, ok, type Result } from '../base/result.ts';
import { pathLengthMm, placeAtLength, subPath } from '../geometry/arcLength.ts';
import { type CubicPath, endOf, joinPaths, slicePath, startOf } from '../geometry/cubicPath.ts';
import { nearestOnPath } from '../geometry/nearest.ts';
import { distance, lerp, sub } from '../geometry/vector.ts';
import type { Dart, Edge, Notch, OtherMark, Repair, RepairDeed, RepairMark, Shape } from './model.ts';
import { seamlineOf } from './seamline.ts';
import { withoutUnsure } from './unsureSpans.ts';

/** A correction finds its corner, edge or mark again when it lies this near: traces of one piece differ by far less. */
export const REPAIR_REACH_MM = 6;

/** Parameters this near to a joint of a path mean the joint. */
const AT_JOINT = 1e-4;

/** A split this near to a corner would leave an edge of no length. */
const SHORTEST_EDGE_MM = 1;

/** The shape with the correction made and kept with it; fails with one sentence when it finds no place. */
export function withRepair(shape: Shape, id: string, deed: RepairDeed): Result<Shape> {
  const repaired = applyRepair(shape, deed);
  if (!repaired.ok) return repaired;
  return ok({ ...repaired.value, repairs: [...(shape.repairs ?? []), { ...deed, id, setAside: false }] });
}

/** An id that no repair of the shape has. */
export function freeRepairId(shape: Shape): string {
  const taken = new Set((shape.repairs ?? []).map((repair: Repair) => repair.id));
  let count = taken.size + 1;
  while (taken.has(`r${count}`)) count++;
  return `r${count}`;
}

/** The shape with the correction made; its list of repairs is not touched. */
export function applyRepair(shape: Shape, deed: RepairDeed): Result<Shape> {
  switch (deed.kind) {
    case 'corner-moved':
      return moveCorner(shape, deed.from, deed.to);
    case 'stretch-redrawn':
      return redrawStretch(shape, deed.curve);
    case 'edge-split':
      return splitEdge(shape, deed.at);
    case 'edges-joined':
      return joinEdges(shape, deed.at);
    case 'mark-added':
      return addMark(shape, deed.mark);
    case 'mark-moved':
      return moveMark(shape, deed.from, deed.mark);
    case 'mark-removed':
      return ok(removeMark(shape, deed.mark, deed.at));
  }
}

/** What a correction did, for sentences: "moved corner". */
export function repairName(deed: RepairDeed): string {
  switch (deed.kind) {
    case 'corner-moved':
      return 'moved corner';
    case 'stretch-redrawn':
      return 'redrawn stretch';
    case 'edge-split':
      return 'split edge';
    case 'edges-joined':
      return 'joined edge';
    case 'mark-added':
      return `added ${deed.mark.kind}`;
    case 'mark-moved':
      return `moved ${deed.mark.kind}`;
    case 'mark-removed':
      return `removed ${deed.mark}`;
  }
}

const unfit = (what: string): Result<never> =>
  fail(
    'repair-unfit',
    `${what} lies within ${REPAIR_REACH_MM} mm of where the correction was made; make it again by hand.`,
  );

/** Both edges follow the corner: each is turned and stretched about its other end. */
function moveCorner(shape: Shape, from: Point, to: Point): Result<Shape> {
  const { ring } = shape;
  const index = cornerNear(ring, from);
  if (index === null) return unfit('No corner');
  if (ring.length === 1) return unfit('No corner between two edges');
  const corner = startOf(ring[index]!.curve);
  const target: Point = [corner[0] + to[0] - from[0], corner[1] + to[1] - from[1]];
  const before = (index + ring.length - 1) % ring.length;
  const next = ring.map((edge, i) => {
    if (i === index) return { ...edge, curve: between(edge.curve, target, endOf(edge.curve)) };
    if (i === before) return { ...edge, curve: between(edge.curve, startOf(edge.curve), target) };
    return edge;
  });
  return ok(reseated(shape, next, (id) => [id]));
}

/** The curve turned, stretched and shifted so that its ends come to lie on these two points. */
function between(curve: CubicPath, from: Point, to: Point): CubicPath {
  const [a, b] = [startOf(curve), endOf(curve)];
  const old = sub(b, a);
  const squared = old[0] ** 2 + old[1] ** 2;
  // A closed edge has no direction to turn by: it is only shifted.
  if (squared === 0) return curve.map(([x, y]) => [x + from[0] - a[0], y + from[1] - a[1]]);
  const next = sub(to, from);
  const along = (old[0] * next[0] + old[1] * next[1]) / squared;
  const across = (old[0] * next[1] - old[1] * next[0]) / squared;
  const moved = curve.map(([x, y]): Point => {
    const [dx, dy] = [x - a[0], y - a[1]];
    return [from[0] + along * dx - across * dy, from[1] + across * dx + along * dy];
  });
  return [from, ...moved.slice(1, -1), to];
}

/** The drawn curve is fitted between the places of the edge that are nearest to its ends. */
function redrawStretch(shape: Shape, curve: readonly Point[]): Result<Shape> {
  const [from, to] = [startOf(curve), endOf(curve)];
  const found = shape.ring
    .map((edge, index) => {
      const [a, b] = [nearestOnPath(edge.curve, from), nearestOnPath(edge.curve, to)];
      return { index, a, b, awayMm: Math.max(a.distanceMm, b.distanceMm) };
    })
    .toSorted((p, q) => p.awayMm - q.awayMm)[0];
  if (found === undefined || found.awayMm > REPAIR_REACH_MM || found.a.atMm >= found.b.atMm) return unfit('No edge');
  const edge = shape.ring[found.index]!;
  const count = (edge.curve.length - 1) / 3;
  const [fromT, toT] = [ontoJoint(found.a.t), ontoJoint(found.b.t)];
  const before = fromT > 0 ? slicePath(edge.curve, 0, fromT) : null;
  const after = toT < count ? slicePath(edge.curve, toT, count) : null;
  const drawn = between(
    curve,
    before === null ? startOf(edge.curve) : endOf(before),
    after === null ? endOf(edge.curve) : startOf(after),
  );
  const parts = [before, drawn, after].filter((part) => part !== null);
  // What a person drew there is no longer doubtful.
  const settled = withoutUnsure(shape, edge.id, found.a.atMm, found.b.atMm);
  const next = settled.ring.map((other, i) => (i === found.index ? { ...other, curve: joinPaths(parts) } : other));
  return ok(reseated(settled, next, (id) => [id]));
}

/** A place next to where two cubics of a path join is the joint: no slivers between a drawn stretch and the next joint. */
function ontoJoint(t: number): number {
  const joint = Math.round(t);
  return Math.abs(t - joint) < AT_JOINT ? joint : t;
}

/** The first part keeps the edge's id, so that seams still find it; the second is named after it. */
function splitEdge(shape: Shape, at: Point): Result<Shape> {
  const index = nearestEdge(shape.ring, at);
  const edge = shape.ring[index]!;
  const place = nearestOnPath(edge.curve, at);
  const lengthMm = pathLengthMm(edge.curve);
  if (place.distanceMm > REPAIR_REACH_MM) return unfit('No edge');
  if (place.atMm < SHORTEST_EDGE_MM || place.atMm > lengthMm - SHORTEST_EDGE_MM)
    return unfit('No edge that goes on to both sides');
  const id = freeEdgeId(shape.ring, edge.id);
  const parts: Edge[] = [
    { ...edge, curve: subPath(edge.curve, 0, place.atMm) },
    { ...edge, id, label: `${edge.label} 2`, curve: subPath(edge.curve, place.atMm, lengthMm) },
  ];
  const next = shape.ring.flatMap((other, i) => (i === index ? parts : [other]));
  return ok(reseated(shape, next, (old) => (old === edge.id ? [edge.id, id] : [old])));
}

/** The first of the two edges keeps its id, name and role and runs on over the corner. */
function joinEdges(shape: Shape, at: Point): Result<Shape> {
  const { ring } = shape;
  const index = cornerNear(ring, at);
  if (index === null || ring.length < 2) return unfit('No corner between two edges');
  const before = (index + ring.length - 1) % ring.length;
  const [first, second] = [ring[before]!, ring[index]!];
  const sigmaMm = first.sigmaMm === null || second.sigmaMm === null ? null : Math.hypot(first.sigmaMm, second.sigmaMm);
  const joined: Edge = { ...first, curve: joinPaths([first.curve, second.curve]), sigmaMm };
  const next = ring.flatMap((edge, i) => (i === before ? [joined] : i === index ? [] : [edge]));
  return ok(reseated(shape, next, (id) => [id === second.id ? first.id : id]));
}

/** A mark that was read there already gives way to the one that the person set. */
function addMark(shape: Shape, mark: RepairMark): Result<Shape> {
  switch (mark.kind) {
    case 'notch': {
      const index = nearestEdge(shape.ring, mark.at);
      if (nearestOnPath(shape.ring[index]!.curve, mark.at).distanceMm > REPAIR_REACH_MM) return unfit('No edge');
      const { path, edge } = seamlineOf(shape).edges[index]!;
      const atMm = nearestOnPath(path, mark.at).atMm;
      const read = shape.notches.find(
        (notch) => notch.edge === edge.id && Math.abs(notch.atMm - atMm) <= REPAIR_REACH_MM,
      );
      if (read !== undefined)
        return ok({
          ...shape,
          notches: shape.notches.map((n) => (n === read ? { ...n, atMm, count: mark.count } : n)),
        });
      const id = freeId(shape.notches, 'n');
      const added: Notch = { id, edge: edge.id, atMm, count: mark.count, purpose: 'match', mate: { kind: 'unknown' } };
      return ok({ ...shape, notches: [...shape.notches, added] });
    }
    case 'dart': {
      const index = nearestEdge(shape.ring, lerp(mark.legs[0], mark.legs[1], 0.5));
      const edge = shape.ring[index]!;
      const [a, b] = mark.legs.map((leg) => nearestOnPath(edge.curve, leg)) as [NearPlaced, NearPlaced];
      if (Math.max(a.distanceMm, b.distanceMm) > REPAIR_REACH_MM) return unfit('No edge');
      const legs = a.atMm <= b.atMm ? ([a.point, b.point] as const) : ([b.point, a.point] as const);
      const kept = shape.darts.filter((dart) => distance(dart.apex, mark.apex) > REPAIR_REACH_MM);
      const read = shape.darts.find((dart) => !kept.includes(dart));
      const added: Dart = {
        id: read?.id ?? freeId(shape.darts, 'd'),
        edge: edge.id,
        legs,
        apex: mark.apex,
        foldTo: read?.foldTo ?? null,
      };
      return ok({ ...shape, darts: [...kept, added] });
    }
    case 'grainline':
      return ok({ ...shape, grainline: { from: mark.from, to: mark.to, heads: mark.heads } });
    default: {
      const kept = shape.marks.filter((other) => !isSameMark(other, mark.kind, placeOfMark(mark)));
      const id = freeId(shape.marks, 'm');
      const added: OtherMark = 'at' in mark ? { kind: mark.kind, id, at: mark.at } : { ...mark, id };
      return ok({ ...shape, marks: [...kept, added] });
    }
  }
}

/** Takes the place that it is given and stays the mark that it was; where there is none any more, it is one to add. */
function moveMark(shape: Shape, from: Point, mark: RepairMark): Result<Shape> {
  switch (mark.kind) {
    case 'notch': {
      const index = notchNear(shape, from);
      if (index < 0) return addMark(shape, mark);
      const edgeIndex = nearestEdge(shape.ring, mark.at);
      if (nearestOnPath(shape.ring[edgeIndex]!.curve, mark.at).distanceMm > REPAIR_REACH_MM) return unfit('No edge');
      const { path, edge } = seamlineOf(shape).edges[edgeIndex]!;
      const { atMm } = nearestOnPath(path, mark.at);
      const moved = { edge: edge.id, atMm, count: mark.count };
      return ok({ ...shape, notches: shape.notches.map((one, i) => (i === index ? { ...one, ...moved } : one)) });
    }
    case 'dart': {
      const index = nearestWithin(shape.darts.map(({ apex }) => distance(apex, from)));
      const dart = shape.darts[index];
      if (dart === undefined) return addMark(shape, mark);
      const { curve } = shape.ring.find(({ id }) => id === dart.edge)!;
      const [a, b] = mark.legs.map((leg) => nearestOnPath(curve, leg)) as [NearPlaced, NearPlaced];
      if (Math.max(a.distanceMm, b.distanceMm) > REPAIR_REACH_MM) return unfit('No edge');
      const legs = a.atMm <= b.atMm ? ([a.point, b.point] as const) : ([b.point, a.point] as const);
      return ok({
        ...shape,
        darts: shape.darts.map((one) => (one === dart ? { ...one, legs, apex: mark.apex } : one)),
      });
    }
    case 'grainline':
      return addMark(shape, mark);
    default: {
      const old = shape.marks.find((other) => isSameMark(other, mark.kind, from));
      if (old === undefined) return addMark(shape, mark);
      const moved: OtherMark = 'at' in mark ? { kind: mark.kind, id: old.id, at: mark.at } : { ...mark, id: old.id };
      return ok({ ...shape, marks: shape.marks.map((other) => (other === old ? moved : other)) });
    }
  }
}

type NearPlaced = ReturnType<typeof nearestOnPath>;

/** What the new trace did not read needs no removing. */
function removeMark(shape: Shape, kind: RepairMark['kind'], at: Point): Shape {
  switch (kind) {
    case 'notch': {
      const index = notchNear(shape, at);
      return { ...shape, notches: shape.notches.filter((_, i) => i !== index) };
    }
    case 'dart': {
      const index = nearestWithin(shape.darts.map(({ apex }) => distance(apex, at)));
      return { ...shape, darts: shape.darts.filter((_, i) => i !== index) };
    }
    case 'grainline': {
      const { grainline } = shape;
      const gone = grainline !== null && distance(lerp(grainline.from, grainline.to, 0.5), at) <= lineReach(grainline);
      return gone ? { ...shape, grainline: null } : shape;
    }
    default: {
      const index = shape.marks.findIndex((mark) => isSameMark(mark, kind, at));
      return { ...shape, marks: shape.marks.filter((_, i) => i !== index) };
    }
  }
}

function isSameMark(mark: OtherMark, kind: RepairMark['kind'], at: Point): boolean {
  return mark.kind === kind && distance(placeOfMark(mark), at) <= ('at' in mark ? REPAIR_REACH_MM : lineReach(mark));
}

/** The middle of a line moves along it from trace to trace more than a point does. */
function lineReach({ from, to }: { readonly from: Point; readonly to: Point }): number {
  return Math.max(REPAIR_REACH_MM, distance(from, to) / 4);
}

/** The place by which `mark-removed` names a mark. */
export function placeOfMark(mark: RepairMark | OtherMark): Point {
  switch (mark.kind) {
    case 'notch':
    case 'hole':
    case 'button':
      return mark.at;
    case 'dart':
      return mark.apex;
    default:
      return lerp(mark.from, mark.to, 0.5);
  }
}

/** A notch's place on the seamline. */
export function notchPlace(shape: Shape, notch: Notch): Point {
  const edge = seamlineOf(shape).byId.get(notch.edge);
  if (edge === undefined) throw new Error(`notch ${notch.id} lies on no edge`);
  return placeAtLength(edge.path, notch.atMm);
}

/** Index of the notch nearest to a place on the traced line or the seamline; -1 when none is near. */
function notchNear(shape: Shape, at: Point): number {
  const places = shape.notches.map((notch) => distance(notchPlace(shape, notch), at));
  return nearestWithin(places, REPAIR_REACH_MM + offsetAt(shape, at));
}

/** How far the seamline lies from the traced line there. */
function offsetAt(shape: Shape, at: Point): number {
  const { path } = seamlineOf(shape).edges[nearestEdge(shape.ring, at)]!;
  return nearestOnPath(path, at).distanceMm;
}

function nearestWithin(distances: readonly number[], reachMm: number = REPAIR_REACH_MM): number {
  const least = Math.min(...distances);
  return least <= reachMm ? distances.indexOf(least) : -1;
}

/** Index of the edge that starts at the corner nearest to a place; null when none is near. */
function cornerNear(ring: readonly Edge[], at: Point): number | null {
  const index = nearestWithin(ring.map((edge) => distance(startOf(edge.curve), at)));
  return index < 0 ? null : index;
}

function nearestEdge(ring: readonly Edge[], at: Point): number {
  const distances = ring.map((edge) => nearestOnPath(edge.curve, at).distanceMm);
  return distances.indexOf(Math.min(...distances));
}

/** The shape with a new ring: notches and pleats keep their places, darts the edge they open on and their legs on it. */
export function reseated(shape: Shape, ring: readonly Edge[], heirs: (edgeId: string) => readonly string[]): Shape {
  const bare: Shape = { ...shape, ring };
  const line = seamlineOf(bare);
  const before = seamlineOf(shape);
  const seat = (edgeId: string, atMm: number): { edge: string; atMm: number } => {
    const point = placeAtLength(before.byId.get(edgeId)!.path, atMm);
    const seats = heirs(edgeId).map((id) => {
      const near = nearestOnPath(line.byId.get(id)!.path, point);
      return { edge: id, atMm: near.atMm, awayMm: near.distanceMm };
    });
    const { edge, atMm: along } = seats.toSorted((a, b) => a.awayMm - b.awayMm)[0]!;
    return { edge, atMm: along };
  };
  return {
    ...bare,
    notches: shape.notches.map((notch) => ({ ...notch, ...seat(notch.edge, notch.atMm) })),
    pleats: shape.pleats.flatMap((pleat) => {
      const [from, to] = [seat(pleat.edge, pleat.fromMm), seat(pleat.edge, pleat.toMm)];
      // A pleat that a split cut in two is none any more.
      return from.edge === to.edge ? [{ ...pleat, edge: from.edge, fromMm: from.atMm, toMm: to.atMm }] : [];
    }),
    darts: shape.darts.map((dart) => {
      const mouth = lerp(dart.legs[0], dart.legs[1], 0.5);
      const own = ring.filter((edge) => heirs(dart.edge).includes(edge.id));
      const edge = own[nearestEdge(own, mouth)]!;
      if (shape.ring.includes(edge)) return { ...dart, edge: edge.id };
      const onLine = (leg: Point): Point => nearestOnPath(edge.curve, leg).point;
      return { ...dart, edge: edge.id, legs: [onLine(dart.legs[0]), onLine(dart.legs[1])] };
    }),
  };
}

function freeEdgeId(ring: readonly Edge[], wanted: string): string {
  let count = 2;
  while (ring.some((edge) => edge.id === `${wanted}-${count}`)) count++;
  return `${wanted}-${count}`;
}

function freeId(taken: readonly { readonly id: string }[], letter: string): string {
  let count = taken.length + 1;
  while (taken.some(({ id }) => id === `${letter}${count}`)) count++;
  return `${letter}${count}`;
}
