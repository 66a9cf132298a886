// Draws a stretch of an edge again by hand: from a place on the line, along where it should run, back to the line.
import { nearestEdge, redrawStretch } from '../../state/edits/outline.ts';
import type { Begun, Press, Tool } from '../tool.ts';

export const redraw: Tool = {
  id: 'redraw',
  name: 'Redraw',
  hint: 'Start on an edge, draw along where the line should run, and end on the same edge.',
  key: 'r',
  icon: '<path d="M3 17c4-9 8 5 12-4M14 12l5-7 2 2-6 6z"/>',
  press,
};

function press({ piece, shape, at, reachMm, openEdge }: Press): Begun {
  const near = nearestEdge(shape, at);
  if (near.distanceMm > 2 * reachMm) return { kind: 'select', edge: null };
  const edge = openEdge ?? near.edge.id;
  return {
    kind: 'stroke',
    edge,
    shapeOf: (stroke) => redrawStretch(shape, edge, stroke),
    label: `Redraw a stretch of ${shape.ring.find(({ id }) => id === edge)?.label ?? edge} of ${piece.name}`,
    refusal: 'The drawn stretch was too short; start on the edge and end on it at least 5 mm further along.',
  };
}
