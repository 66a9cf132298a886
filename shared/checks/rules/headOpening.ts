// The neck must let the head through: by its own girth, undone at a slit, or by the stretch of a knit.
import { ADULT_HEAD, CHILD_HEADS, childHeadMm, HEAD_OPENING_SOURCE } from '../../limits/bodyFit.ts';
import type { CheckContext } from '../context.ts';
import { type BodyFit, bodyFits, forWhom, hasPieces, NO_BODY, NO_BODY_SENTENCE, piecesOf } from '../parts/bodyFits.ts';
import { compared, letsThrough, noBody, notTaken, slitWords } from '../parts/fitOutcomes.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { inSet } from '../subjects.ts';

interface Data {
  readonly body: string;
  readonly size: string;
  readonly neckMm: number;
  readonly passesMm: number;
  readonly sigmaMm: number;
  /** Null when nothing opens. */
  readonly slitMm: number | null;
  readonly headMm: number;
  readonly isByTable: boolean;
  readonly problem: string;
}

export const headOpening = defineRule<BodyFit | typeof NO_BODY, Data>({
  id: 'head-opening',
  title: 'The head does not pass the neck',
  why: 'A garment that is pulled on must let the head through before it fits the neck. A neckline that is narrower than the head needs a slit, buttons or a zip: each millimetre of slit opens two of girth. A child’s head is large for its neck, and stretching a woven neckline over it is how seams tear.',
  source: HEAD_OPENING_SOURCE,
  messages: {
    clear: (d, say) =>
      `${forWhom(d)}: the neck passes ${say.uncertain(d.passesMm, d.sigmaMm)}${slitWords(d.slitMm, d.neckMm, say.length)}, the head measures ${say.length(d.headMm)}.`,
    stretches: (d, say) =>
      `${forWhom(d)}: the neck of ${say.uncertain(d.neckMm, d.sigmaMm)} is ${say.length(d.headMm - d.passesMm)} narrower than the head; a knit stretches by that.`,
    narrow: (d, say) =>
      `${forWhom(d)}: the neck passes ${say.uncertain(d.passesMm, d.sigmaMm)}${slitWords(d.slitMm, d.neckMm, say.length)}, the head measures ${say.length(d.headMm)}${d.isByTable ? ' by its height' : ''}: it does not go through.`,
    openingNotSaid: (d, say) =>
      `${forWhom(d)}: the neck of ${say.uncertain(d.neckMm, d.sigmaMm)} is narrower than the head of ${say.length(d.headMm)}, and an edge beside it is neither seam, fold nor opening. Say whether it opens there.`,
    tooCoarse: (d, say) =>
      `${forWhom(d)}: the neck passes ${say.uncertain(d.passesMm, d.sigmaMm)}, too coarse to judge a head of ${say.length(d.headMm)}. Measure these pieces again, nearer and with more cards.`,
    noHead: (d, say) =>
      `${forWhom(d)}: the neck passes ${say.uncertain(d.passesMm, d.sigmaMm)}; the body does not say its head girth (a grown woman's is ${say.length(ADULT_HEAD.fromMm)} to ${say.length(ADULT_HEAD.toMm)}).`,
    notTaken: (d) => `${forWhom(d)}: the neck opening could not be taken: ${d.problem}.`,
    noBody: () => NO_BODY_SENTENCE,
  },
  subjects: inSet((context): readonly (BodyFit | typeof NO_BODY)[] => {
    if (context.set.pieces.length === 0) return [];
    const fits = bodyFits(context);
    if (fits.length === 0) return [NO_BODY];
    return fits.filter(({ finished }) => hasPieces(finished('neck opening')));
  }),
  judge: (subject, context) => [judgeNeck(subject, context)],
});

function judgeNeck(subject: BodyFit | typeof NO_BODY, context: CheckContext): Outcome<Data> {
  if (subject === NO_BODY) return noBody(NO_DATA);
  const { body, size, finished } = subject;
  const about = { ...NO_DATA, body: body.name, size };
  const neck = finished('neck opening');
  if (!neck.ok) return notTaken(about, neck.error);
  const { head, height } = body.measuresMm;
  const byTable = height === undefined ? null : childHeadMm(height);
  const headMm = head ?? byTable;
  const opening = neck.value.opening!; // a neck opening always says what it passes
  const { passes, slitMm } = opening;
  const data: Data = {
    ...about,
    neckMm: neck.value.length.valueMm,
    passesMm: passes.valueMm,
    sigmaMm: passes.sigmaMm,
    slitMm,
    headMm: headMm ?? 0,
    isByTable: head === undefined,
  };
  if (headMm === null)
    return { verdict: 'not-applicable', key: 'noHead', data, subjects: piecesOf(neck.value, subject) };
  const source = head === undefined ? CHILD_HEADS.source : HEAD_OPENING_SOURCE;
  const rest = { data, ...compared(neck.value, subject, passes, { valueMm: headMm, source }) };
  const passed = letsThrough(opening, headMm, context);
  if (passed !== null) return { ...passed, ...rest };
  const { say } = context;
  const missingMm = headMm - passes.valueMm;
  return {
    verdict: 'fault',
    gravity: head === undefined ? 'look' : 'stop',
    key: 'narrow',
    ...rest,
    remedies: [
      {
        grade: 'choice',
        sentence:
          slitMm === null
            ? `Plan a slit, buttons or a zip of ${say.length(missingMm / 2)} or more at the neck.`
            : `Lengthen the opening by ${say.length(missingMm / 2)} or more.`,
      },
      { grade: 'choice', sentence: `Or widen the neckline by ${say.length(missingMm)} round.` },
    ],
  };
}

const NO_DATA: Data = {
  body: '',
  size: '',
  neckMm: 0,
  passesMm: 0,
  sigmaMm: 0,
  slitMm: null,
  headMm: 0,
  isByTable: false,
  problem: '',
};
