// The two legs of a dart are sewn together, so from the apex to the seamline they are equally long.
import { dartOnSeam } from '../../pattern/darts.ts';
import { pointSigmaAt } from '../../pattern/pointSigma.ts';
import type { CheckContext } from '../context.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { type DartInSize, EVERY_DART } from '../subjects.ts';
import { judgeDifference } from '../verdict.ts';
import { edgeWords } from '../words.ts';

interface Data {
  readonly piece: string;
  readonly edge: string;
  /** The longer and the shorter. */
  readonly legsMm: readonly [number, number];
  readonly differenceMm: number;
  readonly sigmaMm: number;
  readonly limitMm: number;
}

export const dartLegs = defineRule<DartInSize, Data>({
  id: 'dart-legs',
  title: 'The legs of a dart are not equally long',
  why: 'Both legs are laid on each other and sewn from the edge to the apex. If one is longer, the edge steps where the dart is closed and the seam across it cannot run smoothly. Legs are measured to the seamline: on the cutting edge every dart is wider.',
  source: 'Equal when folded; 1/16 in is a usual setting: common practice, no source',
  messages: {
    clear: (d, say) =>
      `${d.piece}: the legs of the dart on the ${edgeWords(d.edge)} agree within ${apart(d, say.uncertain)}.`,
    differs: (d, say) =>
      `${d.piece}: the legs of the dart on the ${edgeWords(d.edge)} are ${say.length(d.legsMm[0])} and ${say.length(d.legsMm[1])}, ${apart(d, say.uncertain)} apart; ${say.length(d.limitMm)} is allowed.`,
    tooCoarse: (d, say) =>
      `${d.piece}: the legs of the dart on the ${edgeWords(d.edge)} differ by ${apart(d, say.uncertain)}, too coarse to judge ${say.length(d.limitMm)}. Measure the piece again, nearer and with more cards.`,
    noEdge: (d) => `${d.piece}: a dart opens on an edge that is not there. Choose its edge again.`,
  },
  subjects: EVERY_DART,
  judge: (subject, context) => [judgeDart(subject, context)],
});

function apart(d: Data, uncertain: (mm: number, sigmaMm: number) => string): string {
  return uncertain(Math.abs(d.differenceMm), d.sigmaMm);
}

function judgeDart({ piece, shape, size, dart }: DartInSize, context: CheckContext): Outcome<Data> {
  const { valueMm: limitMm, source } = context.limits.dartLegs;
  const subjects = [{ piece: piece.id, edge: dart.edge, dart: dart.id, size }];
  const on = dartOnSeam(shape, dart);
  const edge = shape.ring.find((e) => e.id === dart.edge)?.label ?? '';
  const [a, b] = on?.legsMm ?? [0, 0];
  const legsMm = [Math.max(a, b), Math.min(a, b)] as const;
  const differenceMm = legsMm[0] - legsMm[1];
  // The apex is common to both legs; along two nearly parallel legs its error cancels, and the two ends remain.
  const sigmaMm = Math.hypot(...(on?.atMm ?? [0, 0]).map((mm) => pointSigmaAt(shape, dart.edge, mm)));
  const data: Data = { piece: piece.name, edge, legsMm, differenceMm, sigmaMm, limitMm };
  if (on === null) return { verdict: 'unsure', reason: 'broken-seam', key: 'noEdge', data, subjects };
  const rest = {
    data,
    subjects,
    measured: { value: differenceMm, sigma: sigmaMm, unit: 'mm' },
    limit: { value: limitMm, unit: 'mm', source },
  } as const;
  const decision = judgeDifference(differenceMm, sigmaMm, limitMm);
  if (decision === 'clear') return { verdict: 'clear', key: 'clear', ...rest };
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
  const { say } = context;
  return {
    verdict: 'fault',
    gravity: 'mend',
    key: 'differs',
    ...rest,
    overlay: on.points.map((to, i) => ({
      kind: 'segment',
      piece: piece.id,
      from: dart.apex,
      to,
      label: say.length(on.legsMm[i]!),
    })),
    remedies: [
      {
        grade: 'choice',
        sentence: `Lengthen the shorter leg by ${say.length(Math.abs(differenceMm))} and redraw the edge with the dart folded.`,
      },
      { grade: 'choice', sentence: `Or move the apex until both legs are ${say.length((legsMm[0] + legsMm[1]) / 2)}.` },
    ],
  };
}
