// Notches that meet lie equally far along their edges, counted from a common start. Counting from both ends of the seam
// keeps a difference in length elsewhere from being blamed on the notch.
import { capSections } from '../../pattern/capSections.ts';
import type { Pair } from '../../pattern/matchNotches.ts';
import { type Length, subtractLength } from '../../pattern/measure.ts';
import { sectionLength } from '../../pattern/spans.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import type { CheckContext } from '../context.ts';
import { NOTCH_PAIRS, type NotchPair } from '../parts/notchPairs.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { endLabel, notchOverlay, notchSubject } from '../seams/seamPlaces.ts';
import { canBeClear, judgeDifference } from '../verdict.ts';

interface Data {
  readonly seam: string;
  readonly first: string;
  readonly second: string;
  readonly atMm: readonly [number, number];
  readonly shiftMm: number;
  readonly sigmaMm: number;
  readonly limitMm: number;
}

export const notchShifted = defineRule<NotchPair, Data>({
  id: 'notch-shifted',
  title: 'Notches that should meet miss each other',
  why: 'Partner notches lie at the same distance from the end where the seam is begun. One that has slipped takes the cloth with it: the edge is full on one side of the notch and tight on the other, and a sleeve twists.',
  source: '1/16 in at home, 1 to 2 mm in the trade: common practice, no source',
  messages: {
    clear: (d, say) => `${d.seam}: the notches meet within ${say.uncertain(Math.abs(d.shiftMm), d.sigmaMm)}.`,
    shifted: (d, say) =>
      `${d.seam}: the notches miss each other by ${say.uncertain(Math.abs(d.shiftMm), d.sigmaMm)}: ${say.length(d.atMm[0])} along ${d.first}, ${say.length(d.atMm[1])} along ${d.second}; ${say.length(d.limitMm)} is allowed.`,
    tooCoarse: (d, say) =>
      `${d.seam}: the notches seem to miss each other by ${say.uncertain(Math.abs(d.shiftMm), d.sigmaMm)}, but ${say.length(d.limitMm)} is allowed and the measurement is too coarse to tell. Measure these pieces again, nearer and with more cards.`,
    hopeless: (d, say) =>
      `${d.seam}: this photo places notches only to ± ${say.length(2 * d.sigmaMm)}, which cannot judge a limit of ${say.length(d.limitMm)}. Measure these pieces again, nearer and with more cards.`,
    byTheParts: (d) => `${d.seam}: both underarm parts of the cap differ alike, so the notches are judged with them.`,
  },
  subjects: NOTCH_PAIRS,
  judge: (pair, context) => [judgePair(pair, context)],
});

function judgePair({ walk, pair, first, second }: NotchPair, context: CheckContext): Outcome<Data> {
  const shiftMm = judgedShift(walk, pair);
  const { valueMm: limitMm, source } = context.limits.notch;
  const { sigmaMm } = shiftLength(walk, pair, context);
  const rest = {
    data: {
      seam: walk.seam.name,
      first: first.piece.name,
      second: second.piece.name,
      atMm: [first.atMm, second.atMm],
      shiftMm,
      sigmaMm,
      limitMm,
    } satisfies Data,
    subjects: [
      notchSubject(first, walk.size),
      notchSubject(second, walk.size),
      { seam: walk.seam.id, size: walk.size },
    ],
    measured: { value: shiftMm, sigma: sigmaMm, unit: 'mm' },
    limit: { value: limitMm, unit: 'mm', source },
  } as const;
  if (bothUnderarmsAlike(walk, context)) return { verdict: 'not-applicable', key: 'byTheParts', ...rest };
  const decision = judgeDifference(shiftMm, sigmaMm, limitMm);
  if (decision === 'clear') return { verdict: 'clear', key: 'clear', ...rest };
  if (decision === 'unsure') {
    const key = canBeClear(sigmaMm, -limitMm, limitMm) ? 'tooCoarse' : 'hopeless';
    return { verdict: 'unsure', reason: 'too-coarse', key, ...rest };
  }
  const { say } = context;
  const away = shiftMm > 0 ? 'toward the start of the seam' : 'toward the end of the seam';
  const back = shiftMm > 0 ? 'toward the end of the seam' : 'toward the start of the seam';
  return {
    verdict: 'fault',
    gravity: 'mend',
    key: 'shifted',
    ...rest,
    overlay: [...notchOverlay(first), ...notchOverlay(second)],
    remedies: [
      {
        grade: 'choice',
        sentence: `Move the notch of ${second.piece.name} ${say.length(Math.abs(shiftMm))} ${toward(walk, 1, shiftMm > 0 ? 'start' : 'end') ?? away}.`,
      },
      {
        grade: 'choice',
        sentence: `Or move the notch of ${first.piece.name} ${say.length(Math.abs(shiftMm))} ${toward(walk, 0, shiftMm > 0 ? 'end' : 'start') ?? back}.`,
      },
    ],
  };
}

/**
 * The miss that is judged. Cap ease lies between the notches, so on a cap each notch counts from its own underarm; elsewhere
 * from the end from which the miss is smaller.
 */
function judgedShift(walk: SeamWalk, pair: Pair): number {
  if (walk.sorted.sort !== 'cap') return pair.shiftMm;
  const under = capSections(walk).filter((s) => s.part === 'underarm');
  const before = under.find((s) => s.section.to.pair === pair);
  const after = under.find((s) => s.section.from.pair === pair);
  if (before !== undefined) return before.section.difference.valueMm;
  return after === undefined ? pair.shiftMm : -after.section.difference.valueMm;
}

/** The miss with its uncertainty, counted from the end from which it is smaller. */
function shiftLength(walk: SeamWalk, { first, second }: Pair, context: CheckContext): Length {
  const fromStart = [first.atMm, second.atMm] as const;
  const totals = walk.sides.map((side) => side.total.valueMm);
  const startMiss = Math.abs(fromStart[1] - fromStart[0]);
  const endMiss = Math.abs(totals[1]! - fromStart[1] - (totals[0]! - fromStart[0]));
  const part = (which: 0 | 1) =>
    startMiss <= endMiss
      ? sectionLength(walk.sides[which], 0, fromStart[which], context.measuring)
      : sectionLength(walk.sides[which], fromStart[which], totals[which]!, context.measuring);
  return subtractLength(part(1), part(0));
}

/** An opened or closed armhole moves both underarm parts the same way: the armhole changed, not the notches. */
function bothUnderarmsAlike(walk: SeamWalk, context: CheckContext): boolean {
  if (walk.sorted.sort !== 'cap') return false;
  const under = capSections(walk).filter((s) => s.part === 'underarm');
  const limitMm = context.limits.notch.valueMm;
  if (under.length < 2) return false;
  return (
    under.every((s) => Math.abs(s.easeMm) > limitMm) && Math.sign(under[0]!.easeMm) === Math.sign(under[1]!.easeMm)
  );
}

/** "toward the shoulder": by the name of the edge that lies at that end of the seam. */
function toward(walk: SeamWalk, which: 0 | 1, end: 'start' | 'end'): string | null {
  const label = endLabel(walk.sides[which], end);
  return label === null ? null : `toward the ${label}`;
}
