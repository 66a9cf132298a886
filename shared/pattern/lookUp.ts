// Pieces of a set by id, looked up once for each list of pieces: every seam of every size asks.
import type { PatternSet, Piece } from './model.ts';

const known = new WeakMap<readonly Piece[], ReadonlyMap<string, Piece>>();

/** The piece of that id, or undefined when the set has none; of several with one id the first. */
export function pieceById(set: Pick<PatternSet, 'pieces'>, id: string): Piece | undefined {
  let byId = known.get(set.pieces);
  if (byId === undefined) {
    byId = new Map(set.pieces.toReversed().map((piece) => [piece.id, piece]));
    known.set(set.pieces, byId);
  }
  return byId.get(id);
}
