// Two edges that are sewn together must be equally long on the seamline, darts and pleats closed, apart from what the sort
// of seam or the plan allows: section by section, as it is sewn.

import { type Length, subtractLength } from '../../pattern/measure.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import type { CheckContext } from '../context.ts';
import type { MeasuredValue, Remedy, StatedLimit } from '../finding.ts';
import { defineRule, type Outcome } from '../rule.ts';
import {
  beyondMm,
  type Comparison,
  comparisonsOf,
  decide,
  gravityOf,
  isMaybeToCentre,
  isMaybeUnderlap,
  judgedAsRatio,
  mostBeyond,
  type RatioCase,
} from '../seams/compareSeam.ts';
import { differenceHint, withHint } from '../seams/differenceHint.ts';
import type { Band } from '../seams/seamBands.ts';
import { seamSubjects, sectionName, sideName, spanNames, stretchOverlay } from '../seams/seamPlaces.ts';
import { inSeamsOfSizes } from '../subjects.ts';
import { judgeInterval } from '../verdict.ts';
import { isOrAre, type Words } from '../words.ts';

interface Data {
  readonly seam: string;
  readonly first: string;
  readonly second: string;
  readonly lengthsMm: readonly [number, number];
  readonly differenceMm: number;
  readonly sigmaMm: number;
  readonly basis: SeamWalk['basis'];
  readonly where: string | null;
  readonly band: { readonly fromMm: number; readonly toMm: number };
  readonly hint: string | null;
  readonly ratio: number | null;
  readonly range: { readonly fromRatio: number; readonly toRatio: number } | null;
  readonly problem: string | null;
}

export const lengthDiffers = defineRule<SeamCase, Data>({
  id: 'length-differs',
  title: 'The two edges of a seam are not equally long',
  why: 'Two edges are pinned end to end and notch to notch. What one of them has too much of must go somewhere: it puckers, pulls the seam round or leaves a step at the end. Lengths count on the seamline with darts and pleats closed, because that is the line the machine follows.',
  source: 'Threads #200, 10 Patternwork Skills; by sort of seam in the table of seam ease',
  messages: {
    meets: (d, say) =>
      `${d.seam}: ${both(d, say)}, ${say.uncertain(Math.abs(d.differenceMm), d.sigmaMm)} apart; ${allowed(d, say)}.`,
    eased: (d, say) => `${d.seam}: ${both(d, say)}; ${amount(d, say)} is eased in, and ${allowed(d, say)}.`,
    differs: (d, say) => `${d.seam}${place(d)}: ${both(d, say)}; ${amount(d, say)}, but ${allowed(d, say)}.${hint(d)}`,
    tooCoarse: (d, say) =>
      `${d.seam}${place(d)}: ${both(d, say)}, but the difference of ${say.uncertain(d.differenceMm, d.sigmaMm)} is measured too coarsely to tell; ${allowed(d, say)}. Measure these edges again, nearer and with more cards.`,
    underlap: (d, say) => {
      const [longer, shorter] = d.differenceMm > 0 ? [d.second, d.first] : [d.first, d.second];
      return `${d.seam}: ${isOrAre(longer)} ${say.length(Math.abs(d.differenceMm))} longer${d.basis === 'round' ? ' round' : ''} than ${shorter}. If that is the overlap, enter it with the seam; otherwise it is too long.`;
    },
    toCentre: (d, say) => {
      const [longer, shorter] = d.differenceMm > 0 ? [d.second, d.first] : [d.first, d.second];
      return `${d.seam}: the neckline of ${longer} is ${say.length(Math.abs(d.differenceMm))} longer${d.basis === 'round' ? ' round' : ''} than ${shorter}. If ${shorter} ends at the centre of the front, enter how far along the neckline it is sewn; otherwise it is too short.`;
    },
    ratioHolds: (d) => `${d.seam}: ${isOrAre(d.second)} ${ratioWords(d)} of ${d.first}; ${ratioAllowed(d)}.`,
    ratioOut: (d) =>
      `${d.seam}${place(d)}: ${isOrAre(d.second)} ${ratioWords(d)} of ${d.first}, but ${ratioAllowed(d)}.`,
    ratioUnsure: (d) =>
      `${d.seam}: ${isOrAre(d.second)} about ${ratioWords(d)} of ${d.first}, too near the end of the range to tell; ${ratioAllowed(d)}. Measure these edges again, nearer and with more cards.`,
    rises: (d) => `${d.seam}: the front rise and the back rise differ by design and are not compared.`,
    broken: (d) => `${d.seam}: ${d.problem} Choose the edges of this seam again.`,
  },
  subjects: inSeamsOfSizes(({ seam, size, result }): SeamCase[] => {
    if (result.ok) return isJudgedElsewhere(result.value) ? [] : [{ walk: result.value }];
    const { problem } = result.error;
    return problem.kind === 'no-shape' ? [] : [{ broken: problemWords(problem), seam, size }];
  }),
  judge: (subject, context) => {
    if ('broken' in subject) return [brokenSeam(subject)];
    const { walk } = subject;
    if (walk.sorted.sort === 'rises') return [rises(walk)];
    const ratio = judgedAsRatio(walk, context);
    return [ratio === null ? judgeLengths(walk, context) : judgeRatio(walk, ratio, context)];
  },
});

type SeamCase =
  | { readonly walk: SeamWalk }
  | { readonly broken: string; readonly seam: SeamWalk['seam']; readonly size: string };

/** Caps have rules of their own; an edge joined to its own mirror image is equal by nature. */
function isJudgedElsewhere(walk: SeamWalk): boolean {
  return walk.sorted.sort === 'cap' || walk.sorted.sort === 'mirror';
}

function judgeLengths(walk: SeamWalk, context: CheckContext): Outcome<Data> {
  const comparisons = comparisonsOf(walk, context);
  const decided = comparisons.map((comparison) => ({ comparison, decision: decide(comparison) }));
  const faults = decided.filter((d) => d.decision === 'fault').map((d) => d.comparison);
  const unsure = decided.filter((d) => d.decision === 'unsure').map((d) => d.comparison);
  const worst = mostBeyond(faults) ?? mostBeyond(unsure);
  if (worst !== null && isMaybeUnderlap(walk, worst)) {
    return { verdict: 'unsure', reason: 'not-said', key: 'underlap', ...described(walk, worst, null), ...common(walk) };
  }
  if (worst !== null && isMaybeToCentre(walk, worst)) {
    return { verdict: 'unsure', reason: 'not-said', key: 'toCentre', ...described(walk, worst, null), ...common(walk) };
  }
  if (faults.length > 0 && worst !== null) {
    const said = differenceHint(walk, worst.difference, context);
    return {
      verdict: 'fault',
      gravity: faults.map((f) => gravityOf(f)).includes('stop') ? 'stop' : gravityOf(worst),
      key: 'differs',
      ...described(walk, worst, said === null ? null : said.sentence(context.say)),
      ...common(walk),
      overlay: faults.flatMap((f) => overlayOf(walk, f)),
      remedies: withHint(said, remediesFor(walk, worst, context.say), context.say),
    };
  }
  if (worst !== null) {
    return {
      verdict: 'unsure',
      reason: 'too-coarse',
      key: 'tooCoarse',
      ...described(walk, worst, null),
      ...common(walk),
    };
  }
  const whole = wholeOf(walk, comparisons);
  const key =
    whole.band.kind === 'eased' && Math.abs(whole.difference.valueMm) > context.limits.seam.valueMm ? 'eased' : 'meets';
  return { verdict: 'clear', key, ...described(walk, whole, null), ...common(walk) };
}

function judgeRatio(walk: SeamWalk, { range, fuller, bySection }: RatioCase, context: CheckContext): Outcome<Data> {
  const parts = bySection
    ? walk.sections.map((s, section) => ({ section, lengths: s.lengths }))
    : [{ section: null, lengths: walk.compared }];
  const judged = parts.map(({ section, lengths }) => {
    const top = lengths[fuller === 0 ? 1 : 0];
    const bottom = lengths[fuller === 0 ? 0 : 1];
    const ratio = top.valueMm / bottom.valueMm;
    // The scale that both share cancels in the ratio; what is left is the difference's own uncertainty.
    const sigma = subtractLength(top, { ...bottom, ...scaled(bottom, ratio) }).sigmaMm / bottom.valueMm;
    return { section, lengths, ratio, sigma, decision: judgeInterval(ratio, sigma, range.fromRatio, range.toRatio) };
  });
  const asked = range.fromRatio > 1 ? gatheredOf(judged, context) : judged;
  const worst = asked.find((j) => j.decision === 'fault') ?? asked.find((j) => j.decision === 'unsure') ?? asked[0]!;
  const [first, second] = fuller === 0 ? ([0, 1] as const) : ([1, 0] as const);
  const base = described(
    walk,
    { section: worst.section, band: NO_BAND, lengths: worst.lengths, difference: walk.difference },
    null,
  );
  const limitRatio = worst.ratio < range.fromRatio ? range.fromRatio : range.toRatio;
  const rest = {
    data: {
      ...base.data,
      first: sideName(walk.sides[first]),
      second: sideName(walk.sides[second]),
      ratio: worst.ratio,
      range,
    },
    measured: { value: worst.ratio, sigma: worst.sigma, unit: 'ratio' } satisfies MeasuredValue,
    limit: { value: limitRatio, unit: 'ratio', source: range.source } satisfies StatedLimit,
    ...common(walk),
  };
  if (worst.decision === 'clear') return { verdict: 'clear', key: 'ratioHolds', ...rest };
  if (worst.decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'ratioUnsure', ...rest };
  // A gathered edge that is shorter, or a strip that is longer, than its partner cannot do what it is meant to.
  const isWrongWay = range.fromRatio >= 1 ? worst.ratio < 1 : worst.ratio > 1;
  const goalMm = limitRatio * worst.lengths[first].valueMm;
  const change = goalMm > worst.lengths[second].valueMm ? 'Lengthen' : 'Shorten';
  return {
    verdict: 'fault',
    gravity: isWrongWay ? 'mend' : 'look',
    key: 'ratioOut',
    ...rest,
    overlay: overlayOf(walk, { section: worst.section }),
    remedies: [
      {
        grade: 'choice',
        sentence: `${change} ${sideName(walk.sides[second])} to ${context.say.length(goalMm)} or a little beyond.`,
      },
    ],
  };
}

/** A puffed cap is gathered over its top and plain under the arm: even sections count only where all of them are. */
function gatheredOf<S extends { readonly lengths: readonly [Length, Length] }>(
  judged: readonly S[],
  { limits }: CheckContext,
): readonly S[] {
  const full = judged.filter(({ lengths: [a, b] }) => Math.abs(a.valueMm - b.valueMm) > limits.seam.valueMm);
  return full.length > 0 ? full : judged;
}

const NO_BAND: Band = { fromMm: 0, toMm: 0, lookFromMm: 0, lookToMm: 0, kind: 'even', source: '' };

function scaled(length: Length, factor: number): Pick<Length, 'shared' | 'ownVarianceMm2'> {
  return {
    shared: new Map([...length.shared].map(([source, part]) => [source, factor * part])),
    ownVarianceMm2: factor * factor * length.ownVarianceMm2,
  };
}

function described(walk: SeamWalk, comparison: Comparison, hintText: string | null) {
  const { section, band, lengths, difference } = comparison;
  const limitMm = difference.valueMm < 0 ? band.fromMm : band.toMm;
  return {
    data: {
      seam: walk.seam.name,
      first: nameOf(walk, 0, section),
      second: nameOf(walk, 1, section),
      lengthsMm: [lengths[0].valueMm, lengths[1].valueMm],
      differenceMm: difference.valueMm,
      sigmaMm: difference.sigmaMm,
      basis: walk.basis,
      where: section === null || walk.sections.length === 1 ? null : sectionName(walk, section),
      band: { fromMm: band.fromMm, toMm: band.toMm },
      hint: hintText,
      ratio: null,
      range: null,
      problem: null,
    } satisfies Data,
    measured: { value: difference.valueMm, sigma: difference.sigmaMm, unit: 'mm' } satisfies MeasuredValue,
    limit: { value: limitMm, unit: 'mm', source: band.source } satisfies StatedLimit,
  };
}

/** The pieces that a comparison is about: those of the section, or the whole side. */
function nameOf(walk: SeamWalk, which: 0 | 1, section: number | null): string {
  return section === null ? sideName(walk.sides[which]) : spanNames(walk, which, walk.sections[section]!);
}

function common(walk: SeamWalk) {
  return { subjects: seamSubjects(walk) };
}

function overlayOf(walk: SeamWalk, { section }: Pick<Comparison, 'section'>) {
  const from = section === null ? walk.anchors[0]! : walk.sections[section]!.from;
  const to = section === null ? walk.anchors.at(-1)! : walk.sections[section]!.to;
  return stretchOverlay(walk, from, to);
}

/** The seam as a whole, judged clear: its lengths are the ones to show. */
function wholeOf(walk: SeamWalk, comparisons: readonly Comparison[]): Comparison {
  const eased = comparisons.find((c) => c.band.kind === 'eased');
  return { section: null, band: (eased ?? comparisons[0]!).band, lengths: walk.compared, difference: walk.difference };
}

function remediesFor(walk: SeamWalk, worst: Comparison, say: Words): Remedy[] {
  const beyond = beyondMm(worst);
  const isSecondLonger = worst.difference.valueMm > worst.band.toMm;
  const [long, short] = isSecondLonger ? ([1, 0] as const) : ([0, 1] as const);
  const where = worst.section === null || walk.sections.length === 1 ? '' : ` ${sectionName(walk, worst.section)}`;
  const evenOut = worst.band.kind === 'even' ? Math.abs(worst.difference.valueMm) : beyond;
  return [
    {
      grade: 'choice',
      sentence: `Shorten ${nameOf(walk, long, worst.section)} by ${say.length(evenOut)}${where}.`,
    },
    {
      grade: 'choice',
      sentence: `Lengthen ${nameOf(walk, short, worst.section)} by ${say.length(evenOut)}${where}.`,
    },
  ];
}

function rises(walk: SeamWalk): Outcome<Data> {
  const whole = { section: null, band: NO_BAND, lengths: walk.compared, difference: walk.difference };
  const { data } = described(walk, whole, null);
  return { verdict: 'not-applicable', key: 'rises', data, ...common(walk) };
}

function brokenSeam({ broken, seam, size }: Extract<SeamCase, { broken: string }>): Outcome<Data> {
  return {
    verdict: 'unsure',
    reason: 'broken-seam',
    key: 'broken',
    data: { ...NO_DATA, seam: seam.name, problem: broken },
    subjects: [{ seam: seam.id, size }],
  };
}

const NO_DATA: Data = {
  seam: '',
  first: '',
  second: '',
  lengthsMm: [0, 0],
  differenceMm: 0,
  sigmaMm: 0,
  basis: 'once',
  where: null,
  band: { fromMm: 0, toMm: 0 },
  hint: null,
  ratio: null,
  range: null,
  problem: null,
};

function problemWords(problem: { readonly kind: string; readonly piece?: string; readonly edge?: string }): string {
  switch (problem.kind) {
    case 'no-piece':
      return `the piece "${problem.piece}" is not in the set.`;
    case 'no-edge':
      return `the piece "${problem.piece}" has no edge "${problem.edge}".`;
    default:
      return 'one of its sides has no edges.';
  }
}

function both(d: Data, say: Words): string {
  const [a, b] = d.lengthsMm;
  const one = `${d.first} ${say.length(a)}, ${d.second} ${say.length(b)}`;
  if (d.basis === 'once') return one;
  if (d.basis === 'round') return `${one} in the round`;
  return `${one} on the half (${say.length(2 * a)} and ${say.length(2 * b)} round)`;
}

function amount(d: Data, say: Words): string {
  const longer = d.differenceMm > 0 ? d.second : d.first;
  const plain = `${isOrAre(longer)} longer by ${say.uncertain(Math.abs(d.differenceMm), d.sigmaMm)}`;
  return d.basis === 'half' ? `${plain} on the half, ${say.length(2 * Math.abs(d.differenceMm))} round` : plain;
}

function allowed(d: Data, say: Words): string {
  const { fromMm, toMm } = d.band;
  const basis = d.basis === 'half' ? ' on the half' : d.basis === 'round' ? ' in the round' : '';
  if (fromMm === -toMm) return `only ${say.length(toMm)}${basis} may be pushed in`;
  return `${d.second} may be between ${say.length(Math.abs(fromMm))} ${fromMm < 0 ? 'shorter' : 'longer'} and ${say.length(Math.abs(toMm))} ${toMm < 0 ? 'shorter' : 'longer'}${basis}`;
}

function place(d: Data): string {
  return d.where === null ? '' : `, ${d.where}`;
}

function hint(d: Data): string {
  return d.hint === null ? '' : ` ${d.hint}`;
}

function ratioWords(d: Data): string {
  return `${Math.round((d.ratio ?? 0) * 100)} %`;
}

function ratioAllowed(d: Data): string {
  const percent = (ratio: number) => Math.round(ratio * 100);
  return `${percent(d.range?.fromRatio ?? 0)} to ${percent(d.range?.toRatio ?? 0)} % is usual`;
}
