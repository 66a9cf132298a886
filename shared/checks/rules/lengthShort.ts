// Lengths of the garment against those of the body: back neck to waist, sleeve, crotch depth, inseam, and the skirt that was
// wished for. What is much shorter was meant to be short.
import { LENGTH_LEAST } from '../../limits/bodyFit.ts';
import type { CheckContext } from '../context.ts';
import { type FitSubject, fitSubjects, forWhom, NO_BODY, NO_BODY_SENTENCE } from '../parts/bodyFits.ts';
import { compared, noBody, notTaken } from '../parts/fitOutcomes.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { inSet } from '../subjects.ts';
import { judgeInterval } from '../verdict.ts';

type LengthId = keyof typeof LENGTH_LEAST;

interface Data {
  readonly body: string;
  readonly size: string;
  readonly what: string;
  readonly finishedMm: number;
  readonly sigmaMm: number;
  readonly bodyMm: number;
  readonly limitMm: number;
  readonly problem: string;
}

const LENGTHS: readonly { readonly id: LengthId; readonly body: LengthId }[] = [
  { id: 'back length', body: 'back length' },
  { id: 'sleeve length', body: 'sleeve length' },
  { id: 'crotch depth', body: 'crotch depth' },
  { id: 'inseam', body: 'inseam' },
  { id: 'skirt length', body: 'skirt length' },
];

export const lengthShort = defineRule<FitSubject | typeof NO_BODY, Data>({
  id: 'length-short',
  title: 'The garment is too short for the body',
  why: 'Width can be let out after the first fitting, length cannot be added to what is cut. The back is measured from neck to waist, sleeve and legs to where they end, the crotch from the waist down: each against the body, before the cloth is cut.',
  source:
    'Finished lengths are held to 1/4 to 3/8 in (one maker’s table of finished tolerances); the crotch needs 1/2 to 1 in of ease: common practice, no source',
  messages: {
    clear: (d, say) =>
      `${forWhom(d)}: the ${d.what} is ${say.uncertain(d.finishedMm, d.sigmaMm)}, that of the body ${say.length(d.bodyMm)}.`,
    short: (d, say) =>
      `${forWhom(d)}: the ${d.what} is ${say.uncertain(d.finishedMm, d.sigmaMm)}, that of the body ${say.length(d.bodyMm)}: ${d.limitMm > 0 ? `${say.length(d.limitMm)} more than the body is usual` : 'it is too short'}.`,
    tooCoarse: (d, say) =>
      `${forWhom(d)}: the ${d.what} is ${say.uncertain(d.finishedMm, d.sigmaMm)}, too coarse to judge against ${say.length(d.bodyMm)}. Measure the piece again, nearer and with more cards.`,
    meant: (d, say) =>
      `${forWhom(d)}: the ${d.what} is ${say.length(d.finishedMm)}, so much shorter than the body's ${say.length(d.bodyMm)} that it was meant so.`,
    withoutCuff: (d) => `${forWhom(d)}: a cuff is sewn to the sleeve and not counted, so its length is not judged.`,
    notTaken: (d) => `${forWhom(d)}: the ${d.what} could not be taken: ${d.problem}.`,
    noBody: () => NO_BODY_SENTENCE,
  },
  subjects: inSet((context) => fitSubjects(context, LENGTHS)),
  judge: (subject, context) => [judgeLength(subject, context)],
});

function judgeLength(subject: FitSubject | typeof NO_BODY, context: CheckContext): Outcome<Data> {
  if (subject === NO_BODY) return noBody(NO_DATA);
  const { fit, id, bodyMm } = subject;
  const what = id as LengthId; // the subjects were made from LENGTHS
  const row = LENGTH_LEAST[what];
  const about = { ...NO_DATA, body: fit.body.name, size: fit.size, what, bodyMm, limitMm: row.clearFromMm };
  const taken = fit.finished(what);
  if (!taken.ok) return notTaken(about, taken.error);
  const { valueMm, sigmaMm } = taken.value.length;
  const overMm = valueMm - bodyMm;
  const limit = { valueMm: row.clearFromMm, source: row.source };
  const rest = {
    data: { ...about, finishedMm: valueMm, sigmaMm },
    ...compared(taken.value, fit, { valueMm: overMm, sigmaMm }, limit),
  };
  if (valueMm < row.meantFromRatio * bodyMm) return { verdict: 'not-applicable', key: 'meant', ...rest };
  if (taken.value.notes.includes('without-cuff')) return { verdict: 'not-applicable', key: 'withoutCuff', ...rest };
  const decision = judgeInterval(overMm, sigmaMm, row.clearFromMm, Number.POSITIVE_INFINITY);
  if (decision === 'clear') return { verdict: 'clear', key: 'clear', ...rest };
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
  const wantedMm = Math.max(0, row.clearFromMm) - overMm;
  return {
    verdict: 'fault',
    gravity: overMm < row.mendBelowMm ? 'mend' : 'look',
    key: 'short',
    ...rest,
    remedies: [
      {
        grade: 'choice',
        sentence: `Lengthen by ${context.say.length(wantedMm)} at the lengthen line, on every piece that is sewn beside it.`,
      },
    ],
  };
}

const NO_DATA: Data = {
  body: '',
  size: '',
  what: '',
  finishedMm: 0,
  sigmaMm: 0,
  bodyMm: 0,
  limitMm: 0,
  problem: '',
};
