// How every edge of a piece grows from size to size: sewn lengths in the order of the sizes, and the steps between them.
import {
  addLength,
  type Length,
  type MeasureOptions,
  NO_LENGTH,
  sewnLength,
  subtractLength,
} from '../pattern/measure.ts';
import type { EdgeRole, Piece, Size } from '../pattern/model.ts';

export interface SizedEdge {
  readonly piece: Piece;
  readonly edge: string;
  readonly label: string;
  readonly role: EdgeRole;
  /** In the order of the sizes; sizes in which the piece has no such edge are left out. */
  readonly lengths: readonly { readonly size: Size; readonly length: Length }[];
}

export interface GradeStep {
  readonly from: Size;
  readonly to: Size;
  /** Growth from one size to the next: where sizes between were not traced, their equal share. */
  readonly perSize: Length;
}

/** @param sizes all sizes of the set in their order; at least two in which the edge exists are needed to say anything */
export function sizedEdges(piece: Piece, sizes: readonly Size[], measuring: MeasureOptions): readonly SizedEdge[] {
  const traced = sizes.filter((size) => piece.shapes[size] !== undefined);
  const first = traced[0] === undefined ? undefined : piece.shapes[traced[0]];
  if (first === undefined || traced.length < 2) return [];
  return first.ring.flatMap(({ id, label, role }) => {
    const lengths = traced.flatMap((size) => {
      const shape = piece.shapes[size]!;
      const has = shape.ring.some((edge) => edge.id === id);
      return has ? [{ size, length: sewnLength(shape, id, null, measuring) }] : [];
    });
    return lengths.length < 2 ? [] : [{ piece, edge: id, label, role, lengths }];
  });
}

export function stepsOf({ lengths }: SizedEdge, sizes: readonly Size[]): readonly GradeStep[] {
  return lengths.slice(1).map(({ size, length }, i) => {
    const before = lengths[i]!;
    const apart = Math.max(1, sizes.indexOf(size) - sizes.indexOf(before.size));
    return {
      from: before.size,
      to: size,
      perSize: addLength(NO_LENGTH, subtractLength(length, before.length), 1 / apart),
    };
  });
}
