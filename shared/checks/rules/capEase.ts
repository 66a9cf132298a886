// Cap ease in all: the sewn cap less the sewn armhole, both on the seamline, against what the cloth can take and what the
// plan wants. Always "cap ease", never plain "ease".
import { CAP_EASE, type CapEaseRange } from '../../limits/capEase.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import type { CheckContext } from '../context.ts';
import type { Gravity, Remedy } from '../finding.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { forcedGravity } from '../seams/forcedGravity.ts';
import { seamSubjects, stretchOverlay } from '../seams/seamPlaces.ts';
import { walksThat } from '../subjects.ts';
import { judgeInterval } from '../verdict.ts';
import type { Words } from '../words.ts';

interface Data {
  readonly armholeMm: number;
  readonly capMm: number;
  readonly easeMm: number;
  readonly sigmaMm: number;
  readonly fromMm: number;
  readonly toMm: number;
  readonly cloth: string;
  readonly wantedMm: number | null;
}

export const capEase = defineRule<SeamWalk, Data>({
  id: 'cap-ease',
  title: 'Too much or too little cap ease',
  why: 'The cap of a set-in sleeve is a little longer than the armhole and is shrunk in over the top, so that the cloth can round over the shoulder. Too little and the sleeve drags across the arm; too much and it gathers; a cap shorter than its armhole cannot be set in. Cut edges mislead here: moving inward by the allowance the armhole grows and the cap shrinks.',
  source: 'Teaching sources by cloth, merged into bands: settings of this program, not a standard',
  messages: {
    clear: (d, say) => `${measured(d, say)}; ${range(d, say)}.`,
    tooMuch: (d, say) => `${measured(d, say)}, more than the usual ${bare(d, say)} in ${d.cloth}.`,
    tooLittle: (d, say) => `${measured(d, say)}, less than the usual ${bare(d, say)} in ${d.cloth}.${wanted(d, say)}`,
    negative: (d, say) =>
      `The cap is shorter than its armhole by ${say.uncertain(-d.easeMm, d.sigmaMm)} (${lengths(d, say)}): it cannot be set in without stretching it.${wanted(d, say)}`,
    notAsWanted: (d, say) => `${measured(d, say)}: in the usual range, but ${say.length(d.wantedMm ?? 0)} is wanted.`,
    tooCoarse: (d, say) =>
      `${measured(d, say)}, too near the end of the range to tell; ${range(d, say)}. Measure sleeve and armholes again, nearer and with more cards.`,
  },
  subjects: walksThat((walk) => walk.sorted.sort === 'cap'),
  judge: (walk, context) => [judgeCap(walk, context)],
});

function judgeCap(walk: SeamWalk, context: CheckContext): Outcome<Data> {
  const armhole = walk.sorted.fuller === 1 ? 0 : 1;
  const cap = walk.sorted.fuller;
  const sign = walk.sorted.fuller === 1 ? 1 : -1;
  const easeMm = sign * walk.difference.valueMm;
  const { sigmaMm } = walk.difference;
  const { cloth } = context.set.preset;
  const band = CAP_EASE[cloth];
  const wantedMm = walk.seam.wantedEaseMm === null ? null : sign * walk.seam.wantedEaseMm;
  const toleranceMm = context.limits.seam.valueMm;
  const data: Data = {
    armholeMm: walk.compared[armhole].valueMm,
    capMm: walk.compared[cap].valueMm,
    easeMm,
    sigmaMm,
    fromMm: band.fromMm,
    toMm: band.toMm,
    cloth: CLOTH_WORDS[cloth],
    wantedMm,
  };
  const rest = {
    data,
    subjects: seamSubjects(walk),
    measured: { value: easeMm, sigma: sigmaMm, unit: 'mm' },
    limit: { value: easeMm < (band.fromMm + band.toMm) / 2 ? band.fromMm : band.toMm, unit: 'mm', source: band.source },
  } as const;
  const isWanted =
    wantedMm !== null && judgeInterval(easeMm - wantedMm, sigmaMm, -toleranceMm, toleranceMm) === 'clear';
  const isOffWanted =
    wantedMm !== null && judgeInterval(easeMm - wantedMm, sigmaMm, -toleranceMm, toleranceMm) === 'fault';
  // Practice varies on both sides of the plain range: ease that the plan asks for there is as it should be.
  if (isWanted && easeMm >= band.lookFromMm && easeMm <= band.lookToMm)
    return { verdict: 'clear', key: 'clear', ...rest };
  const decision = judgeInterval(easeMm, sigmaMm, band.fromMm, band.toMm);
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
  if (decision === 'clear' && !isOffWanted) return { verdict: 'clear', key: 'clear', ...rest };
  const overlay = stretchOverlay(walk, walk.anchors[0]!, walk.anchors.at(-1)!);
  const goalMm = wantedMm ?? (easeMm < band.fromMm ? band.fromMm : band.toMm);
  const remedies = remediesFor(goalMm - easeMm, context.say);
  if (decision === 'clear')
    return { verdict: 'fault', gravity: 'look', key: 'notAsWanted', ...rest, overlay, remedies };
  const gravity = gravityOf(easeMm, data.capMm, band, isOffWanted);
  const key = easeMm < 0 ? 'negative' : easeMm < band.fromMm ? 'tooLittle' : 'tooMuch';
  return { verdict: 'fault', gravity, key, ...rest, overlay, remedies };
}

/** Ease that the plan wanted and that has gone is to be mended; without a plan the bands beside the range are a look. */
function gravityOf(easeMm: number, capMm: number, band: CapEaseRange, isOffWanted: boolean): Gravity {
  if (easeMm < 0) return forcedGravity(-easeMm, capMm);
  if (easeMm < band.lookFromMm || easeMm > band.lookToMm) return 'mend';
  return isOffWanted && easeMm < band.fromMm ? 'mend' : 'look';
}

/** The halves of the cap share a change in the proportion that drafts use: a little more behind than in front. */
const BACK_SHARE = 5 / 9;

function remediesFor(changeMm: number, say: Words): Remedy[] {
  const backMm = Math.abs(changeMm) * BACK_SHARE;
  const frontMm = Math.abs(changeMm) - backMm;
  const split = `${say.length(frontMm)} front, ${say.length(backMm)} back`;
  return changeMm > 0
    ? [
        { grade: 'choice', sentence: `Spread the cap by ${say.length(changeMm)}: ${split}.` },
        { grade: 'choice', sentence: `Or close the armholes by ${say.length(changeMm)} if they were opened.` },
      ]
    : [{ grade: 'choice', sentence: `Take ${say.length(-changeMm)} out of the cap: ${split}.` }];
}

const CLOTH_WORDS = {
  woven: 'woven cloth',
  tailored: 'tailored work',
  shirt: 'a flat-set shirt sleeve',
  knit: 'a knit',
} as const;

function lengths(d: Data, say: Words): string {
  return `cap ${say.length(d.capMm)}, armhole ${say.length(d.armholeMm)}`;
}

function measured(d: Data, say: Words): string {
  return `Cap ease is ${say.uncertain(d.easeMm, d.sigmaMm)} (${lengths(d, say)})`;
}

function bare(d: Data, say: Words): string {
  return `${say.length(d.fromMm)} to ${say.length(d.toMm)}`;
}

function range(d: Data, say: Words): string {
  return `${bare(d, say)} is usual in ${d.cloth}`;
}

function wanted(d: Data, say: Words): string {
  if (d.wantedMm === null || d.wantedMm <= d.easeMm) return '';
  return ` ${say.length(d.wantedMm - d.easeMm)} of the wanted ${say.length(d.wantedMm)} are gone: were the armholes opened and the cap left behind?`;
}
