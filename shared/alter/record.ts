// Changed shapes put into a set: seams that hold a stretch of a changed edge follow it, the piece remembers the shape that
// it had before, and the history gains a step with its amounts. The old set stays as it was: undo is keeping it.
import type { HistoryStep, PatternSet, Piece, Seam, Shape, Size } from '../pattern/model.ts';
import { seamEdge } from '../pattern/seamline.ts';

/** One shape of one piece, redrawn. */
export interface ChangedShape {
  readonly piece: string;
  readonly size: Size;
  readonly shape: Shape;
  /** Carries a place along the seamline of one of its edges from the old shape to the new. */
  readonly carry: (edgeId: string, atMm: number) => number;
}

export function withChanges(set: PatternSet, changes: readonly ChangedShape[], step: HistoryStep): PatternSet {
  const pieces = set.pieces.map((piece) => changedPiece(piece, changes));
  return {
    ...set,
    pieces,
    seams: set.seams.map((seam) => carriedSeam(set, seam, changes)),
    history: [...set.history, step],
  };
}

function changedPiece(piece: Piece, changes: readonly ChangedShape[]): Piece {
  const own = changes.filter((change) => change.piece === piece.id);
  if (own.length === 0) return piece;
  const shapes: Record<Size, Shape> = { ...piece.shapes };
  const before: Record<Size, Shape> = { ...piece.before };
  for (const { size, shape } of own) {
    const was = piece.shapes[size];
    if (was !== undefined && before[size] === undefined) before[size] = was;
    shapes[size] = shape;
  }
  return { ...piece, shapes, before };
}

/** A stretch counts from the edge's start in every size alike: the base size, or the first changed one, tells where it goes. */
function carriedSeam(set: PatternSet, seam: Seam, changes: readonly ChangedShape[]): Seam {
  const isTouched = seam.sides
    .flat()
    .some((span) => span.stretch !== null && changes.some((c) => c.piece === span.piece));
  if (!isTouched) return seam;
  const side = (spans: Seam['sides'][0]) =>
    spans.map((span) => {
      const own = changes.filter((change) => change.piece === span.piece);
      const change = own.find(({ size }) => size === set.baseSize) ?? own[0];
      if (span.stretch === null || change === undefined) return span;
      return { ...span, stretch: carriedStretch(set, span.edge, span.stretch, change) };
    });
  return { ...seam, sides: [side(seam.sides[0]), side(seam.sides[1])] };
}

/** A stretch that reaches this near to an end of its edge ends there. */
const AT_END_MM = 0.05;

/** A stretch that reached an end of its edge still does, wherever that end has gone. */
function carriedStretch(
  set: PatternSet,
  edge: string,
  { fromMm, toMm }: { readonly fromMm: number; readonly toMm: number },
  change: ChangedShape,
): { readonly fromMm: number; readonly toMm: number } {
  const old = set.pieces.find(({ id }) => id === change.piece)?.shapes[change.size];
  const wasMm = old === undefined ? undefined : seamEdge(old, edge)?.lengthMm;
  const nowMm = seamEdge(change.shape, edge)?.lengthMm;
  const reachesEnd = wasMm !== undefined && nowMm !== undefined && toMm >= wasMm - AT_END_MM;
  return {
    fromMm: fromMm <= AT_END_MM ? 0 : change.carry(edge, fromMm),
    toMm: reachesEnd ? nowMm : change.carry(edge, toMm),
  };
}
