// Turns one traced piece into a shape of the set: its own frame, edges named by the plan where there is one, notches and
// darts put on their edges, and the uncertainty split into what it shares and what it does not.
import type { Point, TablePointMm } from '../base/points.ts';
import { lengthToParameter, pathLengthMm, subPath } from '../geometry/arcLength.ts';
import { type CubicPath, joinPaths, reversePath } from '../geometry/cubicPath.ts';
import { nearestOnPath } from '../geometry/nearest.ts';
import { distance, lerp } from '../geometry/vector.ts';
import type {
  Accuracy,
  Dart,
  Edge,
  Grainline,
  Notch,
  OtherMark,
  PiecePlan,
  Pleat,
  Shape,
  UnsureLine,
} from '../pattern/model.ts';
import { seamlineOf } from '../pattern/seamline.ts';
import type { TracedEdge, TracedMark, TracedPiece } from '../vision/traced.ts';
import type { PlanMatch, TracedRing } from './matchPlan.ts';

/** What nobody has said about a traced piece. */
export interface TraceDefaults {
  readonly tracedLine: Shape['tracedLine'];
  readonly allowanceMm: number;
}

const PLACING = {
  /** A fold mark belongs to an edge that both of its ends lie this near. */
  foldReachMm: 30,
  /** A read notch is a planned one when it lies this near: a fixed part and a part of the edge's length. */
  notchReachMm: 12,
  notchReachRatio: 0.06,
} as const;

/** Lengths, notches and folds of a traced piece edge by edge: what a plan is compared with. */
export function ringOfTrace(piece: TracedPiece): TracedRing {
  const edges = piece.edges.map((edge) => edge.curve);
  const notchEdges = piece.marks.flatMap((mark) => (mark.kind === 'notch' ? [nearestEdge(edges, mark.at)] : []));
  const foldEdges = piece.marks.flatMap((mark) => (mark.kind === 'fold' ? [foldEdge(edges, mark)] : []));
  return {
    lengthsMm: piece.edges.map((edge) => edge.lengthMm),
    notchCounts: edges.map((_, index) => notchEdges.filter((edge) => edge === index).length),
    folds: edges.map((_, index) => foldEdges.includes(index)),
  };
}

/** The shape in its own frame: the top left corner of its bounds is the origin. */
export function shapeFromTrace(
  piece: TracedPiece,
  accuracy: Accuracy,
  shot: string,
  named: { readonly plan: PiecePlan; readonly match: PlanMatch } | null,
  defaults: TraceDefaults,
): Shape {
  const faceDown = named?.match.faceDown ?? false;
  const xs = piece.outline.map(([x]) => x);
  const originMm: Point = [Math.min(...xs), Math.min(...piece.outline.map(([, y]) => y))];
  const rightMm = Math.max(...xs);
  // A piece that lay face down is turned over about an upright line, so that the set shows it face up.
  const place = ([x, y]: TablePointMm): Point => [faceDown ? rightMm - x : x - originMm[0], y - originMm[1]];
  const traced = piece.edges.map((edge) => ({ ...edge, curve: turned(edge.curve.map(place), faceDown) }));
  const foldIndices = new Set(
    piece.marks.flatMap((mark) =>
      mark.kind === 'fold'
        ? [
            foldEdge(
              piece.edges.map((edge) => edge.curve),
              mark,
            ),
          ]
        : [],
    ),
  );
  const ring = named === null ? plainRing(traced, foldIndices, defaults) : namedRing(traced, named.plan, named.match);
  const bare: Shape = {
    ring,
    tracedLine: named?.plan.tracedLine ?? defaults.tracedLine,
    notches: [],
    darts: dartsOf(piece.marks, ring, place),
    pleats: [],
    grainline: grainlineOf(piece.marks, place),
    marks: otherMarksOf(piece.marks, place),
    accuracy,
    ...(faceDown ? {} : { placement: { shot, originMm, turnDeg: 0 } }),
    ...unsureOf(piece, place),
  };
  const read = notchesOf(piece.marks, bare, place);
  const notches = named === null ? read : nameNotches(read, bare, named.plan);
  return { ...bare, notches, pleats: named === null ? [] : pleatsOf(notches, named.plan) };
}

/** Points this far apart say well enough where a stretch lies. */
const UNSURE_STEP_MM = 3;

function unsureOf(piece: TracedPiece, place: (at: TablePointMm) => Point): Pick<Shape, 'unsure'> {
  const { outline } = piece;
  const lines = piece.unsure.flatMap(({ fromIndex, toIndex, reason }): UnsureLine[] => {
    const count = (toIndex - fromIndex + outline.length) % outline.length;
    const points: Point[] = [];
    for (let i = 0; i <= count; i++) {
      const at = place(outline[(fromIndex + i) % outline.length]!);
      const last = points.at(-1);
      if (last === undefined || i === count || distance(last, at) >= UNSURE_STEP_MM) points.push(at);
    }
    return points.length < 2 ? [] : [{ reason, points }];
  });
  return lines.length === 0 ? {} : { unsure: lines };
}

interface PlacedEdge extends Omit<TracedEdge, 'curve'> {
  readonly curve: CubicPath;
}

function turned(path: CubicPath, faceDown: boolean): CubicPath {
  return faceDown ? reversePath(path) : path;
}

function plainRing(edges: readonly PlacedEdge[], folds: ReadonlySet<number>, defaults: TraceDefaults): readonly Edge[] {
  return edges.map((edge, index) => ({
    id: edge.id,
    label: edge.id,
    role: folds.has(index) ? 'fold' : 'seam',
    curve: edge.curve,
    allowanceMm: folds.has(index) ? 0 : defaults.allowanceMm,
    allowanceAssumed: true,
    sigmaMm: edge.localSigmaMm,
  }));
}

function namedRing(traced: readonly PlacedEdge[], plan: PiecePlan, match: PlanMatch): readonly Edge[] {
  return match.edges.map((found) => {
    const planned = plan.edges[found.planned]!;
    const parts = found.traced.map((index) => traced[index]!);
    const whole = joinPaths(parts.map((part) => part.curve));
    const lengthMm = pathLengthMm(whole);
    const isPart = found.fromRatio > 0 || found.toRatio < 1;
    return {
      id: planned.id,
      label: planned.label,
      role: planned.role,
      curve: isPart ? subPath(whole, found.fromRatio * lengthMm, found.toRatio * lengthMm) : whole,
      allowanceMm: planned.allowanceMm,
      allowanceAssumed: false,
      sigmaMm: Math.hypot(...parts.map((part) => part.localSigmaMm)),
    };
  });
}

function notchesOf(marks: readonly TracedMark[], shape: Shape, place: (at: TablePointMm) => Point): readonly Notch[] {
  const seamline = seamlineOf(shape);
  const curves = shape.ring.map((edge) => edge.curve);
  return marks
    .flatMap((mark) => (mark.kind === 'notch' ? [mark] : []))
    .map((mark, index) => {
      const at = place(mark.at);
      const edgeIndex = nearestEdge(curves, at);
      const { path } = seamline.edges[edgeIndex]!;
      return {
        id: `n${index + 1}`,
        edge: shape.ring[edgeIndex]!.id,
        atMm: lengthToParameter(path, nearestOnPath(path, at).t),
        count: mark.count,
        purpose: 'match',
        mate: { kind: 'unknown' },
      };
    });
}

/** Each planned notch takes the nearest read one within reach, nearest pairs first. */
function nameNotches(read: readonly Notch[], shape: Shape, plan: PiecePlan): readonly Notch[] {
  const offers = plan.notches.flatMap((planned) => {
    const edge = seamlineOf(shape).byId.get(planned.edge);
    if (edge === undefined) return [];
    const reachMm = PLACING.notchReachMm + PLACING.notchReachRatio * edge.lengthMm;
    return read
      .filter((notch) => notch.edge === planned.edge)
      .map((notch) => ({ planned, notch, apartMm: Math.abs(notch.atMm - planned.aboutRatio * edge.lengthMm) }))
      .filter(({ apartMm }) => apartMm <= reachMm);
  });
  const named = new Map<Notch, Notch>();
  const taken = new Set<string>();
  for (const { planned, notch } of offers.toSorted((a, b) => a.apartMm - b.apartMm)) {
    if (named.has(notch) || taken.has(planned.id)) continue;
    named.set(notch, { ...notch, id: planned.id, purpose: planned.purpose, mate: planned.mate });
    taken.add(planned.id);
  }
  return read.map((notch) => named.get(notch) ?? { ...notch, id: `read-${notch.id}` });
}

/** Two planned pleat notches next to one another make a pleat when both were read. */
function pleatsOf(notches: readonly Notch[], plan: PiecePlan): readonly Pleat[] {
  const byId = new Map(notches.map((notch) => [notch.id, notch]));
  const planned = plan.notches.filter((notch) => notch.purpose === 'pleat');
  const pleats: Pleat[] = [];
  for (let i = 0; i + 1 < planned.length; i += 2) {
    const first = byId.get(planned[i]!.id);
    const second = byId.get(planned[i + 1]!.id);
    if (first === undefined || second === undefined || first.edge !== second.edge) continue;
    const [fromMm, toMm] = [Math.min(first.atMm, second.atMm), Math.max(first.atMm, second.atMm)];
    if (fromMm < toMm) pleats.push({ id: `pleat-${pleats.length + 1}`, edge: first.edge, fromMm, toMm });
  }
  return pleats;
}

function dartsOf(
  marks: readonly TracedMark[],
  ring: readonly Edge[],
  place: (at: TablePointMm) => Point,
): readonly Dart[] {
  const curves = ring.map((edge) => edge.curve);
  return marks
    .flatMap((mark) => (mark.kind === 'dart' ? [mark] : []))
    .map((mark, index) => {
      const [a, b] = [place(mark.legs[0]), place(mark.legs[1])];
      const edgeIndex = nearestEdge(curves, lerp(a, b, 0.5));
      const path = curves[edgeIndex]!;
      const inOrder = nearestOnPath(path, a).t <= nearestOnPath(path, b).t;
      return {
        id: `d${index + 1}`,
        edge: ring[edgeIndex]!.id,
        legs: inOrder ? [a, b] : [b, a],
        apex: place(mark.apex),
        foldTo: null,
      };
    });
}

function grainlineOf(marks: readonly TracedMark[], place: (at: TablePointMm) => Point): Grainline | null {
  const surest = marks
    .flatMap((mark) => (mark.kind === 'grainline' ? [mark] : []))
    .toSorted((a, b) => b.confidence - a.confidence)[0];
  return surest === undefined ? null : { from: place(surest.from), to: place(surest.to), heads: surest.heads };
}

function otherMarksOf(marks: readonly TracedMark[], place: (at: TablePointMm) => Point): readonly OtherMark[] {
  return marks
    .flatMap((mark) => (mark.kind === 'hole' || mark.kind === 'lengthen-shorten' ? [mark] : []))
    .map((mark, index) => {
      const id = `m${index + 1}`;
      if (mark.kind === 'hole') return { kind: 'hole', id, at: place(mark.at) };
      return { kind: 'lengthen-shorten', id, from: place(mark.from), to: place(mark.to) };
    });
}

function nearestEdge(curves: readonly CubicPath[], at: Point): number {
  const distances = curves.map((path) => nearestOnPath(path, at).distanceMm);
  return distances.indexOf(Math.min(...distances));
}

/** The edge along which a fold mark lies; -1 when it lies along none. */
function foldEdge(curves: readonly CubicPath[], mark: { readonly from: Point; readonly to: Point }): number {
  const apart = curves.map((path) =>
    Math.max(nearestOnPath(path, mark.from).distanceMm, nearestOnPath(path, mark.to).distanceMm),
  );
  const nearest = Math.min(...apart);
  return nearest <= PLACING.foldReachMm ? apart.indexOf(nearest) : -1;
}
