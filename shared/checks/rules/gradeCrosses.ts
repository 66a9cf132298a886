// A line of the nest that leaves its place between the lines of its neighbour sizes.
import { NEST_ORDER_SOURCE } from '../../limits/grading.ts';
import type { Piece, Shape } from '../../pattern/model.ts';
import { pointSigmaOn } from '../../pattern/pointSigma.ts';
import { lineOrder } from '../../sizes/nestLines.ts';
import { defineRule } from '../rule.ts';
import { inPieces } from '../subjects.ts';
import { expanded } from '../verdict.ts';

interface Data {
  readonly piece: string;
  readonly edge: string;
  readonly size: string;
  readonly neighbours: readonly [string, string];
  readonly byMm: number;
  readonly sigmaMm: number;
  readonly limitMm: number;
}

export const gradeCrosses = defineRule<Piece, Data>({
  id: 'grade-crosses',
  title: 'The lines of the nest cross',
  why: 'Laid on each other, the sizes of a piece lie like the rings of a tree: in order, meeting at most in a common point. A line that runs outside its larger neighbour in one place was graded by a wrong amount or in the wrong direction there.',
  source: NEST_ORDER_SOURCE,
  messages: {
    inOrder: (d) => `${d.piece}: the lines of its sizes lie in order.`,
    crosses: (d, say) =>
      `${d.piece}, ${d.edge}: size ${d.size} lies ${say.uncertain(d.byMm, d.sigmaMm)} outside both ${d.neighbours[0]} and ${d.neighbours[1]}, between which it belongs.`,
    tooCoarse: (d, say) =>
      `${d.piece}, ${d.edge}: size ${d.size} seems to lie ${say.uncertain(d.byMm, d.sigmaMm)} outside its neighbours, too coarse to judge ${say.length(d.limitMm)}. Measure the piece again, nearer and with more cards.`,
    unlike: (d) => `${d.piece}: its edges differ from size to size, so its lines are not laid on each other.`,
  },
  subjects: inPieces((piece, { sizes }) =>
    sizes.filter((size) => piece.shapes[size] !== undefined).length > 2 ? [piece] : [],
  ),
  judge: (piece, context) => {
    const order = lineOrder(piece, context.sizes);
    const limitMm = context.limits.seam.valueMm;
    if (order === null)
      return [
        { verdict: 'not-applicable', key: 'unlike', data: nothing(piece, limitMm), subjects: [{ piece: piece.id }] },
      ];
    const { worst } = order;
    const sigmaMm =
      Math.SQRT2 * Math.max(...Object.values(piece.shapes).map((shape) => placesSigma(shape, worst?.edge)));
    const byMm = worst?.byMm ?? 0;
    const measured = { value: byMm, sigma: sigmaMm, unit: 'mm' } as const;
    const limit = { value: limitMm, unit: 'mm', source: NEST_ORDER_SOURCE } as const;
    if (worst === null || byMm + expanded(sigmaMm) <= limitMm) {
      const data = { ...nothing(piece, limitMm), byMm, sigmaMm };
      return [{ verdict: 'clear', key: 'inOrder', data, measured, limit, subjects: [{ piece: piece.id }] }];
    }
    const { edge, label, size, neighbours, at } = worst;
    const data = { piece: piece.name, edge: label, size, neighbours, byMm, sigmaMm, limitMm };
    const rest = { data, measured, limit, subjects: [{ piece: piece.id, edge, size }] } as const;
    if (byMm - expanded(sigmaMm) <= limitMm)
      return [{ verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest }];
    return [
      {
        verdict: 'fault',
        gravity: 'look',
        key: 'crosses',
        ...rest,
        overlay: [{ kind: 'point', piece: piece.id, at, label: `size ${size}` }],
        remedies: [
          {
            grade: 'choice',
            sentence: `Draw the ${label} of size ${size} between those of ${neighbours[0]} and ${neighbours[1]}, or trace that size again.`,
          },
        ],
      },
    ];
  },
});

/** The lines are compared at places all along the edge. */
function placesSigma(shape: Shape, edge: string | undefined): number {
  return edge === undefined ? shape.accuracy.pointSigmaMm : pointSigmaOn(shape, edge, 0, Number.POSITIVE_INFINITY);
}

function nothing(piece: Piece, limitMm: number): Data {
  return { piece: piece.name, edge: '', size: '', neighbours: ['', ''], byMm: 0, sigmaMm: 0, limitMm };
}
