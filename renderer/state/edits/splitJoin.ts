// An edge cut in two at a place, or joined with the next one, in every size at once, because edges have the same names in
// every size. Notches, darts, pleats and the seams that name the edge follow.
import { pathLengthMm, pointAtLength, subPath } from '../../../shared/geometry/arcLength.ts';
import { joinPaths } from '../../../shared/geometry/cubicPath.ts';
import { nearestOnPath } from '../../../shared/geometry/nearest.ts';
import type { Edge, EdgeSpan, PatternSet, Piece, SeamSide, Shape } from '../../../shared/pattern/model.ts';
import { type SeamEdge, seamEdge, seamlineOf } from '../../../shared/pattern/seamline.ts';
import { replacePiece } from './pieces.ts';
import { kept } from './repairing.ts';

/** Cuts nearer than this to an end would leave an edge of nothing. */
const LEAST_PART_RATIO = 0.005;

/** The edge cut at a share of its traced length; the same set when the place is too near an end. */
export function splitEdge(set: PatternSet, pieceId: string, edgeId: string, ratio: number): PatternSet {
  const piece = set.pieces.find(({ id }) => id === pieceId);
  if (piece === undefined || ratio < LEAST_PART_RATIO || ratio > 1 - LEAST_PART_RATIO) return set;
  const newId = freeEdgeId(piece, edgeId);
  const cut = { ...piece, shapes: mapShapes(piece, (shape) => splitShape(shape, edgeId, newId, ratio)) };
  const sample = Object.values(cut.shapes)[0];
  const firstMm = (sample && seamEdge(sample, edgeId)?.lengthMm) ?? 0;
  const inSide = (side: SeamSide) =>
    side.flatMap((span) => (span.piece === pieceId && span.edge === edgeId ? splitSpan(span, newId, firstMm) : [span]));
  return withSides(replacePiece(set, cut), inSide);
}

/** The edge and the one after it as one edge; the same set when the piece has fewer than three edges. */
export function joinWithNext(set: PatternSet, pieceId: string, edgeId: string): PatternSet {
  const piece = set.pieces.find(({ id }) => id === pieceId);
  const first = piece && Object.values(piece.shapes)[0];
  if (piece === undefined || first === undefined || first.ring.length < 3) return set;
  const place = first.ring.findIndex(({ id }) => id === edgeId);
  const next = first.ring[(place + 1) % first.ring.length];
  if (place === -1 || next === undefined) return set;
  const joined = { ...piece, shapes: mapShapes(piece, (shape) => joinShape(shape, edgeId, next.id)) };
  const lengthMm = (id: string) => seamEdge(first, id)?.lengthMm ?? 0;
  const inSide = (side: SeamSide) => joinSpans(side, pieceId, edgeId, next.id, [lengthMm(edgeId), lengthMm(next.id)]);
  return withSides(replacePiece(set, joined), inSide);
}

function splitShape(shape: Shape, edgeId: string, newId: string, ratio: number): Shape {
  const edge = shape.ring.find(({ id }) => id === edgeId);
  if (edge === undefined) return shape;
  const lengthMm = pathLengthMm(edge.curve);
  const first: Edge = { ...edge, curve: subPath(edge.curve, 0, ratio * lengthMm), sigmaMm: null };
  const second: Edge = { ...edge, id: newId, curve: subPath(edge.curve, ratio * lengthMm, lengthMm), sigmaMm: null };
  const ring = shape.ring.flatMap((one) => (one === edge ? [first, second] : [one]));
  const after = resettled(shape, ring, (id) => (id === edgeId ? [edgeId, newId] : [id]));
  return kept(shape, after, { kind: 'edge-split', at: first.curve.at(-1)! });
}

function joinShape(shape: Shape, edgeId: string, nextId: string): Shape {
  const edge = shape.ring.find(({ id }) => id === edgeId);
  const next = shape.ring.find(({ id }) => id === nextId);
  if (edge === undefined || next === undefined) return shape;
  const joined: Edge = { ...edge, curve: joinPaths([edge.curve, next.curve]), sigmaMm: null };
  const ring = shape.ring.filter((one) => one !== next).map((one) => (one === edge ? joined : one));
  const after = resettled(shape, ring, (id) => (id === nextId ? [edgeId] : [id]));
  return kept(shape, after, { kind: 'edges-joined', at: next.curve[0]! });
}

/** Marks found again on the candidates among the new edges, nearest to where they lay. */
function resettled(before: Shape, ring: readonly Edge[], candidates: (edge: string) => readonly string[]): Shape {
  const bare: Shape = { ...before, ring, notches: [], darts: [], pleats: [] };
  const after = seamlineOf(bare).byId;
  const place = (edge: string, atMm: number): { edge: string; atMm: number } => {
    const was = seamEdge(before, edge);
    const on = candidates(edge).flatMap((id): readonly SeamEdge[] => {
      const seam = after.get(id);
      return seam === undefined ? [] : [seam];
    });
    if (was === undefined || on.length === 0) return { edge, atMm };
    const point = pointAtLength(was.path, atMm).point;
    const found = on.map((seam) => ({ edge: seam.edge.id, ...nearestOnPath(seam.path, point) }));
    const best = found.toSorted((a, b) => a.distanceMm - b.distanceMm)[0]!;
    return { edge: best.edge, atMm: best.atMm };
  };
  return {
    ...bare,
    notches: before.notches.map((notch) => ({ ...notch, ...place(notch.edge, notch.atMm) })),
    darts: before.darts.map((dart) => {
      const curves = ring.filter(({ id }) => candidates(dart.edge).includes(id));
      const away = (edge: Edge) => Math.max(...dart.legs.map((leg) => nearestOnPath(edge.curve, leg).distanceMm));
      const best = curves.toSorted((a, b) => away(a) - away(b))[0];
      return best === undefined ? dart : { ...dart, edge: best.id };
    }),
    pleats: before.pleats.flatMap((pleat) => {
      const [from, to] = [place(pleat.edge, pleat.fromMm), place(pleat.edge, pleat.toMm)];
      // A pleat through which the cut goes is no pleat any more.
      return from.edge === to.edge && from.atMm < to.atMm
        ? [{ ...pleat, edge: from.edge, fromMm: from.atMm, toMm: to.atMm }]
        : [];
    }),
  };
}

function splitSpan(span: EdgeSpan, newId: string, firstMm: number): EdgeSpan[] {
  const { stretch } = span;
  const first = part(span, span.edge, stretch, 0, firstMm);
  const second = part(span, newId, stretch, firstMm, Number.POSITIVE_INFINITY);
  const both = [first, second].filter((one) => one !== null);
  return span.reversed ? both.toReversed() : both;
}

/** The part of a stretch that lies on one of two edges, which begins at `startMm` and ends at `endMm` of the old one. */
function part(
  span: EdgeSpan,
  edge: string,
  stretch: EdgeSpan['stretch'],
  startMm: number,
  endMm: number,
): EdgeSpan | null {
  if (stretch === null) return { ...span, edge };
  const fromMm = Math.max(stretch.fromMm, startMm);
  const toMm = Math.min(stretch.toMm, endMm);
  if (fromMm >= toMm) return null;
  return { ...span, edge, stretch: { fromMm: fromMm - startMm, toMm: toMm - startMm } };
}

/** Two spans that follow one another on the joined edges become one; a lone one becomes a stretch. */
function joinSpans(
  side: SeamSide,
  piece: string,
  first: string,
  second: string,
  [firstMm, secondMm]: readonly [number, number],
): SeamSide {
  const spans: EdgeSpan[] = [];
  for (let i = 0; i < side.length; i++) {
    const span = side[i]!;
    if (span.piece !== piece || (span.edge !== first && span.edge !== second)) {
      spans.push(span);
      continue;
    }
    const after = side[i + 1];
    const follows =
      after !== undefined &&
      after.piece === piece &&
      after.reversed === span.reversed &&
      span.stretch === null &&
      after.stretch === null &&
      (span.reversed ? span.edge === second && after.edge === first : span.edge === first && after.edge === second);
    if (follows) {
      spans.push({ ...span, edge: first });
      i++;
      continue;
    }
    const startMm = span.edge === first ? 0 : firstMm;
    const whole = { fromMm: 0, toMm: span.edge === first ? firstMm : secondMm };
    const stretch = span.stretch ?? whole;
    spans.push({
      ...span,
      edge: first,
      stretch: { fromMm: startMm + stretch.fromMm, toMm: startMm + stretch.toMm },
    });
  }
  return spans;
}

function withSides(set: PatternSet, change: (side: SeamSide) => SeamSide): PatternSet {
  return {
    ...set,
    seams: set.seams.map((seam) => ({ ...seam, sides: [change(seam.sides[0]), change(seam.sides[1])] })),
  };
}

function mapShapes(piece: Piece, change: (shape: Shape) => Shape): Piece['shapes'] {
  return Object.fromEntries(Object.entries(piece.shapes).map(([size, shape]) => [size, change(shape)]));
}

function freeEdgeId(piece: Piece, wanted: string): string {
  const taken = new Set(Object.values(piece.shapes).flatMap((shape) => shape.ring.map(({ id }) => id)));
  let count = 2;
  while (taken.has(`${wanted}-${count}`)) count++;
  return `${wanted}-${count}`;
}
