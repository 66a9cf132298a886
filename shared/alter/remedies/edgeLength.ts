// An edge made longer or shorter: one of its ends moves along its own line, or one of its points moves out or in, and the
// edge is blended to the rest.
import { fail } from '../../base/result.ts';
import { freerEnd, lengthenEdge, type Mover } from '../kernel/followLength.ts';
import { EDGE, everywhere, namedEdge, PIECE, type RemedyAction, SIZE } from '../remedy.ts';
import { capital, changeWords, edgeWords } from '../words.ts';

export const edgeLength: RemedyAction = {
  id: 'edge-length',
  grade: 'choice',
  title: 'Lengthen or shorten an edge',
  params: [
    {
      name: 'byMm',
      unit: 'mm',
      default: null,
      min: -300,
      max: 300,
      sentence: 'How much longer the sewn edge becomes; negative shortens it.',
    },
    PIECE,
    EDGE,
    {
      name: 'move',
      unit: 'name',
      default: 'free',
      sentence: '"start", "end", "point" (at atMm), or "free" for the end that is not at the centre.',
    },
    {
      name: 'atMm',
      unit: 'mm',
      default: 0,
      min: 0,
      max: 5000,
      sentence: 'With "point": which point moves, along the seamline from the start of the edge.',
    },
    SIZE,
  ],
  sentence: (values, set) =>
    `${capital(edgeWords(set, values.name('piece'), values.name('edge')))} made ${changeWords(set, values.amount('byMm'))}.`,
  redraw: (set, values) =>
    everywhere(set, values, (place) => {
      const edge = namedEdge(place, values.name('edge'));
      if (!edge.ok) return edge;
      const move = values.name('move');
      const movers: Readonly<Record<string, Mover>> = {
        start: 'start',
        end: 'end',
        free: freerEnd(place, edge.value),
        point: { atMm: values.amount('atMm') },
      };
      const mover = movers[move];
      if (mover === undefined) return fail('no-move', `"move" should be start, end, free or point, not "${move}".`);
      return lengthenEdge(place, edge.value, values.amount('byMm'), mover);
    }),
};
