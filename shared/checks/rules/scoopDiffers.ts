// Laid on each other at the underarm, the lower cap and the lower armhole follow one line up to the notches.
import type { Point } from '../../base/points.ts';
import { placeAtLength } from '../../geometry/arcLength.ts';
import { rigidFit } from '../../geometry/rigidFit.ts';
import { apply } from '../../geometry/transform.ts';
import { distance } from '../../geometry/vector.ts';
import { SCOOP } from '../../limits/setLimits.ts';
import { type CapSection, capSections } from '../../pattern/capSections.ts';
import type { Cloth } from '../../pattern/model.ts';
import { openMm, pointSigmaAlong, type WalkedSide, type WalkedSpan } from '../../pattern/spans.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import type { CheckContext } from '../context.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { seamSubjects, spanNames, stretchOverlay } from '../seams/seamPlaces.ts';
import { walksThat } from '../subjects.ts';
import { judgeInterval } from '../verdict.ts';

interface Data {
  readonly where: string;
  readonly apartMm: number;
  readonly sigmaMm: number;
  readonly limitMm: number;
}

export const scoopDiffers = defineRule<SeamWalk, Data>({
  id: 'scoop-differs',
  title: 'The lower cap does not lie in the lower armhole',
  why: 'Below the notches the sleeve hangs in the armhole like a ladle in its rest: both follow the same hollow. Where the cap is flatter than the armhole, cloth is left over under the arm; where it is deeper, the sleeve lifts the whole garment with the arm.',
  source: SCOOP.source,
  messages: {
    clear: (d, say) =>
      `Laid on each other, lower cap and lower armhole run within ${say.uncertain(d.apartMm, d.sigmaMm)} of one line.`,
    differs: (d, say) =>
      `Laid on each other, lower cap and lower armhole at the ${d.where} run ${say.uncertain(d.apartMm, d.sigmaMm)} apart; ${say.length(d.limitMm)} is usual at most.`,
    tooCoarse: (d, say) =>
      `Lower cap and lower armhole seem to run ${say.uncertain(d.apartMm, d.sigmaMm)} apart, too coarse to judge ${say.length(d.limitMm)}. Measure sleeve and armholes again, nearer and with more cards.`,
    flatSet: () =>
      'A shirt sleeve or one of a knit is set in flat, so the hollow of its cap need not be that of the armhole.',
    noNotches: () => 'No notches mark off the lower cap, so its hollow is not compared.',
  },
  subjects: walksThat((walk) => walk.sorted.sort === 'cap'),
  judge: (walk, context) => [judgeScoop(walk, context)],
});

function judgeScoop(walk: SeamWalk, context: CheckContext): Outcome<Data> {
  const { valueMm: limitMm, source } = SCOOP;
  const under = capSections(walk).filter(({ part }) => part === 'underarm');
  const subjects = seamSubjects(walk);
  const nothing: Data = { where: '', apartMm: 0, sigmaMm: 0, limitMm };
  if (FLAT_SET.includes(context.set.preset.cloth))
    return { verdict: 'not-applicable', key: 'flatSet', data: nothing, subjects };
  const laid = under.map((part) => ({ part, apartMm: apartBelow(walk, part) }));
  const worst = laid.toSorted((a, b) => b.apartMm - a.apartMm)[0];
  if (worst === undefined) {
    return { verdict: 'not-applicable', key: 'noNotches', data: nothing, subjects };
  }
  const { from, to } = worst.part.section;
  const sigmaMm = Math.hypot(...walk.sides.map((side, i) => pointSigmaAlong(side, from.atMm[i]!, to.atMm[i]!)));
  const where = spanNames(walk, walk.sorted.fuller === 1 ? 0 : 1, worst.part.section);
  const rest = {
    data: { where, apartMm: worst.apartMm, sigmaMm, limitMm },
    subjects,
    measured: { value: worst.apartMm, sigma: sigmaMm, unit: 'mm' },
    limit: { value: limitMm, unit: 'mm', source },
  } as const;
  const decision = judgeInterval(worst.apartMm, sigmaMm, Number.NEGATIVE_INFINITY, limitMm);
  if (decision === 'fault') {
    return {
      verdict: 'fault',
      gravity: 'look',
      key: 'differs',
      ...rest,
      overlay: stretchOverlay(walk, from, to),
      remedies: [
        {
          grade: 'choice',
          sentence: `Lay the sleeve on ${where} at the underarm and trace the lower armhole onto the cap up to the notch.`,
        },
      ],
    };
  }
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
  return { verdict: 'clear', key: 'clear', ...rest };
}

const FLAT_SET: readonly Cloth[] = ['shirt', 'knit'];

/** Places along the hollow that are compared. */
const PLACES = 7;

/**
 * How far apart the two hollows run at most, equally far along from the underarm, one of them turned over if need be. Each
 * piece was drawn in a place of its own, so the hollows are compared as far as the first piece of each reaches.
 */
function apartBelow(walk: SeamWalk, { section, half }: CapSection): number {
  const underarmFirst = half === 'first';
  const hollows = ([0, 1] as const).map((which) => hollowOf(walk.sides[which], section, which, underarmFirst));
  const lengthMm = Math.min(...hollows.map(({ reachMm }) => reachMm));
  const [armhole, cap] = hollows.map(({ walked, underarmMm }) =>
    Array.from({ length: PLACES }, (_, i) => {
      const away = (lengthMm * i) / (PLACES - 1);
      const atMm = openMm(walked, underarmFirst ? underarmMm + away : underarmMm - away);
      return placeAtLength(walked.seam.path, atMm);
    }),
  ) as [Point[], Point[]];
  const turnedOver = cap.map(([x, y]): Point => [-x, y]);
  return Math.min(misfit(cap, armhole), misfit(turnedOver, armhole));
}

interface Hollow {
  /** The span that begins (or ends) at the underarm. */
  readonly walked: WalkedSpan;
  readonly underarmMm: number;
  /** To the notch, or to where that span ends. */
  readonly reachMm: number;
}

function hollowOf(
  { spans }: WalkedSide,
  { from, to }: CapSection['section'],
  which: 0 | 1,
  underarmFirst: boolean,
): Hollow {
  const [start, end] = [from.atMm[which], to.atMm[which]];
  if (underarmFirst) {
    const walked = spans.findLast(({ startsAtMm }) => startsAtMm <= start) ?? spans[0]!;
    return { walked, underarmMm: start, reachMm: Math.min(end, walked.startsAtMm + walked.length.valueMm) - start };
  }
  const walked = spans.findLast(({ startsAtMm }) => startsAtMm < end) ?? spans[0]!;
  return { walked, underarmMm: end, reachMm: end - Math.max(start, walked.startsAtMm) };
}

function misfit(source: readonly Point[], target: readonly Point[]): number {
  const fit = rigidFit(source, target);
  return Math.max(...source.map((point, i) => distance(apply(fit, point), target[i]!)));
}
