// Where two edges of a piece run on into each other they are one line to the scissors, so their allowances agree, or the
// cutting line has a step.
import { RUNS_ON } from '../../limits/pieceLimits.ts';
import { type Corner, cornersOf } from '../../pattern/corners.ts';
import type { CheckContext, ShapeInSize } from '../context.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { EVERY_SHAPE } from '../subjects.ts';
import { judgeDifference } from '../verdict.ts';
import { edgeWords } from '../words.ts';

interface Data {
  readonly piece: string;
  readonly first: string;
  readonly second: string;
  readonly allowancesMm: readonly [number, number];
  readonly limitMm: number;
}

export const allowanceUneven = defineRule<ShapeInSize, Data>({
  id: 'allowance-uneven',
  title: 'The allowance changes along one line',
  why: 'The edge of the cloth is guided along one mark of the machine. Where the allowance grows or shrinks in the middle of a line, the stitches wander off the seamline by as much, although the cloth is guided perfectly.',
  source: 'BBC Bitesize, Textiles, Accuracy and quality control; one line, one allowance: common practice, no source',
  messages: {
    clear: (d) => `${d.piece}: edges that run on into each other carry the same allowance.`,
    steps: (d, say) =>
      `${d.piece}: the ${edgeWords(d.first)} (${say.length(d.allowancesMm[0])} of allowance) runs on into the ${edgeWords(d.second)} (${say.length(d.allowancesMm[1])}); more than ${say.length(d.limitMm)} apart the cutting line has a step.`,
    assumed: (d, say) =>
      `${d.piece}: the ${edgeWords(d.first)} seems to carry ${say.length(d.allowancesMm[0])} of allowance and the ${edgeWords(d.second)}, into which it runs on, ${say.length(d.allowancesMm[1])}, but one of them is only assumed. Enter it.`,
    noLines: (d) => `${d.piece}: no edge runs on into another.`,
  },
  subjects: EVERY_SHAPE,
  judge: (subject, context) => judgeShape(subject, context),
});

const STRAIGHT_DEG = 180;

function judgeShape({ piece, shape, size }: ShapeInSize, context: CheckContext): Outcome<Data>[] {
  const { valueMm: limitMm, source } = context.limits.allowance;
  const quiet = {
    data: { piece: piece.name, first: '', second: '', allowancesMm: [0, 0], limitMm } satisfies Data,
    subjects: [{ piece: piece.id, size }],
  };
  const runs = cornersOf(shape).filter(isOneLine);
  if (runs.length === 0) return [{ verdict: 'not-applicable', key: 'noLines', ...quiet }];
  const steps = runs.flatMap(({ before, after, at }): Outcome<Data>[] => {
    const isWideFirst = before.edge.allowanceMm >= after.edge.allowanceMm;
    const [wide, narrow] = isWideFirst ? [before.edge, after.edge] : [after.edge, before.edge];
    const allowancesMm = [wide.allowanceMm, narrow.allowanceMm] as const;
    const differenceMm = wide.allowanceMm - narrow.allowanceMm;
    // Allowances are entered, not measured: there is nothing uncertain about them.
    if (judgeDifference(differenceMm, 0, limitMm) === 'clear') return [];
    const rest = {
      data: { piece: piece.name, first: wide.label, second: narrow.label, allowancesMm, limitMm },
      subjects: [wide, narrow].map((edge) => ({ piece: piece.id, edge: edge.id, size })),
      measured: { value: differenceMm, sigma: 0, unit: 'mm' },
      limit: { value: limitMm, unit: 'mm', source },
    } as const;
    if (wide.allowanceAssumed || narrow.allowanceAssumed)
      return [{ verdict: 'unsure', reason: 'not-said', key: 'assumed', ...rest }];
    return [
      {
        verdict: 'fault',
        gravity: 'look',
        key: 'steps',
        ...rest,
        overlay: [{ kind: 'point', piece: piece.id, at, label: context.say.length(differenceMm) }],
        remedies: [
          {
            grade: 'choice',
            sentence: `Give both edges ${context.say.length(wide.allowanceMm)} of allowance, or run one out into the other on purpose.`,
          },
        ],
      },
    ];
  });
  return steps.length > 0 ? steps : [{ verdict: 'clear', key: 'clear', ...quiet }];
}

/** Two sewn edges on one line. An opening or a hem beside a seam is wider on purpose. */
function isOneLine({ before, after, insideDeg }: Corner): boolean {
  const bothSewn = before.edge.role === 'seam' && after.edge.role === 'seam';
  return bothSewn && before !== after && Math.abs(insideDeg - STRAIGHT_DEG) <= RUNS_ON.valueDeg;
}
