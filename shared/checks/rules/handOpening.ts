// The end of a sleeve must let the hand through, the end of a trouser leg the heel.
import { HAND_OPENING_SOURCE } from '../../limits/bodyFit.ts';
import type { CheckContext } from '../context.ts';
import { type FitSubject, fitSubjects, forWhom, NO_BODY, NO_BODY_SENTENCE } from '../parts/bodyFits.ts';
import { compared, letsThrough, noBody, notTaken } from '../parts/fitOutcomes.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { inSet } from '../subjects.ts';

interface Data {
  readonly body: string;
  readonly size: string;
  readonly end: 'sleeve' | 'trouser leg';
  readonly through: 'hand' | 'heel';
  readonly closedMm: number;
  readonly passesMm: number;
  readonly sigmaMm: number;
  readonly bodyMm: number;
  readonly problem: string;
}

const ENDS = [
  { id: 'hand opening', body: 'hand' },
  { id: 'foot opening', body: 'foot' },
] as const;

export const handOpening = defineRule<FitSubject | typeof NO_BODY, Data>({
  id: 'hand-opening',
  title: 'The hand does not pass the sleeve, or the heel the trouser leg',
  why: 'A cuff fits the wrist and a narrow leg the ankle, but both go on over something wider. Where cuff or hem is narrower than the hand or the heel, it needs a placket, a zip or elastic.',
  source: HAND_OPENING_SOURCE,
  messages: {
    clear: (d, say) =>
      `${forWhom(d)}: the end of the ${d.end} passes ${say.uncertain(d.passesMm, d.sigmaMm)}, the ${d.through} measures ${say.length(d.bodyMm)}.`,
    stretches: (d, say) =>
      `${forWhom(d)}: the end of the ${d.end} is ${say.length(d.bodyMm - d.passesMm)} narrower than the ${d.through}; a knit stretches by that.`,
    narrow: (d, say) =>
      `${forWhom(d)}: the end of the ${d.end} passes ${say.uncertain(d.passesMm, d.sigmaMm)}, the ${d.through} measures ${say.length(d.bodyMm)}: it does not go through.`,
    openingNotSaid: (d, say) =>
      `${forWhom(d)}: the end of the ${d.end} measures ${say.uncertain(d.closedMm, d.sigmaMm)}, the ${d.through} ${say.length(d.bodyMm)}, and an edge beside it is neither seam, fold nor opening. Say whether it opens there.`,
    tooCoarse: (d, say) =>
      `${forWhom(d)}: the end of the ${d.end} passes ${say.uncertain(d.passesMm, d.sigmaMm)}, too coarse to judge a ${d.through} of ${say.length(d.bodyMm)}. Measure these pieces again, nearer and with more cards.`,
    notTaken: (d) => `${forWhom(d)}: the end of the ${d.end} could not be measured: ${d.problem}.`,
    noBody: () => NO_BODY_SENTENCE,
  },
  subjects: inSet((context) => fitSubjects(context, ENDS)),
  judge: (subject, context) => [judgeEnd(subject, context)],
});

function judgeEnd(subject: FitSubject | typeof NO_BODY, context: CheckContext): Outcome<Data> {
  if (subject === NO_BODY) return noBody(NO_DATA);
  const { fit, id, bodyMm } = subject;
  const isHand = id === 'hand opening';
  const about: Data = {
    ...NO_DATA,
    body: fit.body.name,
    size: fit.size,
    end: isHand ? 'sleeve' : 'trouser leg',
    through: isHand ? 'hand' : 'heel',
    bodyMm,
  };
  const end = fit.finished(id);
  if (!end.ok) return notTaken(about, end.error);
  const opening = end.value.opening!; // the end of a sleeve or leg always says what it passes
  const { passes } = opening;
  const rest = {
    data: { ...about, closedMm: end.value.length.valueMm, passesMm: passes.valueMm, sigmaMm: passes.sigmaMm },
    ...compared(end.value, fit, passes, { valueMm: bodyMm, source: HAND_OPENING_SOURCE }),
  };
  const passed = letsThrough(opening, bodyMm, context);
  if (passed !== null) return { ...passed, ...rest };
  const { say } = context;
  const missingMm = bodyMm - passes.valueMm;
  return {
    verdict: 'fault',
    gravity: 'stop',
    key: 'narrow',
    ...rest,
    remedies: [
      { grade: 'choice', sentence: `Plan a placket, slit or zip of ${say.length(missingMm / 2)} or more there.` },
      { grade: 'choice', sentence: `Or widen the end by ${say.length(missingMm)}, or gather it with elastic.` },
    ],
  };
}

const NO_DATA: Data = {
  body: '',
  size: '',
  end: 'sleeve',
  through: 'hand',
  closedMm: 0,
  passesMm: 0,
  sigmaMm: 0,
  bodyMm: 0,
  problem: '',
};
