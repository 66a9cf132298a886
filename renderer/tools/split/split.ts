// Cuts an edge in two where it is pressed; a press on a corner joins the two edges that meet there.
import { pathLengthMm } from '../../../shared/geometry/arcLength.ts';
import { distance } from '../../../shared/geometry/vector.ts';
import { nearestEdge } from '../../state/edits/outline.ts';
import { joinWithNext, splitEdge } from '../../state/edits/splitJoin.ts';
import type { Begun, Press, Tool } from '../tool.ts';

export const split: Tool = {
  id: 'split',
  name: 'Split or join',
  hint: 'Press an edge to make a corner there; press a corner to join its two edges into one.',
  key: 's',
  icon: '<path d="M3 12h7M14 12h7M12 4v16"/>',
  press,
};

function press({ piece, shape, at, reachMm }: Press): Begun {
  const corner = shape.ring.find((edge) => distance(edge.curve.at(-1)!, at) <= reachMm);
  if (corner !== undefined) {
    return {
      kind: 'change',
      mark: null,
      change: (set) => joinWithNext(set, piece.id, corner.id),
      label: `Join two edges of ${piece.name}`,
    };
  }
  const near = nearestEdge(shape, at);
  if (near.distanceMm > reachMm) return { kind: 'select', edge: null };
  const ratio = near.atMm / pathLengthMm(near.edge.curve);
  return {
    kind: 'change',
    mark: null,
    change: (set) => splitEdge(set, piece.id, near.edge.id, ratio),
    label: `Split ${near.edge.label} of ${piece.name}`,
  };
}
