// The plain hand: marks are moved, a selected edge is pulled, an edge is selected by a press on it.
import type { Point } from '../../../shared/base/points.ts';
import { distance } from '../../../shared/geometry/vector.ts';
import { markName, marksOf, moveMark } from '../../state/edits/marks.ts';
import { nearestEdge, pullEdge } from '../../state/edits/outline.ts';
import type { Begun, Press, Tool } from '../tool.ts';

export const correct: Tool = {
  id: 'correct',
  name: 'Move',
  hint: 'Drag a mark; press an edge to open it, then pull it or drag its points.',
  key: 'v',
  icon: '<path d="M6 3v15l4-4 3 7 3-1-3-7h6z"/>',
  press,
};

function press({ piece, shape, at, reachMm, openEdge, pullMm }: Press): Begun {
  const marks = marksOf(shape, openEdge)
    .map((mark) => ({ ...mark, awayMm: distance(mark.at, at) }))
    .filter(({ awayMm }) => awayMm <= reachMm)
    .toSorted((a, b) => a.awayMm - b.awayMm);
  const mark = marks[0];
  if (mark !== undefined) {
    const grip: Point = [mark.at[0] - at[0], mark.at[1] - at[1]];
    return {
      kind: 'drag',
      mark: mark.ref,
      edge: openEdge,
      shapeAt: (to) => moveMark(shape, mark.ref, [to[0] + grip[0], to[1] + grip[1]]),
      label: `Move ${markName(shape, mark.ref)} of ${piece.name}`,
    };
  }
  const near = nearestEdge(shape, at);
  if (near.distanceMm > reachMm) return { kind: 'select', edge: null };
  if (near.edge.id !== openEdge) return { kind: 'select', edge: near.edge.id };
  return {
    kind: 'drag',
    mark: null,
    edge: openEdge,
    shapeAt: (to) => pullEdge(shape, near.edge.id, near.atMm, to, pullMm),
    label: `Pull ${near.edge.label} of ${piece.name}`,
  };
}
