// Draws a dart: press where it opens on the line and drag to its point.
import { addDart } from '../../state/edits/addMarks.ts';
import { nearestEdge } from '../../state/edits/outline.ts';
import type { Begun, Press, Tool } from '../tool.ts';

export const dart: Tool = {
  id: 'dart',
  name: 'Dart',
  hint: 'Press the line where the dart opens and drag to its point; move its legs with Move afterwards.',
  key: 'd',
  icon: '<path d="M4 6l15 6-15 6"/>',
  press,
};

function press({ piece, shape, at, reachMm }: Press): Begun {
  if (nearestEdge(shape, at).distanceMm > reachMm) return { kind: 'select', edge: null };
  return {
    kind: 'drag',
    mark: null,
    edge: null,
    shapeAt: (to) => addDart(shape, at, to).shape,
    label: `Draw a dart on ${piece.name}`,
  };
}
