// Changes of a set piece by piece and seam by seam: a new set each time, untouched parts shared with the old one.
import type { Edge, NotchMate, PatternSet, Piece, Seam, Shape, Size } from '../../../shared/pattern/model.ts';
import { removeMark } from './addMarks.ts';
import type { MarkRef } from './marks.ts';
import { settleMarks, withRing } from './settleMarks.ts';

export function replacePiece(set: PatternSet, piece: Piece): PatternSet {
  return { ...set, pieces: set.pieces.map((one) => (one.id === piece.id ? piece : one)) };
}

export function changePiece(set: PatternSet, id: string, change: Partial<Omit<Piece, 'id' | 'shapes'>>): PatternSet {
  return { ...set, pieces: set.pieces.map((piece) => (piece.id === id ? { ...piece, ...change } : piece)) };
}

/** The shape of a piece in one size changed; the same set when there is none or nothing changed. */
export function changeShape(set: PatternSet, id: string, size: Size, change: (shape: Shape) => Shape): PatternSet {
  const piece = set.pieces.find((one) => one.id === id);
  const shape = piece?.shapes[size];
  if (piece === undefined || shape === undefined) return set;
  const changed = change(shape);
  return changed === shape ? set : replacePiece(set, { ...piece, shapes: { ...piece.shapes, [size]: changed } });
}

/** Name, role and allowance of an edge, in every size: an edge means the same in all of them. */
export function changeEdge(
  set: PatternSet,
  id: string,
  edgeId: string,
  change: Partial<Pick<Edge, 'label' | 'role' | 'allowanceMm' | 'allowanceAssumed'>>,
): PatternSet {
  const piece = set.pieces.find((one) => one.id === id);
  if (piece === undefined) return set;
  const shapes = Object.entries(piece.shapes).map(([size, shape]) => {
    const ring = shape.ring.map((edge) => (edge.id === edgeId ? { ...edge, ...change } : edge));
    return [size, withRing(shape, ring)] as const;
  });
  return replacePiece(set, { ...piece, shapes: Object.fromEntries(shapes) });
}

/** Every allowance of the piece said at once, folds left alone. */
export function setAllAllowances(set: PatternSet, id: string, allowanceMm: number): PatternSet {
  const piece = set.pieces.find((one) => one.id === id);
  if (piece === undefined) return set;
  const shapes = Object.entries(piece.shapes).map(([size, shape]) => {
    const ring = shape.ring.map((edge) =>
      edge.role === 'fold' ? edge : { ...edge, allowanceMm, allowanceAssumed: false },
    );
    return [size, withRing(shape, ring)] as const;
  });
  return replacePiece(set, { ...piece, shapes: Object.fromEntries(shapes) });
}

/** Whether the cutting line or the seamline was traced; the marks stay where they lie on the paper. */
export function setTracedLine(set: PatternSet, id: string, size: Size, tracedLine: Shape['tracedLine']): PatternSet {
  return changeShape(set, id, size, (shape) =>
    shape.tracedLine === tracedLine ? shape : settleMarks(shape, { ...shape, tracedLine }),
  );
}

/** The piece taken out, with the seams that need it and the appointments of notches with it. */
export function removePiece(set: PatternSet, id: string): PatternSet {
  return {
    ...set,
    pieces: set.pieces.filter((piece) => piece.id !== id).map((piece) => forgetMates(piece, id)),
    seams: set.seams.filter((seam) => !seam.sides.flat().some((span) => span.piece === id)),
  };
}

export function changeSeam(set: PatternSet, id: string, change: Partial<Omit<Seam, 'id'>>): PatternSet {
  return { ...set, seams: set.seams.map((seam) => (seam.id === id ? { ...seam, ...change } : seam)) };
}

export function removeSeam(set: PatternSet, id: string): PatternSet {
  return { ...set, seams: set.seams.filter((seam) => seam.id !== id) };
}

export function confirmAllSeams(set: PatternSet): PatternSet {
  return { ...set, seams: set.seams.map((seam) => ({ ...seam, status: 'confirmed' as const })) };
}

/** A seam from nothing more than its two sides, to be confirmed when they are right. */
export function addSeam(
  set: PatternSet,
  name: string,
  sides: Seam['sides'],
): { readonly set: PatternSet; readonly id: string } {
  const taken = new Set(set.seams.map(({ id }) => id));
  let count = set.seams.length + 1;
  while (taken.has(`seam-${count}`)) count++;
  const id = `seam-${count}`;
  const seam: Seam = {
    id,
    name,
    sides,
    join: 'even',
    wantedEaseMm: null,
    wantedSectionsMm: null,
    overlapMm: 0,
    status: 'proposed',
  };
  return { set: { ...set, seams: [...set.seams, seam] }, id };
}

/** A mark taken off a shape; a notch elsewhere that had its appointment with it no longer names it. */
export function removeMarkFrom(set: PatternSet, id: string, size: Size, ref: MarkRef): PatternSet {
  const changed = changeShape(set, id, size, (shape) => removeMark(shape, ref));
  if (ref.kind !== 'notch') return changed;
  const piece = changed.pieces.find((one) => one.id === id);
  const isLeft = Object.values(piece?.shapes ?? {}).some((shape) => shape.notches.some((notch) => notch.id === ref.id));
  if (isLeft) return changed;
  return { ...changed, pieces: changed.pieces.map((one) => forgetMates(one, id, ref.id)) };
}

/** No notch of `piece` names the piece that is gone, or only its one notch when that is what is gone. */
function forgetMates(piece: Piece, gone: string, notchGone: string | null = null): Piece {
  const names = (mate: NotchMate) =>
    mate.kind === 'notch' && mate.piece === gone && (notchGone === null || mate.notch === notchGone);
  if (!Object.values(piece.shapes).some((shape) => shape.notches.some(({ mate }) => names(mate)))) return piece;
  const shapes = Object.entries(piece.shapes).map(([size, shape]) => {
    const notches = shape.notches.map((notch) =>
      names(notch.mate) ? { ...notch, mate: { kind: 'unknown' as const } } : notch,
    );
    return [size, { ...shape, notches }] as const;
  });
  return { ...piece, shapes: Object.fromEntries(shapes) };
}
