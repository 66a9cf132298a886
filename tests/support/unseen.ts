// A stretch of an edge that no photo showed well, as a trace leaves it: said by the places of its line, and in the edge's sigma.
import { placeAtLength } from '../../shared/geometry/arcLength.ts';
import type { PatternSet, Piece, Shape, UnsureReason } from '../../shared/pattern/model.ts';

export interface Unseen {
  readonly piece: string;
  readonly edge: string;
  /** Along the traced line. */
  readonly fromMm: number;
  readonly toMm: number;
  readonly reason?: UnsureReason;
  /** Of the edge, with that of the stretch. */
  readonly sigmaMm?: number;
}

const STEP_MM = 2;

/** The set with the stretch in every size of the piece. */
export function unseen(set: PatternSet, where: Unseen): PatternSet {
  const doubted = (piece: Piece): Piece => ({
    ...piece,
    shapes: Object.fromEntries(Object.entries(piece.shapes).map(([size, shape]) => [size, unseenOn(shape, where)])),
  });
  return { ...set, pieces: set.pieces.map((piece) => (piece.id === where.piece ? doubted(piece) : piece)) };
}

export function unseenOn(shape: Shape, { edge: id, fromMm, toMm, reason = 'covered', sigmaMm = 1.5 }: Unseen): Shape {
  const edge = shape.ring.find((one) => one.id === id)!;
  const count = Math.ceil((toMm - fromMm) / STEP_MM);
  const points = Array.from({ length: count + 1 }, (_, i) =>
    placeAtLength(edge.curve, fromMm + ((toMm - fromMm) * i) / count),
  );
  return {
    ...shape,
    ring: shape.ring.map((one) => (one.id === id ? { ...one, sigmaMm } : one)),
    unsure: [...(shape.unsure ?? []), { reason, points }],
  };
}
