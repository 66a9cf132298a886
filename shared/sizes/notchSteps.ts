// Notches from size to size: those that stayed where they were while their mates moved with the grade, and those that are
// missing in one size only.
import type { Notch, Piece, Size } from '../pattern/model.ts';
import type { SideNotch } from '../pattern/spans.ts';
import type { SeamWalk } from '../pattern/walk.ts';

export interface StayedNotch {
  readonly notch: SideNotch;
  readonly mate: SideNotch;
  readonly size: Size;
  /** How far the mate moved from the reference size to this one, along the seam. */
  readonly mateMovedMm: number;
  readonly movedMm: number;
  /** Change of how far the two miss each other. */
  readonly shiftMm: number;
}

export interface MissingNotch {
  readonly piece: Piece;
  readonly edge: string;
  readonly size: Size;
  readonly reference: Size;
  /** Match notches on that edge in the reference size and in this one. */
  readonly counts: readonly [number, number];
}

/** @param walk the same seam as `reference` in another size */
export function stayedNotches(walk: SeamWalk, reference: SeamWalk): readonly StayedNotch[] {
  return reference.matched.pairs.flatMap(({ first, second }) => {
    if (first.kind !== 'notch' || second.kind !== 'notch') return [];
    const here = [counterpart(first.notch, walk, 0), counterpart(second.notch, walk, 1)] as const;
    if (here[0] === null || here[1] === null) return [];
    const moved = (which: 0 | 1, was: SideNotch, is: SideNotch) => {
      const fromStart = is.atMm - was.atMm;
      const fromEnd = fromStart - (walk.sides[which].total.valueMm - reference.sides[which].total.valueMm);
      return { fromStart, fromEnd };
    };
    const [a, b] = [moved(0, first.notch, here[0]), moved(1, second.notch, here[1])];
    // Counted from the end of the seam from which they keep together best, as for a shifted notch.
    const fromStart = Math.abs(b.fromStart - a.fromStart) <= Math.abs(b.fromEnd - a.fromEnd);
    const [aMm, bMm] = fromStart ? [a.fromStart, b.fromStart] : [a.fromEnd, b.fromEnd];
    const shiftMm = bMm - aMm;
    const firstStayed = Math.abs(aMm) < Math.abs(bMm);
    return [
      {
        notch: firstStayed ? here[0] : here[1],
        mate: firstStayed ? here[1] : here[0],
        size: walk.size,
        movedMm: firstStayed ? aMm : bMm,
        mateMovedMm: firstStayed ? bMm : aMm,
        shiftMm,
      },
    ];
  });
}

/** Edges of the seam that carry fewer match notches than in the reference size, while their partner carries them all. */
export function missingNotches(walk: SeamWalk, reference: SeamWalk): readonly MissingNotch[] {
  const counts = (w: SeamWalk, side: 0 | 1) =>
    w.sides[side].spans.map(
      ({ piece, span }) => w.sides[side].notches.filter((n) => n.piece === piece && onEdge(n, span.edge)).length,
    );
  const fewer = ([0, 1] as const).map((side) => {
    const [was, is] = [counts(reference, side), counts(walk, side)];
    return walk.sides[side].spans.flatMap(({ piece, span }, i): MissingNotch[] => {
      const [before, now] = [was[i] ?? 0, is[i]!];
      return now < before
        ? [{ piece, edge: span.edge, size: walk.size, reference: reference.size, counts: [before, now] }]
        : [];
    });
  });
  const [first, second] = fewer as [MissingNotch[], MissingNotch[]];
  // Notches that are missing on both sides were left out on purpose: the join needs none.
  return first.length > 0 && second.length > 0 ? [] : [...first, ...second];
}

function onEdge({ notch, purpose }: SideNotch, edge: string): boolean {
  return notch.edge === edge && purpose === 'match';
}

/** The same notch in another size: by its id, else by its place among the notches of the edge. */
function counterpart(notch: SideNotch, walk: SeamWalk, side: 0 | 1): SideNotch | null {
  const here = walk.sides[side].notches.filter((n) => n.piece.id === notch.piece.id && onEdge(n, notch.notch.edge));
  const byId = here.find((n) => n.notch.id === notch.notch.id);
  if (byId !== undefined) return byId;
  const there = inOrder(notch.shape.notches, notch.notch.edge);
  const rank = there.findIndex(({ id }) => id === notch.notch.id);
  const same = inOrder(
    here.map((n) => n.notch),
    notch.notch.edge,
  );
  return there.length === same.length ? (here.find((n) => n.notch === same[rank]) ?? null) : null;
}

function inOrder(notches: readonly Notch[], edge: string): readonly Notch[] {
  return notches.filter((n) => n.edge === edge && n.purpose === 'match').toSorted((a, b) => a.atMm - b.atMm);
}
