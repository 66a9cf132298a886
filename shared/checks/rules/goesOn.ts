// A garment that fits the waist must first pass the hips or the shoulders, undone as far as it opens.
import { GOES_ON_SOURCE } from '../../limits/bodyFit.ts';
import { isBodice, isSkirt, isTrouser } from '../../pattern/kinds.ts';
import type { CheckContext } from '../context.ts';
import { type BodyFit, bodyFits, forWhom, hasPieces, NO_BODY, NO_BODY_SENTENCE } from '../parts/bodyFits.ts';
import { compared, letsThrough, noBody, notTaken, slitWords } from '../parts/fitOutcomes.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { inSet } from '../subjects.ts';

interface Data {
  readonly body: string;
  readonly size: string;
  readonly waistMm: number;
  readonly passesMm: number;
  readonly sigmaMm: number;
  readonly slitMm: number | null;
  readonly over: string;
  readonly overMm: number;
  readonly problem: string;
}

interface Over {
  readonly fit: BodyFit;
  /** What the waist has to pass: the easier of the ways that there are. */
  readonly over: 'hip' | 'shoulders';
  readonly overMm: number;
}

export const goesOn = defineRule<Over | typeof NO_BODY, Data>({
  id: 'goes-on',
  title: 'The garment cannot be put on',
  why: 'A waist that fits is narrower than the hips it is pulled over, and a fitted dress narrower than the shoulders. Something must open there: a zip, buttons, a lap, or elastic that stretches to the width of the cloth. A pattern without an opening looks right on paper until somebody tries to step into it.',
  source: GOES_ON_SOURCE,
  messages: {
    clear: (d, say) =>
      `${forWhom(d)}: the waist passes ${say.uncertain(d.passesMm, d.sigmaMm)}${slitWords(d.slitMm, d.waistMm, say.length)} over ${d.over} of ${say.length(d.overMm)}.`,
    stretches: (d, say) =>
      `${forWhom(d)}: the waist of ${say.uncertain(d.waistMm, d.sigmaMm)} is ${say.length(d.overMm - d.passesMm)} narrower than the ${d.over}; a knit stretches by that.`,
    tight: (d, say) =>
      `${forWhom(d)}: the waist passes ${say.uncertain(d.passesMm, d.sigmaMm)}${slitWords(d.slitMm, d.waistMm, say.length)}, the ${d.over} measure ${say.length(d.overMm)}, and nothing opens far enough: it cannot be put on.`,
    openingNotSaid: (d, say) =>
      `${forWhom(d)}: the waist of ${say.uncertain(d.waistMm, d.sigmaMm)} is narrower than the ${d.over} of ${say.length(d.overMm)}, and an edge beside it is neither seam, fold nor opening. Say where the garment opens.`,
    tooCoarse: (d, say) =>
      `${forWhom(d)}: the waist passes ${say.uncertain(d.passesMm, d.sigmaMm)}, too coarse to judge ${d.over} of ${say.length(d.overMm)}. Measure these pieces again, nearer and with more cards.`,
    notTaken: (d) => `${forWhom(d)}: the waist could not be measured: ${d.problem}.`,
    noBody: () => NO_BODY_SENTENCE,
  },
  subjects: inSet((context): readonly (Over | typeof NO_BODY)[] => {
    if (context.set.pieces.length === 0) return [];
    const fits = bodyFits(context);
    return fits.length === 0 ? [NO_BODY] : fits.flatMap((fit) => overOf(fit, context));
  }),
  judge: (subject, context) => [judgeWaist(subject, context)],
});

/** A skirt goes over the hips, a top over the shoulders, a dress whichever way is wider. */
function overOf(fit: BodyFit, { set }: CheckContext): readonly Over[] {
  const { body, size, finished } = fit;
  if (!hasPieces(finished('waist opening'))) return [];
  const kinds = set.pieces.filter(({ shapes }) => shapes[size] !== undefined).map(({ kind }) => kind);
  const { hip, shoulders } = body.measuresMm;
  const ways = [
    ...(hip !== undefined && kinds.some((kind) => isSkirt(kind) || isTrouser(kind))
      ? [{ fit, over: 'hip', overMm: hip } as const]
      : []),
    ...(shoulders !== undefined && kinds.some(isBodice)
      ? [{ fit, over: 'shoulders', overMm: shoulders } as const]
      : []),
  ];
  return ways.toSorted((a, b) => a.overMm - b.overMm).slice(0, 1);
}

function judgeWaist(subject: Over | typeof NO_BODY, context: CheckContext): Outcome<Data> {
  if (subject === NO_BODY) return noBody(NO_DATA);
  const { fit, over, overMm } = subject;
  const { body, size, finished } = fit;
  const about = { ...NO_DATA, body: body.name, size, over: over === 'hip' ? 'hips' : 'shoulders', overMm };
  const waist = finished('waist opening');
  if (!waist.ok) return notTaken(about, waist.error);
  const opening = waist.value.opening!; // a waist opening always says what it passes
  const { passes, slitMm } = opening;
  const rest = {
    data: {
      ...about,
      waistMm: waist.value.length.valueMm,
      passesMm: passes.valueMm,
      sigmaMm: passes.sigmaMm,
      slitMm,
    },
    ...compared(waist.value, fit, passes, { valueMm: overMm, source: GOES_ON_SOURCE }),
  };
  const passed = letsThrough(opening, overMm, context);
  if (passed !== null) return { ...passed, ...rest };
  const { say } = context;
  const missingMm = overMm - passes.valueMm;
  return {
    verdict: 'fault',
    gravity: 'stop',
    key: 'tight',
    ...rest,
    remedies: [
      {
        grade: 'choice',
        sentence: `Plan an opening that gives ${say.length(missingMm)} more round at the waist: a zip or buttons of ${say.length(missingMm / 2)} at least, or elastic in a waist that wide.`,
      },
    ],
  };
}

const NO_DATA: Data = {
  body: '',
  size: '',
  waistMm: 0,
  passesMm: 0,
  sigmaMm: 0,
  slitMm: null,
  over: '',
  overMm: 0,
  problem: '',
};
