// Where a piece is divided along its centre: an opening for a zip or buttons, or a seam.
import { isCentreName } from '../../pattern/kinds.ts';
import type { Edge, Piece, Shape } from '../../pattern/model.ts';
import type { CheckContext } from '../context.ts';

/** The edge along which a piece without a fold edge is divided in its middle; null when there is none. */
export function openCentre(piece: Pick<Piece, 'id'>, shape: Shape, context: CheckContext): Edge | null {
  if (shape.ring.some(({ role }) => role === 'fold')) return null;
  const isDivided = (edge: Edge) => edge.role === 'opening' || context.claims(piece.id, edge.id).length > 0;
  return shape.ring.find((edge) => isCentreName(edge.label) && isDivided(edge)) ?? null;
}
