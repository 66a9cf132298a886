// Corners made true: an edge is turned at its end until the corner inside the piece has the wanted angle; at a fold that is a
// right angle. The corner itself stays.
import { fail, ok, type Result } from '../../base/result.ts';
import { endOf, polylinePath, startOf } from '../../geometry/cubicPath.ts';
import { cornersOf } from '../../pattern/corners.ts';
import type { Edge, Shape } from '../../pattern/model.ts';
import { beside, holdsOf } from '../kernel/corners.ts';
import { type End, otherEnd, turnEnd } from '../kernel/ends.ts';
import { handOf, type Place } from '../kernel/find.ts';
import { fromEnd, fromStart, type Reshaped, reshape } from '../kernel/reshape.ts';
import { solveFor } from '../kernel/solve.ts';
import type { AmountSpec, NameSpec } from '../params.ts';
import { EDGE, everywhere, namedEdge, PIECE, type RemedyAction, SIZE } from '../remedy.ts';
import { edgeWords, pieceWords } from '../words.ts';

const AT_END: NameSpec = { name: 'end', unit: 'name', default: 'end', sentence: '"start" or "end" of the edge.' };

const INSIDE: AmountSpec = {
  name: 'insideDeg',
  unit: 'deg',
  default: null,
  min: 20,
  max: 340,
  sentence: 'The angle that the corner shall have inside the piece.',
};

export const trueCorner: RemedyAction = {
  id: 'true-corner',
  grade: 'choice',
  title: 'True a corner',
  params: [INSIDE, PIECE, EDGE, AT_END, SIZE],
  sentence: (values, set) =>
    `Corner at the ${values.name('end')} of ${edgeWords(set, values.name('piece'), values.name('edge'))} trued to ${values.amount('insideDeg').toFixed(1)} degrees.`,
  redraw: (set, values) =>
    everywhere(set, values, (place) => {
      const edge = namedEdge(place, values.name('edge'));
      const end = values.name('end');
      if (!edge.ok) return edge;
      if (end !== 'start' && end !== 'end') return fail('no-end', `"end" should be "start" or "end", not "${end}".`);
      return cornerAt(place.shape, edge.value, end, values.amount('insideDeg'));
    }),
};

export const squareFold: RemedyAction = {
  id: 'square-fold',
  grade: 'choice',
  title: 'Square the fold',
  params: [PIECE, { ...EDGE, default: '', sentence: 'The fold; found by itself when empty.' }, SIZE],
  sentence: (values, set) => `The fold of ${pieceWords(set, values.name('piece'))} drawn straight, its corners square.`,
  redraw: (set, values) => everywhere(set, values, (place) => squared(place, values.name('edge'))),
};

/** The fold drawn straight between its ends, and the edges beside it turned square to it. */
function squared(place: Place, edgeId: string): Result<Reshaped> {
  const fold = place.shape.ring.find((edge) => (edgeId === '' ? edge.role === 'fold' : edge.id === edgeId));
  if (fold === undefined) return fail('no-fold', `"${place.piece.name}" has no fold.`);
  const line = polylinePath([startOf(fold.curve), endOf(fold.curve)]);
  let now = reshape(place.shape, new Map([[fold.id, { curve: line, carry: fromStart }]]));
  for (const end of ['start', 'end'] as const) {
    const other = beside(now.shape, fold.id, end);
    const before = now;
    const next = cornerAt(now.shape, other, otherEnd(end), SQUARE_DEG);
    if (!next.ok) return next;
    now = { shape: next.value.shape, carry: (id, atMm) => next.value.carry(id, before.carry(id, atMm)) };
  }
  return ok(now);
}

const SQUARE_DEG = 90;

/** An edge turned further than this at its end is not being trued. */
const MOST_TURN_DEG = 60;

function cornerAt(shape: Shape, edge: Edge, end: End, insideDeg: number): Result<Reshaped> {
  const index = shape.ring.findIndex(({ id }) => id === edge.id);
  const corner = end === 'end' ? index : (index + shape.ring.length - 1) % shape.ring.length;
  const holds = holdsOf(shape, edge.id);
  const holdMm = end === 'end' ? holds.endMm : holds.startMm;
  const build = (turnDeg: number): Reshaped =>
    reshape(
      shape,
      new Map([
        [edge.id, { curve: turnEnd(edge.curve, end, { turnDeg, holdMm }), carry: end === 'end' ? fromStart : fromEnd }],
      ]),
    );
  const insideAt = (turnDeg: number) => cornersOf(build(turnDeg).shape)[corner]!.insideDeg;
  const missDeg = insideDeg - insideAt(0);
  // Turning an arriving edge clockwise opens the corner of a clockwise ring.
  const sign = handOf(shape) * (end === 'end' ? 1 : -1);
  const found = solveFor(insideAt, insideDeg, { guess: sign * missDeg, farthest: MOST_TURN_DEG });
  if (found === null)
    return fail(
      'no-room',
      `The corner of "${edge.label}" cannot be turned to ${insideDeg.toFixed(1)} degrees; draw the edge anew.`,
    );
  return ok(build(found));
}
