// Edges picked on the canvas for one side of a seam: a press adds the edge to the chain, a press on one that is in takes it out.
import type { EdgeSpan, SeamSide } from '../../shared/pattern/model.ts';
import type { Actions } from '../app/actions.ts';
import { changeSeam } from '../state/edits/pieces.ts';
import { currentSet, type WindowState } from '../state/windowState.ts';

export function pickForSeam(state: WindowState, actions: Actions, piece: string, edge: string): void {
  const { seam: id, picking } = state.selection;
  const seam = currentSet(state)?.seams.find((one) => one.id === id);
  if (seam === undefined || picking === null) return;
  const side = toggled(seam.sides[picking], piece, edge);
  if (side.length === 0) {
    actions.tell('error', 'A side of a seam needs at least one edge; pick the new edge first, then take this one out.');
    return;
  }
  const sides = picking === 0 ? ([side, seam.sides[1]] as const) : ([seam.sides[0], side] as const);
  actions.edit(`Pick edges for ${seam.name}`, (set) => changeSeam(set, seam.id, { sides, status: 'proposed' }));
}

/** The chain with the edge added at its end, or without it when it was in. */
export function toggled(side: SeamSide, piece: string, edge: string): SeamSide {
  const isIn = side.some((span) => span.piece === piece && span.edge === edge);
  if (isIn) return side.filter((span) => span.piece !== piece || span.edge !== edge);
  const span: EdgeSpan = { piece, edge, reversed: false, stretch: null };
  return [...side, span];
}
