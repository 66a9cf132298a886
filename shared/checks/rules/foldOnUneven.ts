// A piece cut on the fold comes out as two equal halves. One whose halves must differ, as the front and back of a sleeve do,
// cannot be cut so.
import { isSleeve } from '../../pattern/kinds.ts';
import { type Length, subtractLength } from '../../pattern/measure.ts';
import { sectionLength } from '../../pattern/spans.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import type { CheckContext, ShapeInSize } from '../context.ts';
import { openCentre } from '../parts/openCentre.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { shapesThat } from '../subjects.ts';
import { judgeDifference } from '../verdict.ts';

interface Data {
  readonly piece: string;
  readonly halvesMm: readonly [number, number];
  readonly counts: readonly [number, number];
  readonly differenceMm: number;
  readonly sigmaMm: number;
  readonly limitMm: number;
}

interface Halves {
  readonly lengths: readonly [Length, Length];
  /** Snips in each half. */
  readonly counts: readonly [number, number];
  /** Which line was halved. */
  readonly of: 'cap' | 'armhole';
}

export const foldOnUneven = defineRule<ShapeInSize, Data>({
  id: 'fold-on-uneven',
  title: 'A piece with two different halves is marked to be cut on the fold',
  why: 'What is cut on the fold opens into two equal halves. The front of a set-in sleeve is scooped deeper than its back and notched differently; folded, one half of it fits no armhole.',
  source:
    'One front notch, two back (L. McConnell, Basic Set-in Sleeve, Taylor & Francis, 9781003022619, ch. 12); how much the halves may differ is the limit of an even seam',
  messages: {
    even: (d) => `${d.piece}: the piece opens from its fold into two equal halves.`,
    capEven: (d, say) =>
      `${d.piece}: front and back halves agree within ${say.uncertain(Math.abs(d.differenceMm), d.sigmaMm)}, so it may be cut on the fold.`,
    capDiffers: (d, say) =>
      `${d.piece} is marked to be cut on the fold, but its own cap is ${say.length(d.halvesMm[0])} on one half and ${say.length(d.halvesMm[1])} on the other.`,
    armholeDiffers: (d, say) =>
      `${d.piece} is cut on the fold, so both its halves are equal, but the armholes they are set into are ${say.length(d.halvesMm[0])} and ${say.length(d.halvesMm[1])}.`,
    countsDiffer: (d) =>
      `${d.piece} is marked to be cut on the fold, but one half carries ${d.counts[0]} and the other ${d.counts[1]} snips.`,
    tooCoarse: (d, say) =>
      `${d.piece} is marked to be cut on the fold; its halves seem to differ by ${say.uncertain(Math.abs(d.differenceMm), d.sigmaMm)}, too coarse to judge ${say.length(d.limitMm)}. Measure again, nearer and with more cards.`,
    noEdge: (d) =>
      `${d.piece} is marked to be cut on the fold, but none of its edges is a fold. Mark the edge that lies on it.`,
    noSeam: (d) =>
      `${d.piece} is marked to be cut on the fold; say which seam sets it in, so that its halves can be compared.`,
  },
  subjects: shapesThat(
    ({ piece, shape }, context) =>
      (piece.cut.some((entry) => entry.onFold) || hasFold({ shape })) &&
      // A fold where the piece is open or seamed is what `fold-in-opening` speaks of.
      openCentre(piece, shape, context) === null,
  ),
  judge: (subject, context) => [isSleeve(subject.piece.kind) ? judgeSleeve(subject, context) : judgeOther(subject)],
});

function hasFold({ shape }: Pick<ShapeInSize, 'shape'>): boolean {
  return shape.ring.some((edge) => edge.role === 'fold');
}

const NO_NUMBERS = { halvesMm: [0, 0], counts: [0, 0], differenceMm: 0, sigmaMm: 0, limitMm: 0 } as const;

function judgeOther(subject: ShapeInSize): Outcome<Data> {
  const { piece, size } = subject;
  const rest = { data: { piece: piece.name, ...NO_NUMBERS }, subjects: [{ piece: piece.id, size }] };
  return hasFold(subject)
    ? { verdict: 'clear', key: 'even', ...rest }
    : { verdict: 'unsure', reason: 'not-said', key: 'noEdge', ...rest };
}

function judgeSleeve(subject: ShapeInSize, context: CheckContext): Outcome<Data> {
  const { piece, size } = subject;
  const subjects = [{ piece: piece.id, size }];
  const halves = halvesOf(subject, context);
  if (halves === null) {
    return {
      verdict: 'unsure',
      reason: 'not-said',
      key: 'noSeam',
      data: { piece: piece.name, ...NO_NUMBERS },
      subjects,
    };
  }
  const { valueMm: limitMm, source } = context.limits.seam;
  const difference = subtractLength(halves.lengths[1], halves.lengths[0]);
  const rest = {
    data: {
      piece: piece.name,
      halvesMm: [halves.lengths[0].valueMm, halves.lengths[1].valueMm],
      counts: halves.counts,
      differenceMm: difference.valueMm,
      sigmaMm: difference.sigmaMm,
      limitMm,
    } satisfies Data,
    subjects,
    measured: { value: difference.valueMm, sigma: difference.sigmaMm, unit: 'mm' },
    limit: { value: limitMm, unit: 'mm', source },
  } as const;
  const remedies = [
    { grade: 'choice', sentence: 'Cut the sleeve singly, once as traced and once mirrored, not on the fold.' },
  ] as const;
  const decision = judgeDifference(difference.valueMm, difference.sigmaMm, limitMm);
  if (decision === 'fault') {
    const key = halves.of === 'cap' ? 'capDiffers' : 'armholeDiffers';
    return { verdict: 'fault', gravity: 'stop', key, ...rest, remedies };
  }
  if (halves.counts[0] !== halves.counts[1]) {
    return { verdict: 'fault', gravity: 'stop', key: 'countsDiffer', ...rest, remedies };
  }
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
  return { verdict: 'clear', key: 'capEven', ...rest };
}

/** Front and back of the cap when it was traced whole; of the armhole when the sleeve shows one half only. */
function halvesOf(subject: ShapeInSize, context: CheckContext): Halves | null {
  const walk = context
    .walks()
    .find(
      (w) =>
        w.size === subject.size &&
        w.sorted.sort === 'cap' &&
        w.sides[w.sorted.fuller].spans.some((s) => s.piece === subject.piece),
    );
  if (walk === undefined) return null;
  const cap = walk.sorted.fuller;
  const armhole = cap === 1 ? 0 : 1;
  return hasFold(subject) ? halvesAt(walk, armhole, context) : halvesAt(walk, cap, context);
}

/** The side halved where it has a joint, or where a joint of the other side meets it. */
function halvesAt(walk: SeamWalk, which: 0 | 1, context: CheckContext): Halves | null {
  const side = walk.sides[which];
  const middleMm = side.total.valueMm / 2;
  const met = walk.anchors.filter((anchor) => anchor.kind === 'joint').map((anchor) => anchor.atMm[which]);
  const candidates = side.jointsMm.length > 0 ? side.jointsMm : met;
  const topMm = candidates.toSorted((a, b) => Math.abs(a - middleMm) - Math.abs(b - middleMm))[0];
  if (topMm === undefined) return null;
  const snips = (isInHalf: (atMm: number) => boolean) =>
    side.notches
      .filter((n) => n.purpose === 'match' && n.notch.mate.kind !== 'seam-end' && isInHalf(n.atMm))
      .filter((n) => Math.abs(n.atMm - topMm) > AT_TOP_MM)
      .reduce((sum, n) => sum + n.notch.count, 0);
  return {
    lengths: [
      sectionLength(side, 0, topMm, context.measuring),
      sectionLength(side, topMm, side.total.valueMm, context.measuring),
    ],
    counts: [snips((at) => at < topMm), snips((at) => at > topMm)],
    of: which === walk.sorted.fuller ? 'cap' : 'armhole',
  };
}

/** A notch this near to the cap top is the cap top's own mark. */
const AT_TOP_MM = 10;
