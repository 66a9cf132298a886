// Collar, facing, waistband and cuff against what they are sewn to: the trim is cut to its garment, never the other way round,
// so it is the trim that is redrawn.
import { COINCIDENT_MM } from '../../geometry/tolerances.ts';
import type { Piece, PieceKind } from '../../pattern/model.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import type { CheckContext } from '../context.ts';
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
} from '../seams/compareSeam.ts';
import { differenceHint, withHint } from '../seams/differenceHint.ts';
import { seamSubjects, sectionName, sideName, spanNames, stretchOverlay } from '../seams/seamPlaces.ts';
import { inWalks } from '../subjects.ts';

interface Data {
  readonly seam: string;
  readonly trim: string;
  readonly garment: string;
  readonly trimMm: number;
  readonly garmentMm: number;
  /** Trim less garment. */
  readonly differenceMm: number;
  readonly sigmaMm: number;
  readonly where: string | null;
  readonly basis: SeamWalk['basis'];
  /** What the difference reminds of, as a question; null when nothing better is known than a change. */
  readonly hint: string | null;
}

interface TrimSeam {
  readonly walk: SeamWalk;
  readonly trim: 0 | 1;
}

export const trimDiffers = defineRule<TrimSeam, Data>({
  id: 'trim-differs',
  title: 'A collar, facing, band or cuff does not fit what it is sewn to',
  why: 'The trim is drafted last, from the finished edge of the garment. When a neckline is lowered or a waist taken in, the facing, collar or band that belongs to it has to be traced again; left as it was, it is short by every change, twice over in the round.',
  source:
    'By sort of trim in the table of seam ease; facings are traced from their garment: common practice, no source',
  messages: {
    fits: (d, say) => `${d.seam}: ${d.trim} (${say.length(d.trimMm)}) fits ${d.garment} (${say.length(d.garmentMm)}).`,
    differs: (d, say) =>
      `${d.seam}${d.where === null ? '' : `, ${d.where}`}: ${d.trim} is ${say.uncertain(Math.abs(d.differenceMm), d.sigmaMm)} ${d.differenceMm < 0 ? 'shorter' : 'longer'} than the edge of ${d.garment} (${say.length(d.trimMm)} on ${say.length(d.garmentMm)}${round(d, say.length)}). ${d.hint ?? `Was the garment changed and ${d.trim} left as it was?`}`,
    tooCoarse: (d, say) =>
      `${d.seam}: ${d.trim} and ${d.garment} differ by ${say.uncertain(Math.abs(d.differenceMm), d.sigmaMm)}, measured too coarsely to tell. Measure these edges again, nearer and with more cards.`,
    byRatio: (d) => `${d.seam}: ${d.trim} is stretched, gathered or bound on, and judged by its ratio.`,
  },
  subjects: inWalks((walk) => {
    const trim = trimSide(walk);
    return trim === null || walk.sorted.sort === 'mirror' ? [] : [{ walk, trim }];
  }),
  judge: (subject, context) => judgeTrim(subject, context),
});

const TRIMS: readonly PieceKind[] = ['collar', 'stand', 'neckband', 'cuff', 'facing', 'waistband'];

/** The side that is all trim, when the other has none of it. */
function trimSide({ sides }: SeamWalk): 0 | 1 | null {
  const isTrim = (piece: Piece) => TRIMS.includes(piece.kind);
  const all = sides.map(({ spans }) => spans.every(({ piece }) => isTrim(piece)));
  const any = sides.map(({ spans }) => spans.some(({ piece }) => isTrim(piece)));
  if (all[1] === true && any[0] === false) return 1;
  return all[0] === true && any[1] === false ? 0 : null;
}

function judgeTrim({ walk, trim }: TrimSeam, context: CheckContext): Outcome<Data>[] {
  const comparisons = comparisonsOf(walk, context);
  const faults = comparisons.filter((c) => decide(c) === 'fault');
  const unsure = comparisons.filter((c) => decide(c) === 'unsure');
  const worst = mostBeyond(faults) ?? mostBeyond(unsure);
  const whole = { section: null, lengths: walk.compared, difference: walk.difference };
  const subjects = seamSubjects(walk);
  if (judgedAsRatio(walk, context) !== null) {
    return [{ verdict: 'not-applicable', key: 'byRatio', data: dataOf(walk, trim, whole), subjects }];
  }
  // Whether it is an underlap, or ends at the centre, has to be said; `length-differs` asks.
  if (worst !== null && (isMaybeUnderlap(walk, worst) || isMaybeToCentre(walk, worst))) return [];
  const told = worst ?? { ...whole, band: comparisons[0]!.band };
  const data = dataOf(walk, trim, told);
  const { band } = told;
  const rest = {
    data,
    subjects,
    measured: { value: data.differenceMm, sigma: data.sigmaMm, unit: 'mm' },
    limit: {
      value: told.difference.valueMm < -COINCIDENT_MM ? band.fromMm : band.toMm,
      unit: 'mm',
      source: band.source,
    },
  } as const;
  if (worst === null) return [{ verdict: 'clear', key: 'fits', ...rest }];
  if (faults.length === 0) return [{ verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest }];
  const ends = faults.flatMap(({ section }) => {
    const anchors = section === null ? null : walk.sections[section]!;
    return [[anchors?.from ?? walk.anchors[0]!, anchors?.to ?? walk.anchors.at(-1)!] as const];
  });
  const hint = differenceHint(walk, worst.difference, context);
  const changeMm = band.kind === 'even' ? Math.abs(data.differenceMm) : beyondMm(worst);
  return [
    {
      verdict: 'fault',
      gravity: faults.map(gravityOf).includes('stop') ? 'stop' : gravityOf(worst),
      key: 'differs',
      ...rest,
      data: { ...data, hint: hint === null ? null : hint.sentence(context.say) },
      overlay: ends.flatMap(([from, to]) => stretchOverlay(walk, from, to)),
      remedies: withHint(
        hint,
        [
          {
            grade: 'choice',
            sentence: `Trace ${data.trim} again from the edge of ${data.garment}: it ${data.differenceMm < 0 ? 'grows' : 'shrinks'} by ${context.say.length(changeMm)}.`,
          },
        ],
        context.say,
      ),
    },
  ];
}

function dataOf(
  walk: SeamWalk,
  trim: 0 | 1,
  { section, lengths, difference }: Pick<Comparison, 'section' | 'lengths' | 'difference'>,
): Data {
  const garment = trim === 1 ? 0 : 1;
  const name = (which: 0 | 1) =>
    section === null ? sideName(walk.sides[which]) : spanNames(walk, which, walk.sections[section]!);
  return {
    seam: walk.seam.name,
    trim: name(trim),
    garment: name(garment),
    trimMm: lengths[trim].valueMm,
    garmentMm: lengths[garment].valueMm,
    // Not a plain minus sign: none would be −0, which JSON does not know.
    differenceMm: trim === 1 ? difference.valueMm : 0 - difference.valueMm,
    sigmaMm: difference.sigmaMm,
    where: section === null || walk.sections.length === 1 ? null : sectionName(walk, section),
    basis: walk.basis,
    hint: null,
  };
}

function round(d: Data, length: (mm: number) => string): string {
  if (d.basis === 'round') return ' in the round';
  return d.basis === 'half' ? ` on the half, ${length(2 * Math.abs(d.differenceMm))} round` : '';
}
