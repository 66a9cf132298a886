// Pieces of a set by id, looked up once for each list of pieces: every seam of every size asks.
import { memoised } from '../base/memoised.ts';
import type { PatternSet, Piece } from './model.ts';

const known = new WeakMap<readonly Piece[], ReadonlyMap<string, Piece>>();

/** The piece of that id, or undefined when the set has none; of several with one id the first. */
export function pieceById(set: Pick<PatternSet, 'pieces'>, id: string): Piece | undefined {
  const byId = memoised(known, set.pieces, () => new Map(set.pieces.toReversed().map((piece) => [piece.id, piece])));
  return byId.get(id);
}
