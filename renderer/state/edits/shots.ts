// A photo taken out of the set again: with the shapes that were read from it; planned pieces stay planned.
import type { PatternSet, Piece } from '../../../shared/pattern/model.ts';
import { shotsOfShape } from '../../../shared/usecases/shots.ts';
import { removePiece, replacePiece } from './pieces.ts';

/** The set without the shot; the same set when it has no such shot. */
export function removeShot(set: PatternSet, id: string): PatternSet {
  if (!set.shots.some((shot) => shot.id === id)) return set;
  const bare: PatternSet = { ...set, shots: set.shots.filter((shot) => shot.id !== id) };
  return set.pieces.reduce((after, piece) => {
    const left = withoutShot(piece, id);
    if (left === piece) return after;
    if (Object.keys(left.shapes).length === 0 && piece.plan === undefined) return removePiece(after, piece.id);
    return replacePiece(after, left);
  }, bare);
}

function withoutShot(piece: Piece, id: string): Piece {
  const kept = Object.entries(piece.shapes).filter(([, shape]) => !shotsOfShape(shape).includes(id));
  return kept.length === Object.keys(piece.shapes).length ? piece : { ...piece, shapes: Object.fromEntries(kept) };
}
