// One side of a seam was altered and its partner was not: found by walking the seam as it was before the alteration and as it
// is now. Needs the earlier shape, which a piece keeps when it is altered or traced again.
import { beforeAlterations, type LeftBehind, leftBehind as leftBehindIn } from '../../pattern/followers.ts';
import { type SeamWalk, walkSeam } from '../../pattern/walk.ts';
import type { CheckContext } from '../context.ts';
import { meetsItsBand, slackMm } from '../parts/meetsItsBand.ts';
import { signedLength } from '../parts/signedLength.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { forcedGravity } from '../seams/forcedGravity.ts';
import { seamSubjects, sideName, stretchOverlay } from '../seams/seamPlaces.ts';
import { inSet } from '../subjects.ts';
import { type Decision, judgeDifference } from '../verdict.ts';

interface Data {
  readonly seam: string;
  readonly changed: string;
  readonly follower: string;
  readonly changedByMm: number;
  readonly followedByMm: number;
  readonly easeBeforeMm: number;
  readonly easeAfterMm: number;
  /** How much longer the follower must become. */
  readonly missingMm: number;
  readonly sigmaMm: number;
}

interface Changed {
  readonly found: LeftBehind;
  readonly old: SeamWalk;
  readonly now: SeamWalk;
  readonly sigmaMm: number;
}

export const leftBehind = defineRule<Changed, Data>({
  id: 'left-behind',
  title: 'One side of a seam was altered and its partner was left as it was',
  why: 'Pieces meet at their seams, so a change of one is a change of all that is sewn to it: an opened armhole asks for more cap, a lowered neckline for a new facing. The partner that was forgotten is the usual reason why a garment that fitted as a toile does not go together in cloth.',
  source: 'As far as the seam itself may differ: Threads #200, 10 Patternwork Skills',
  messages: {
    followed: (d, say) =>
      `${d.seam}: ${d.changed} changed (${signedLength(d.changedByMm, say)}) and the seam still meets as it did (${d.follower} ${signedLength(d.followedByMm, say)}).`,
    mended: (d, say) =>
      `${d.seam}: the seam has changed from ${signedLength(d.easeBeforeMm, say)} to ${signedLength(d.easeAfterMm, say)} and now is as it should be.`,
    left: (d, say) =>
      `${d.seam}: ${d.changed} changed (${signedLength(d.changedByMm, say)}) and ${d.follower} stayed behind (${signedLength(d.followedByMm, say)}): ${say.uncertain(Math.abs(d.missingMm), d.sigmaMm)} ${d.missingMm < 0 ? 'too much' : 'are missing'}; the difference was ${say.length(d.easeBeforeMm)} and is ${say.length(d.easeAfterMm)}.`,
    sections: (d, say) =>
      `${d.seam}: ${d.changed} changed (${signedLength(d.changedByMm, say)}) and between the notches ${d.follower} stayed behind; one section is ${say.uncertain(Math.abs(d.missingMm), d.sigmaMm)} off.`,
    within: (d, say) =>
      `${d.seam}: ${d.changed} changed (${signedLength(d.changedByMm, say)}) and ${d.follower} did not follow; the difference was ${say.length(d.easeBeforeMm)} and is ${say.uncertain(d.easeAfterMm, d.sigmaMm)}, still in its range. If that is meant, leave it.`,
    tooCoarse: (d, say) =>
      `${d.seam}: whether ${d.follower} followed ${d.changed} cannot be told; ${say.uncertain(Math.abs(d.missingMm), d.sigmaMm)} may be missing. Measure both sides again, nearer and with more cards.`,
  },
  subjects: inSet(changedSeams),
  judge: (subject, context) => [judgeChanged(subject, context)],
});

/** Every touched seam is wanted here, those that meet as they did too: what is too much is judged with its uncertainty. */
const EVERY_CHANGE_MM = Number.NEGATIVE_INFINITY;

function changedSeams(context: CheckContext): readonly Changed[] {
  const { set, measuring } = context;
  const before = beforeAlterations(set);
  if (before === set) return [];
  return leftBehindIn(before, set, EVERY_CHANGE_MM).flatMap((found) => {
    const now = context.walk(found.seam, found.size);
    const old = walkSeam(before, found.seam, found.size, measuring);
    if (!now.ok || !old.ok) return [];
    // The earlier shape was measured on its own: its errors do not cancel against those of the new one.
    const sigmaMm = Math.hypot(now.value.difference.sigmaMm, old.value.difference.sigmaMm);
    const isTouched =
      found.changedByMm.some((mm) => judgeDifference(mm, sigmaMm, 0) === 'fault') ||
      (found.missingBySectionMm ?? []).some((mm) => judgeDifference(mm, sigmaMm, 0) === 'fault');
    return isTouched ? [{ found, old: old.value, now: now.value, sigmaMm }] : [];
  });
}

function judgeChanged(subject: Changed, context: CheckContext): Outcome<Data> {
  const { found, now, sigmaMm } = subject;
  const toleranceMm = slackMm(now, context);
  const whole = judgeDifference(found.missingMm, sigmaMm, toleranceMm);
  const sections = found.missingBySectionMm ?? [];
  const worstSectionMm = sections.reduce((worst, mm) => (Math.abs(mm) > Math.abs(worst) ? mm : worst), 0);
  const part = judgeDifference(worstSectionMm, sigmaMm, toleranceMm);
  const bySection = whole !== 'fault' && part === 'fault';
  const missingMm = bySection ? worstSectionMm : found.missingMm;
  const data: Data = {
    seam: now.seam.name,
    changed: sideName(now.sides[found.changed]),
    follower: sideName(now.sides[found.follower]),
    changedByMm: found.changedByMm[found.changed],
    followedByMm: found.changedByMm[found.follower],
    easeBeforeMm: found.easeBeforeMm,
    easeAfterMm: found.easeAfterMm,
    missingMm,
    sigmaMm,
  };
  const rest = {
    data,
    subjects: seamSubjects(now),
    measured: { value: missingMm, sigma: sigmaMm, unit: 'mm' },
    limit: { value: toleranceMm, unit: 'mm', source: context.limits.seam.source },
  } as const;
  if (whole === 'clear' && part === 'clear') return { verdict: 'clear', key: 'followed', ...rest };
  const meets = meetsItsBand(now, context);
  if (meets === 'clear' && isOnPurpose(subject, context)) return { verdict: 'clear', key: 'mended', ...rest };
  const changed: Decision = whole === 'fault' || part === 'fault' ? 'fault' : 'unsure';
  if (changed === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
  const shorterMm = Math.min(now.compared[0].valueMm, now.compared[1].valueMm);
  const isOff = meets === 'fault' || bySection;
  return {
    verdict: 'fault',
    gravity: isOff ? forcedGravity(Math.abs(missingMm), shorterMm) : 'look',
    key: bySection ? 'sections' : isOff ? 'left' : 'within',
    ...rest,
    overlay: stretchOverlay(now, now.anchors[0]!, now.anchors.at(-1)!),
    remedies: [
      {
        grade: 'choice',
        sentence: `${missingMm < 0 ? 'Shorten' : 'Lengthen'} ${data.follower} by ${context.say.length(Math.abs(missingMm))} along this seam, where ${data.changed} changed.`,
      },
      { grade: 'choice', sentence: `Or take the alteration of ${data.changed} back.` },
    ],
  };
}

/** What the plan asks for, and what brings together a seam that did not meet before, was not forgotten. */
function isOnPurpose({ found, old, now }: Changed, context: CheckContext): boolean {
  const wantedMm = now.seam.wantedEaseMm;
  if (wantedMm !== null) return Math.abs(found.easeAfterMm - wantedMm) <= slackMm(now, context);
  return now.sorted.sort !== 'cap' || meetsItsBand(old, context) !== 'clear';
}
