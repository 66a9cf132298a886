// Puts a notch where the line is pressed; a press on a notch counts it up: single, double, triple.
import { distance } from '../../../shared/geometry/vector.ts';
import { addNotch, setNotch } from '../../state/edits/addMarks.ts';
import { marksOf, nearestOnSeam } from '../../state/edits/marks.ts';
import { nearestEdge } from '../../state/edits/outline.ts';
import { changeShape } from '../../state/edits/pieces.ts';
import type { Begun, Press, Tool } from '../tool.ts';

export const notch: Tool = {
  id: 'notch',
  name: 'Notch',
  hint: 'Press the line to put a notch there; press a notch to make it double, triple and single again.',
  key: 'n',
  icon: '<path d="M3 17h18M9 17l3-9 3 9"/>',
  press,
};

const NEXT_COUNT = { 1: 2, 2: 3, 3: 1 } as const;
const COUNT_WORDS = { 1: 'single', 2: 'double', 3: 'triple' } as const;

function press({ piece, size, shape, at, reachMm }: Press): Begun {
  const hit = marksOf(shape, null).find((mark) => mark.ref.kind === 'notch' && distance(mark.at, at) <= reachMm);
  if (hit?.ref.kind === 'notch') {
    const { ref } = hit;
    const count = NEXT_COUNT[shape.notches.find(({ id }) => id === ref.id)?.count ?? 3];
    return {
      kind: 'change',
      mark: ref,
      change: (set) => changeShape(set, piece.id, size, (before) => setNotch(before, ref.id, { count })),
      label: `Make a notch of ${piece.name} ${COUNT_WORDS[count]}`,
    };
  }
  const seam = nearestOnSeam(shape, at);
  const isOnLine = distance(seam.point, at) <= reachMm || nearestEdge(shape, at).distanceMm <= reachMm;
  if (!isOnLine) return { kind: 'select', edge: null };
  const { ref } = addNotch(shape, at);
  return {
    kind: 'change',
    mark: ref,
    change: (set) => changeShape(set, piece.id, size, (before) => addNotch(before, at).shape),
    label: `Put a notch on ${piece.name}`,
  };
}
