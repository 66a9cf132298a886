// Where the cap ease lies: none below the notches, where sleeve and armhole are sewn evenly, and on each half over the top
// never less than nothing.
import { CAP_HALF_LEAST, CAP_SHARE } from '../../limits/capEase.ts';
import { type CapSection, capSections } from '../../pattern/capSections.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import type { CheckContext } from '../context.ts';
import type { Gravity } from '../finding.ts';
import { graverOf } from '../gravity.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { forcedGravity } from '../seams/forcedGravity.ts';
import { seamSubjects, spanNames, stretchOverlay } from '../seams/seamPlaces.ts';
import { walksThat } from '../subjects.ts';
import { judgeDifference, judgeInterval } from '../verdict.ts';
import type { Words } from '../words.ts';

interface Part {
  readonly name: string;
  readonly capMm: number;
  readonly armholeMm: number;
  readonly easeMm: number;
  readonly sigmaMm: number;
}

interface Data {
  readonly parts: readonly Part[];
  /** The parts that are wrong or unsure. */
  readonly wrong: readonly Part[];
  readonly limitMm: number;
}

export const capEaseSpread = defineRule<SeamWalk, Data>({
  id: 'cap-ease-spread',
  title: 'The cap ease lies in the wrong place',
  why: 'Below the notches the sleeve is sewn to the armhole one to one; all cap ease belongs between the notches, over the top. Ease that slips below the notch puckers at the underarm, and a half that is too short pulls the sleeve round the arm.',
  source:
    'Ease between front and back notches over the cap (emmakespatterns.com; natalieinstitches.com, 2024); even below: common practice, no source',
  messages: {
    clear: (d, say) => `The cap ease lies where it should: ${list(d.parts, say)}.`,
    underarm: (d, say) =>
      `Below the notches sleeve and armhole differ: ${list(d.wrong, say)}; ${say.length(d.limitMm)} may be pushed in. Check notches and armhole.`,
    shrinks: (d, say) => `Over the top a part of the cap is shorter than its armhole: ${list(d.wrong, say)}.`,
    uneven: (d, say) => `Nearly all of the cap ease lies on one half: ${list(d.parts, say)}.`,
    tooCoarse: (d, say) =>
      `How the cap ease is spread cannot be told: ${list(d.wrong, say)} against ${say.length(d.limitMm)}. Measure sleeve and armholes again, nearer and with more cards.`,
    noNotches: () =>
      'Nothing tells which parts of the cap and of its armhole meet, so only the cap ease in all is judged.',
  },
  subjects: walksThat((walk) => walk.sorted.sort === 'cap'),
  judge: (walk, context) => [judgeSpread(walk, context)],
});

function judgeSpread(walk: SeamWalk, context: CheckContext): Outcome<Data> {
  const sections = capSections(walk);
  const limitMm = context.limits.seam.valueMm;
  const parts = sections.map((s) => partOf(walk, s));
  const data = (wrong: readonly CapSection[]): Data => ({ parts, wrong: wrong.map((s) => partOf(walk, s)), limitMm });
  const subjects = seamSubjects(walk);
  if (sections.length === 0) {
    return { verdict: 'not-applicable', key: 'noNotches', data: data([]), subjects };
  }
  const said = (wrong: readonly CapSection[]) => {
    const worst = wrong.toSorted((a, b) => Math.abs(b.easeMm) - Math.abs(a.easeMm))[0]!;
    return {
      data: data(wrong),
      subjects,
      measured: { value: worst.easeMm, sigma: worst.sigmaMm, unit: 'mm' } as const,
      overlay: wrong.flatMap((s) => stretchOverlay(walk, s.section.from, s.section.to)),
    };
  };
  const limit = { value: limitMm, unit: 'mm', source: context.limits.seam.source } as const;
  const under = sections.filter((s) => s.part === 'underarm');
  const over = sections.filter((s) => s.part === 'over');
  const underWrong = under.filter((s) => judgeDifference(s.easeMm, s.sigmaMm, limitMm) === 'fault');
  if (underWrong.length > 0) {
    const gravity = underWrong.map(gravityOf).reduce(graverOf);
    const remedies = underWrong.map(
      (s) => ({ grade: 'choice', sentence: underarmRemedy(walk, s, context.say) }) as const,
    );
    return { verdict: 'fault', gravity, key: 'underarm', limit, ...said(underWrong), remedies };
  }
  const least = CAP_HALF_LEAST.valueMm - limitMm;
  const overWrong = over.filter((s) => judgeInterval(s.easeMm, s.sigmaMm, least, Number.POSITIVE_INFINITY) === 'fault');
  if (overWrong.length > 0) {
    return {
      verdict: 'fault',
      gravity: overWrong.map(gravityOf).reduce(graverOf),
      key: 'shrinks',
      remedies: overWrong.map(
        (s) =>
          ({
            grade: 'choice',
            sentence: `Spread the cap at the ${spanNames(walk, walk.sorted.fuller === 1 ? 0 : 1, s.section)} by ${context.say.length(-s.easeMm)}, or move the mark at the cap top toward the other half.`,
          }) as const,
      ),
      limit,
      ...said(overWrong),
    };
  }
  const coarse = [
    ...under.filter((s) => judgeDifference(s.easeMm, s.sigmaMm, limitMm) === 'unsure'),
    ...over.filter((s) => judgeInterval(s.easeMm, s.sigmaMm, least, Number.POSITIVE_INFINITY) === 'unsure'),
  ];
  if (coarse.length > 0) return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', limit, ...said(coarse) };
  const lopsided = lopsidedHalf(over);
  if (lopsided !== null) {
    const share = { value: CAP_SHARE.largestRatio, unit: 'ratio', source: CAP_SHARE.source } as const;
    return {
      verdict: 'fault',
      gravity: 'look',
      key: 'uneven',
      remedies: [
        {
          grade: 'choice',
          sentence: 'Move the mark at the cap top toward the half that has the cap ease, until both halves have some.',
        },
      ],
      ...said(over),
      limit: share,
      measured: { value: lopsided, sigma: 0, unit: 'ratio' },
    };
  }
  const widest = sections.toSorted((a, b) => Math.abs(b.easeMm) - Math.abs(a.easeMm))[0]!;
  return {
    verdict: 'clear',
    key: 'clear',
    data: data([]),
    subjects,
    measured: { value: widest.easeMm, sigma: widest.sigmaMm, unit: 'mm' },
    limit,
  };
}

function gravityOf(section: CapSection): Gravity {
  const { lengths } = section.section;
  return forcedGravity(Math.abs(section.easeMm), Math.min(lengths[0].valueMm, lengths[1].valueMm));
}

/** The larger half's share of the ease over the top when it is too large; null when it is in order or there is too little to share. */
function lopsidedHalf(over: readonly CapSection[]): number | null {
  const sumOf = (half: CapSection['half']) => over.filter((s) => s.half === half).reduce((sum, s) => sum + s.easeMm, 0);
  const [first, second] = [sumOf('first'), sumOf('second')];
  if (!over.some((s) => s.half === 'first') || !over.some((s) => s.half === 'second')) return null;
  const all = first + second;
  if (all < CAP_SHARE.judgedFromEaseMm) return null;
  const share = Math.max(first, second) / all;
  return share > CAP_SHARE.largestRatio ? share : null;
}

function partOf(walk: SeamWalk, { section, part, easeMm, sigmaMm }: CapSection): Part {
  const cap = walk.sorted.fuller;
  const name = part === 'underarm' ? 'below the notch' : 'over the top';
  return {
    name: `${spanNames(walk, cap === 1 ? 0 : 1, section)} ${name}`,
    capMm: section.lengths[cap].valueMm,
    armholeMm: section.lengths[cap === 1 ? 0 : 1].valueMm,
    easeMm,
    sigmaMm,
  };
}

function underarmRemedy(walk: SeamWalk, { section, easeMm }: CapSection, say: Words): string {
  const where = spanNames(walk, walk.sorted.fuller === 1 ? 0 : 1, section);
  const toward = easeMm > 0 ? 'toward the underarm' : 'toward the shoulder';
  return `Move the notch of the sleeve at the ${where} ${say.length(Math.abs(easeMm))} ${toward}, or redraw the lower cap if the armhole was changed.`;
}

function list(parts: readonly Part[], say: Words): string {
  return parts
    .map(
      (p) =>
        `${p.name} cap ${say.length(p.capMm)} on armhole ${say.length(p.armholeMm)} (${say.uncertain(p.easeMm, p.sigmaMm)})`,
    )
    .join('; ');
}
