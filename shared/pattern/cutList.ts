// The cut list expanded into what is sewn: left and right, shell, lining, facing. A seam is compared as it is sewn, so the
// checks must know whether a traced edge stands for half of the round or for all of it.
import type { CutEntry, Piece, PieceKind } from './model.ts';

export interface SewnPiece {
  readonly material: CutEntry['material'];
  /** `whole` for a piece cut singly or unfolded from the fold. */
  readonly hand: 'left' | 'right' | 'whole';
  /** The traced shape is half of it. */
  readonly unfolded: boolean;
}

/** Every piece of cloth that the cut list asks for; a piece without a list counts as cut once. */
export function expandCut(piece: Pick<Piece, 'cut'>): readonly SewnPiece[] {
  const entries = piece.cut.length > 0 ? piece.cut : [SINGLE];
  return entries.flatMap((entry) =>
    Array.from({ length: entry.count }, (_, i): SewnPiece => {
      const hand = entry.mirrored && !entry.onFold ? (i % 2 === 0 ? 'left' : 'right') : 'whole';
      return { material: entry.material, hand, unfolded: entry.onFold };
    }),
  );
}

const SINGLE: CutEntry = { material: 'shell', count: 1, onFold: false, mirrored: false, allowanceMm: null };

/** True for a piece of the outer garment: not cut from lining, facing or interfacing alone. */
export function isOuter({ cut }: Pick<Piece, 'cut'>): boolean {
  return cut.length === 0 || cut.some(({ material }) => material === 'shell');
}

/**
 * How often the traced edge occurs in the round: 2 for a piece on the fold and for a mirrored pair, 1 for a single piece.
 * `open` where "cut 2" may mean a pair as well as two layers; the comparison then takes the reading that fits.
 */
export function timesInRound(piece: Pick<Piece, 'cut' | 'kind' | 'shapes'>): 1 | 2 | 'open' {
  const outer = piece.cut.find((entry) => entry.material === 'shell') ?? piece.cut[0];
  const folded = Object.values(piece.shapes).some((shape) => shape.ring.some((edge) => edge.role === 'fold'));
  if (folded || outer?.onFold === true) return 2;
  if (outer === undefined) return 'open';
  if (outer.mirrored) return 2;
  if (outer.count < 2) return 1;
  return LAYERED.includes(piece.kind) ? 'open' : 2;
}

/** Kinds that are often cut twice because they have an outer and an inner layer. */
const LAYERED: readonly PieceKind[] = [
  'collar',
  'stand',
  'neckband',
  'cuff',
  'waistband',
  'yoke',
  'facing',
  'pocket',
  'other',
];
