// The finished garment against the body, level by level: bust, waist, hip, biceps, thigh, across back and front. A knit may be
// smaller than the body, a woven may not.
import {
  EASE_CLASSES,
  type EaseClass,
  type EaseLeast,
  type EaseLevel,
  easeClassOf,
  easeOnMm,
  WEARING_EASE,
} from '../../limits/wearingEase.ts';
import type { CheckContext } from '../context.ts';
import type { Gravity, Remedy } from '../finding.ts';
import { type FitSubject, fitSubjects, forWhom, NO_BODY, NO_BODY_SENTENCE, roundWords } from '../parts/bodyFits.ts';
import { compared, noBody, notTaken } from '../parts/fitOutcomes.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { inSet } from '../subjects.ts';
import { judgeInterval } from '../verdict.ts';

interface Data {
  readonly level: string;
  readonly body: string;
  readonly size: string;
  readonly bodyMm: number;
  /** In words: round, and half where the pieces show half. */
  readonly finished: string;
  readonly easeMm: number;
  readonly sigmaMm: number;
  readonly leastMm: number;
  readonly fitClass: EaseClass | null;
  readonly wanted: EaseClass | null;
  readonly problem: string;
}

const LEVELS: readonly { readonly id: EaseLevel; readonly body: EaseLevel }[] = [
  { id: 'bust', body: 'bust' },
  { id: 'waist', body: 'waist' },
  { id: 'hip', body: 'hip' },
  { id: 'biceps', body: 'biceps' },
  { id: 'thigh', body: 'thigh' },
  { id: 'across back', body: 'across back' },
  { id: 'across front', body: 'across front' },
];

export const easeShort = defineRule<FitSubject | typeof NO_BODY, Data>({
  id: 'ease-short',
  title: 'The finished garment is too small for the body',
  why: 'A woven garment needs more room than the body that breathes, sits and reaches in it. Every girth is measured on the pieces as they are sewn, darts closed, and compared with the body at the same level, because one that is right at the bust can still be too small at the hip. A knit stretches and may be smaller than the body.',
  source:
    'Wearing ease by level: teaching texts named at each limit; the same figures differ from book to book, so little room is worth a look and only less than the body is to be mended',
  messages: {
    clear: (d, say) =>
      `${where(d)}: ${d.finished} on a body of ${say.length(d.bodyMm)} leaves ${say.length(d.easeMm)} of wearing ease${classWords(d)}.`,
    stretches: (d, say) =>
      `${where(d)}: ${d.finished} on a body of ${say.length(d.bodyMm)}, ${say.length(-d.easeMm)} smaller: a knit stretches by that.`,
    close: (d, say) =>
      `${where(d)}: ${d.finished} on a body of ${say.length(d.bodyMm)} leaves only ${say.uncertain(d.easeMm, d.sigmaMm)} of wearing ease; ${say.length(d.leastMm)} or more is usual${classWords(d)}.`,
    tooSmall: (d, say) =>
      `${where(d)}: ${d.finished} is ${say.uncertain(-d.easeMm, d.sigmaMm)} smaller than the body of ${say.length(d.bodyMm)}, and the cloth does not stretch; ${say.length(d.leastMm)} of wearing ease or more is usual.`,
    tooTight: (d, say) =>
      `${where(d)}: ${d.finished} is ${say.uncertain(-d.easeMm, d.sigmaMm)} smaller than the body of ${say.length(d.bodyMm)}; a knit gives way by ${say.length(-d.leastMm)} there.`,
    closerThanWanted: (d, say) =>
      `${where(d)}: ${say.uncertain(d.easeMm, d.sigmaMm)} of wearing ease is ${d.fitClass ?? 'less than close'}, and ${d.wanted} was wanted, which begins at ${say.length(d.leastMm)}.`,
    tooCoarse: (d, say) =>
      `${where(d)}: ${say.uncertain(d.easeMm, d.sigmaMm)} of wearing ease, measured too coarsely to judge ${say.length(d.leastMm)}. Measure these pieces again, nearer and with more cards.`,
    notTaken: (d) => `${where(d)}: the finished ${d.level} could not be taken: ${d.problem}.`,
    noBody: () => NO_BODY_SENTENCE,
  },
  subjects: inSet((context) => fitSubjects(context, LEVELS)),
  judge: (subject, context) => [judgeLevel(subject, context)],
});

function judgeLevel(subject: FitSubject | typeof NO_BODY, context: CheckContext): Outcome<Data> {
  if (subject === NO_BODY) return noBody(NO_DATA);
  const { fit, id, bodyMm } = subject;
  const { body, size, finished } = fit;
  const level = id as EaseLevel; // the subjects were made from LEVELS
  const about = { ...NO_DATA, level, body: body.name, size, bodyMm };
  const taken = finished(level);
  if (!taken.ok) return notTaken(about, taken.error);
  const { length } = taken.value;
  const cloth = context.set.preset.cloth;
  const row = WEARING_EASE[cloth][level];
  const easeMm = length.valueMm - bodyMm;
  const leastMm = easeOnMm(row.clearFrom, bodyMm);
  const isByClass = cloth !== 'knit' && level === 'bust';
  const wanted = isByClass ? (body.wanted ?? null) : null;
  const wantedMm = wanted === null ? null : EASE_CLASSES.fromMm.find(([name]) => name === wanted)![1];
  const data: Data = {
    ...about,
    finished: roundWords(taken.value, context.say),
    easeMm,
    sigmaMm: length.sigmaMm,
    leastMm,
    fitClass: isByClass ? easeClassOf(easeMm) : null,
    wanted,
  };
  const ease = { valueMm: easeMm, sigmaMm: length.sigmaMm };
  const rest = { data, ...compared(taken.value, fit, ease, { valueMm: leastMm, source: row.source }) };
  const decision = judgeInterval(easeMm, length.sigmaMm, leastMm, Number.POSITIVE_INFINITY);
  const largerBy = (mm: number) => remedies(mm, level, context);
  if (decision === 'fault') {
    const gravity = gravityOf(easeMm, bodyMm, row);
    const key = easeMm >= 0 ? 'close' : cloth === 'knit' ? 'tooTight' : 'tooSmall';
    return { verdict: 'fault', gravity, key, ...rest, remedies: largerBy(leastMm - easeMm) };
  }
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
  if (wantedMm !== null && judgeInterval(easeMm, length.sigmaMm, wantedMm, Number.POSITIVE_INFINITY) === 'fault') {
    return {
      verdict: 'fault',
      gravity: 'look',
      key: 'closerThanWanted',
      ...rest,
      data: { ...data, leastMm: wantedMm },
      limit: { value: wantedMm, unit: 'mm', source: EASE_CLASSES.source },
      remedies: largerBy(wantedMm - easeMm),
    };
  }
  return { verdict: 'clear', key: easeMm < 0 ? 'stretches' : 'clear', ...rest };
}

function gravityOf(easeMm: number, bodyMm: number, { mendBelow, stopBelow }: EaseLeast): Gravity {
  if (easeMm < easeOnMm(stopBelow, bodyMm)) return 'stop';
  return easeMm < easeOnMm(mendBelow, bodyMm) ? 'mend' : 'look';
}

/** A girth of the trunk is shared out to four side edges; an arm, a leg and half of the back have two. */
const EDGES_SHARING: Readonly<Record<EaseLevel, 2 | 4>> = {
  bust: 4,
  waist: 4,
  hip: 4,
  biceps: 2,
  thigh: 2,
  'across back': 2,
  'across front': 2,
};

function remedies(byMm: number, level: EaseLevel, { say, sizes }: CheckContext): readonly Remedy[] {
  const edges = EDGES_SHARING[level];
  const places =
    level === 'biceps'
      ? 'both underarm edges of the sleeve'
      : level === 'thigh'
        ? 'side and inseam edges of the leg'
        : level === 'across back' || level === 'across front'
          ? 'each armhole, and the sleeve that belongs to it'
          : 'each of the four side edges, front and back';
  const each: Remedy = { grade: 'choice', sentence: `Let out ${places} by ${say.length(byMm / edges)}.` };
  return sizes.length > 1
    ? [each, { grade: 'choice', sentence: 'Or start from a larger size at this level.' }]
    : [each];
}

const NO_DATA: Data = {
  level: '',
  body: '',
  size: '',
  bodyMm: 0,
  finished: '',
  easeMm: 0,
  sigmaMm: 0,
  leastMm: 0,
  fitClass: null,
  wanted: null,
  problem: '',
};

function where(d: Data): string {
  return `${forWhom(d)}, ${d.level}`;
}

function classWords({ fitClass }: Data): string {
  return fitClass === null ? '' : ` (${fitClass})`;
}
