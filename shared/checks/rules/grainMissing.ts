// Every piece must show how it lies on the cloth: a grainline arrow, or a fold edge, whose bracket is the grain.
import type { ShapeInSize } from '../context.ts';
import { defineRule } from '../rule.ts';
import { EVERY_SHAPE } from '../subjects.ts';

interface Data {
  readonly piece: string;
}

export const grainMissing = defineRule<ShapeInSize, Data>({
  id: 'grain-missing',
  title: 'No grainline',
  why: 'The grainline lies parallel to the selvage. Without it a piece is laid by eye, and a skirt panel two degrees off the grain swings to one side for as long as it is worn. A fold edge needs no arrow: the fold is the grain.',
  source:
    'Univ. of Arkansas, Intro Apparel Production Workbook, ch. 8; the fold bracket is the grain: common practice, no source',
  messages: {
    arrow: (d) => `${d.piece} has its grainline.`,
    fold: (d) => `${d.piece} is cut on the fold, and the fold is its grain.`,
    missing: (d) => `${d.piece} has neither a grainline nor a fold edge.`,
  },
  subjects: EVERY_SHAPE,
  judge: ({ piece, shape, size }) => {
    const rest = { data: { piece: piece.name }, subjects: [{ piece: piece.id, size }] };
    if (shape.ring.some((edge) => edge.role === 'fold')) return [{ verdict: 'clear', key: 'fold', ...rest }];
    if (shape.grainline !== null) return [{ verdict: 'clear', key: 'arrow', ...rest }];
    return [
      {
        verdict: 'fault',
        gravity: 'mend',
        key: 'missing',
        ...rest,
        overlay: shape.ring.slice(0, 1).map((edge) => ({ kind: 'edge', piece: piece.id, edge: edge.id }) as const),
        remedies: [
          { grade: 'choice', sentence: 'Draw the grainline on the piece, or mark the edge that lies on the fold.' },
        ],
      },
    ];
  },
});
