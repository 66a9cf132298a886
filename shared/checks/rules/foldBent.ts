// An edge that lies on the fold of the cloth is a straight line: cloth folds in no other way.
import { FOLD_BENT } from '../../limits/pieceLimits.ts';
import { pointSigmaOn } from '../../pattern/pointSigma.ts';
import { type SeamEdge, seamlineOf } from '../../pattern/seamline.ts';
import type { CheckContext, ShapeInSize } from '../context.ts';
import { widestStray } from '../parts/straightness.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { inShapes } from '../subjects.ts';
import { judgeInterval } from '../verdict.ts';

interface Data {
  readonly piece: string;
  readonly straysMm: number;
  readonly sigmaMm: number;
  readonly limitMm: number;
}

interface Fold extends ShapeInSize {
  readonly fold: SeamEdge;
}

export const foldBent = defineRule<Fold, Data>({
  id: 'fold-bent',
  title: 'The fold edge is not straight',
  why: 'The fold edge is laid on the folded cloth. Where the paper bows away from it, cloth is added in the middle of the piece; where it crosses the fold, cloth is lost, and the two halves no longer meet in a straight centre.',
  source: "A folded edge is straight: geometry; how far it may stray is this program's own setting",
  messages: {
    clear: (d, say) => `${d.piece}: the fold edge is straight within ${say.uncertain(d.straysMm, d.sigmaMm)}.`,
    bent: (d, say) =>
      `${d.piece}: the fold edge strays ${say.uncertain(d.straysMm, d.sigmaMm)} from a straight line; ${say.length(d.limitMm)} is allowed.`,
    tooCoarse: (d, say) =>
      `${d.piece}: the fold edge seems to stray ${say.uncertain(d.straysMm, d.sigmaMm)} from a straight line, too coarse to judge ${say.length(d.limitMm)}. Measure the piece again, nearer and with more cards.`,
  },
  subjects: inShapes((entry) =>
    entry.shape.ring.some(({ role }) => role === 'fold')
      ? seamlineOf(entry.shape)
          .edges.filter(({ edge }) => edge.role === 'fold')
          .map((fold) => ({ ...entry, fold }))
      : [],
  ),
  judge: (subject, context) => [judgeFold(subject, context)],
});

function judgeFold({ piece, shape, size, fold }: Fold, context: CheckContext): Outcome<Data> {
  const { valueMm: limitMm, source } = FOLD_BENT[context.set.preset.tolerance];
  const { awayMm, at, foot } = widestStray(fold.path);
  // One point against the line through two others: their halves add to its own variance.
  const sigmaMm = Math.sqrt(3 / 2) * pointSigmaOn(shape, fold.edge.id, 0, fold.lengthMm);
  const rest = {
    data: { piece: piece.name, straysMm: awayMm, sigmaMm, limitMm },
    subjects: [{ piece: piece.id, edge: fold.edge.id, size }],
    measured: { value: awayMm, sigma: sigmaMm, unit: 'mm' },
    limit: { value: limitMm, unit: 'mm', source },
  } as const;
  const decision = judgeInterval(awayMm, sigmaMm, Number.NEGATIVE_INFINITY, limitMm);
  if (decision === 'clear') return { verdict: 'clear', key: 'clear', ...rest };
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
  return {
    verdict: 'fault',
    gravity: 'mend',
    key: 'bent',
    ...rest,
    overlay: [{ kind: 'segment', piece: piece.id, from: foot, to: at, label: context.say.length(awayMm) }],
    remedies: [
      {
        grade: 'choice',
        sentence: 'Draw the fold edge anew with a ruler from end to end, and square the corners to it.',
      },
    ],
  };
}
