// Draws the grainline anew: press at one end and drag to the other.
import { setGrainline } from '../../state/edits/addMarks.ts';
import type { Begun, Press, Tool } from '../tool.ts';

export const grain: Tool = {
  id: 'grain',
  name: 'Grainline',
  hint: 'Press where the grainline begins and drag to where it ends.',
  key: 'g',
  icon: '<path d="M12 3v18M8 7l4-4 4 4M8 17l4 4 4-4"/>',
  press,
};

function press({ piece, shape, at }: Press): Begun {
  return {
    kind: 'drag',
    mark: null,
    edge: null,
    shapeAt: (to) => setGrainline(shape, at, to),
    label: `Draw the grainline of ${piece.name}`,
  };
}
