// The back shoulder is as long as the front one or a little longer and is eased in; a longer front shoulder has been swapped
// or altered on one side only.
import { SEAM_EASE } from '../../limits/seamEase.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import type { CheckContext } from '../context.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { forcedGravity } from '../seams/forcedGravity.ts';
import { seamSubjects, sideName, stretchOverlay } from '../seams/seamPlaces.ts';
import { walksThat } from '../subjects.ts';
import { judgeInterval } from '../verdict.ts';

interface Data {
  readonly front: string;
  readonly back: string;
  readonly frontMm: number;
  readonly backMm: number;
  /** Back less front. */
  readonly easeMm: number;
  readonly sigmaMm: number;
  readonly limitMm: number;
}

export const shoulderReversed = defineRule<SeamWalk, Data>({
  id: 'shoulder-reversed',
  title: 'The front shoulder is longer than the back',
  why: 'The back reaches over the shoulder blade, so its shoulder is cut as long as the front one or a little longer and eased in. A front that is longer would have to be eased over the hollow under the collar bone, where there is nothing to fill it.',
  source: SEAM_EASE.shoulder.source,
  messages: {
    clear: (d, say) => `Shoulder: ${both(d, say.length)}; the back is not shorter than the front.`,
    reversed: (d, say) =>
      `Shoulder: ${both(d, say.length)}; the front is longer by ${say.uncertain(-d.easeMm, d.sigmaMm)}, but the back is the one to be eased. Were the two swapped, or was one of them altered alone?`,
    tooCoarse: (d, say) =>
      `Shoulder: ${both(d, say.length)}; the front seems longer by ${say.uncertain(-d.easeMm, d.sigmaMm)}, too coarse to judge ${say.length(d.limitMm)}. Measure both shoulders again, nearer and with more cards.`,
  },
  subjects: walksThat((walk) => walk.sorted.sort === 'shoulder'),
  judge: (walk, context) => [judgeShoulder(walk, context)],
});

function both(d: Data, length: (mm: number) => string): string {
  return `${d.front} ${length(d.frontMm)}, ${d.back} ${length(d.backMm)}`;
}

function judgeShoulder(walk: SeamWalk, context: CheckContext): Outcome<Data> {
  const back = walk.sorted.fuller;
  const front = back === 1 ? 0 : 1;
  const easeMm = back === 1 ? walk.difference.valueMm : -walk.difference.valueMm;
  const { sigmaMm } = walk.difference;
  const { valueMm: limitMm, source } = context.limits.seam;
  const rest = {
    data: {
      front: sideName(walk.sides[front]),
      back: sideName(walk.sides[back]),
      frontMm: walk.compared[front].valueMm,
      backMm: walk.compared[back].valueMm,
      easeMm,
      sigmaMm,
      limitMm,
    } satisfies Data,
    subjects: seamSubjects(walk),
    measured: { value: easeMm, sigma: sigmaMm, unit: 'mm' },
    limit: { value: -limitMm, unit: 'mm', source },
  } as const;
  const decision = judgeInterval(easeMm, sigmaMm, -limitMm, Number.POSITIVE_INFINITY);
  if (decision === 'clear') return { verdict: 'clear', key: 'clear', ...rest };
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
  const { say } = context;
  return {
    verdict: 'fault',
    gravity: forcedGravity(-easeMm, Math.min(rest.data.frontMm, rest.data.backMm)),
    key: 'reversed',
    ...rest,
    overlay: stretchOverlay(walk, walk.anchors[0]!, walk.anchors.at(-1)!),
    remedies: [
      { grade: 'choice', sentence: `Shorten the shoulder of ${rest.data.front} by ${say.length(-easeMm)} or more.` },
      { grade: 'choice', sentence: `Lengthen the shoulder of ${rest.data.back} by ${say.length(-easeMm)} or more.` },
    ],
  };
}
