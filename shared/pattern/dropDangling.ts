// What names an edge or notch that a new trace no longer has: such seams are taken out, such appointments forgotten, so
// that the set holds together. The caller says so.
import type { PatternSet, Piece, Seam } from './model.ts';

interface Named {
  readonly id: string;
}

export interface Undangled {
  readonly set: PatternSet;
  readonly dropped: readonly Seam[];
}

export function dropDangling(set: PatternSet): Undangled {
  const edges = new Map(set.pieces.map((piece) => [piece.id, namesOf(piece, ({ ring }) => ring, piece.plan?.edges)]));
  const notches = new Map(set.pieces.map((piece) => [piece.id, namesOf(piece, (shape) => shape.notches)]));
  const isWhole = (seam: Seam): boolean =>
    seam.sides.flat().every(({ piece, edge }) => {
      const known = edges.get(piece);
      return known !== undefined && (known === null || known.has(edge));
    });
  const dropped = set.seams.filter((seam) => !isWhole(seam));
  const pieces = set.pieces.map((piece) => {
    const shapes = Object.entries(piece.shapes).map(([size, shape]) => {
      const left = shape.notches.map((notch) => {
        const { mate } = notch;
        if (mate.kind !== 'notch') return notch;
        const known = notches.get(mate.piece) ?? null;
        return known === null || known.has(mate.notch) ? notch : { ...notch, mate: { kind: 'unknown' as const } };
      });
      return [
        size,
        left.every((notch, i) => notch === shape.notches[i]) ? shape : { ...shape, notches: left },
      ] as const;
    });
    return shapes.every(([size, shape]) => shape === piece.shapes[size])
      ? piece
      : { ...piece, shapes: Object.fromEntries(shapes) };
  });
  return { set: { ...set, pieces, seams: set.seams.filter(isWhole) }, dropped };
}

/** Names in any size of the piece; null = the piece is only planned, nothing is known to be missing. */
function namesOf(
  piece: Piece,
  pick: (shape: Piece['shapes'][string]) => readonly Named[],
  planned: readonly Named[] = [],
): ReadonlySet<string> | null {
  const shapes = Object.values(piece.shapes);
  return shapes.length === 0 ? null : new Set([...shapes.flatMap(pick), ...planned].map(({ id }) => id));
}
