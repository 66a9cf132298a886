// Which pieces and edges an alteration is about: by kind, edge name and scope, in every size that was traced.
import type { Point } from '../../base/points.ts';
import { flattenRing } from '../../geometry/flatten.ts';
import { isClockwise } from '../../geometry/polygon.ts';
import { leftNormal, scale, sub, unit } from '../../geometry/vector.ts';
import { edgeLabels } from '../../pattern/guessEdges.ts';
import type { Edge, PatternSet, Piece, PieceKind, Shape, Size } from '../../pattern/model.ts';
import { chordOf } from './corners.ts';

/** What is to be altered; null = everything the alteration fits. */
export interface Scope {
  readonly pieces: readonly string[] | null;
  readonly sizes: readonly Size[] | null;
}

export const EVERYWHERE: Scope = { pieces: null, sizes: null };

/** A shape with the names of its edges. */
export interface Place {
  readonly piece: Piece;
  readonly size: Size;
  readonly shape: Shape;
  readonly labels: ReadonlyMap<string, string>;
}

export function placesIn(set: PatternSet, scope: Scope, test: (kind: PieceKind) => boolean): readonly Place[] {
  return set.pieces
    .filter((piece) => test(piece.kind) && (scope.pieces === null || scope.pieces.includes(piece.id)))
    .flatMap((piece) =>
      Object.entries(piece.shapes)
        .filter(([size]) => scope.sizes === null || scope.sizes.includes(size))
        .map(([size, shape]): Place => ({ piece, size, shape, labels: edgeLabels(piece, shape) })),
    );
}

export function edgesNamed({ shape, labels }: Place, test: (label: string) => boolean): readonly Edge[] {
  return shape.ring.filter((edge) => test(labels.get(edge.id) ?? ''));
}

export function edgeNamed(place: Place, label: string): Edge | null {
  return edgesNamed(place, (candidate) => candidate === label)[0] ?? null;
}

/** The edge at the centre of the body: the fold, or the one that is named so. */
export function centreEdge(place: Place): Edge | null {
  return (
    place.shape.ring.find((edge) => edge.role === 'fold') ??
    edgesNamed(place, (label) => label.startsWith('centre'))[0] ??
    null
  );
}

/** 1 where the ring runs clockwise as seen (the outside lies to the left of travel), −1 otherwise. */
export function handOf(shape: Shape): 1 | -1 {
  const outline = flattenRing(
    shape.ring.map((edge) => edge.curve),
    ORIENTATION_CHORD_MM,
  );
  return isClockwise(outline) ? 1 : -1;
}

/** Coarse is enough to tell which way round a ring runs. */
const ORIENTATION_CHORD_MM = 1;

/** Unit direction square to the edge's chord, out of the piece. */
export function outwardOf(shape: Shape, edge: Edge): Point {
  return scale(leftNormal(unit(chordOf(edge))), handOf(shape));
}

/** Unit direction of the grain: along the fold or centre, else the grainline; null when the shape shows neither. */
export function grainOf(place: Place): Point | null {
  const centre = centreEdge(place);
  if (centre !== null) return unit(chordOf(centre));
  const { grainline } = place.shape;
  return grainline === null ? null : unit(sub(grainline.to, grainline.from));
}
