// A piece as it is in one size: all that is said of it, and the shape of that size alone. The same object as long as neither
// changes, whatever happens to its other sizes.
import type { Piece, Shape, Size } from '../pattern/model.ts';

/** @param known an earlier answer for the piece in this size: given back when it is still true */
export function pieceInSize(piece: Piece, size: Size, known: Piece | undefined): Piece {
  const view: Piece = {
    ...piece,
    shapes: only(piece.shapes, size),
    ...(piece.before === undefined ? {} : { before: only(piece.before, size) }),
  };
  return known !== undefined && isStill(known, view, size) ? known : view;
}

function only(shapes: Readonly<Record<Size, Shape>>, size: Size): Readonly<Record<Size, Shape>> {
  const shape = shapes[size];
  return shape === undefined ? NO_SHAPES : { [size]: shape };
}

const NO_SHAPES: Readonly<Record<Size, Shape>> = {};

function isStill(known: Piece, view: Piece, size: Size): boolean {
  const keys = Object.keys(view) as (keyof Piece)[];
  return (
    keys.length === Object.keys(known).length &&
    keys.every((key) => key === 'shapes' || key === 'before' || known[key] === view[key]) &&
    known.shapes[size] === view.shapes[size] &&
    known.before?.[size] === view.before?.[size]
  );
}
