// A notch that stayed in its place while its mate moved with the grade, or that is missing in one size.

import { pointSigmaAt } from '../../pattern/pointSigma.ts';
import { seamEdge } from '../../pattern/seamline.ts';
import { type MissingNotch, missingNotches, type StayedNotch, stayedNotches } from '../../sizes/notchSteps.ts';
import type { CheckContext } from '../context.ts';
import { placeOverlay } from '../parts/placeOverlay.ts';
import { nestsThat, type SeamNest } from '../parts/seamNests.ts';
import { signedLength } from '../parts/signedLength.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { notchSubject } from '../seams/seamPlaces.ts';
import { judgeDifference } from '../verdict.ts';

interface Data {
  readonly seam: string;
  readonly piece: string;
  readonly mate: string;
  readonly size: string;
  readonly reference: string;
  readonly movedMm: number;
  readonly mateMovedMm: number;
  readonly shiftMm: number;
  readonly sigmaMm: number;
  readonly counts: readonly [number, number];
}

export const notchUngraded = defineRule<SeamNest, Data>({
  id: 'notch-ungraded',
  title: 'A notch was not graded with its seam',
  why: 'When an edge grows, its notches move along with it, on both pieces by the same amount. A notch that was copied from another size without moving sends the ease to the wrong place in every size but one.',
  source: '1/16 in at home, 1 to 2 mm in the trade: common practice, no source',
  messages: {
    graded: (d) => `${d.seam}: its notches keep to their mates in every size.`,
    stayed: (d, say) =>
      `${d.seam}: from size ${d.reference} to ${d.size} the notch of ${d.mate} moved by ${signedLength(d.mateMovedMm, say)}, that of ${d.piece} by ${signedLength(d.movedMm, say)}: ${say.uncertain(Math.abs(d.shiftMm), d.sigmaMm)} apart. Was it left where size ${d.reference} has it?`,
    missing: (d) =>
      `${d.seam}: ${d.piece} has ${count(d.counts[1])} in size ${d.size}, but ${d.counts[0]} in size ${d.reference}.`,
  },
  subjects: nestsThat(({ walks }) =>
    walks.some((walk) => walk.matched.pairs.some((p) => p.first.kind === 'notch' && p.second.kind === 'notch')),
  ),
  judge: (nest, context) => {
    const reference = referenceOf(nest);
    const found = nest.walks
      .filter((walk) => walk !== reference)
      .flatMap((walk) => {
        const missing = missingNotches(walk, reference);
        // Where one is missing, what is left may be paired with another one.
        return missing.length > 0
          ? missing.map((one) => missingOutcome(nest, one))
          : stayedNotches(walk, reference).flatMap((one) => stayedOutcome(nest, one, reference.size, context));
      });
    if (found.length > 0) return found;
    const data = { ...NO_DATA, seam: nest.seam.name };
    return [{ verdict: 'clear', key: 'graded', data, subjects: [{ seam: nest.seam.id }] }];
  },
});

/** The size that most others are compared with. */
function referenceOf({ walks, compared }: SeamNest) {
  return walks.find((walk) => compared.every((one) => one.walk !== walk)) ?? walks[0]!;
}

function stayedOutcome(
  nest: SeamNest,
  { notch, mate, size, movedMm, mateMovedMm, shiftMm }: StayedNotch,
  reference: string,
  context: CheckContext,
): Outcome<Data>[] {
  const { valueMm: limitMm, source } = context.limits.notch;
  // Two places on each of two pieces.
  const sigmaMm =
    Math.SQRT2 *
    Math.hypot(...[notch, mate].map(({ shape, notch: { edge, atMm } }) => pointSigmaAt(shape, edge, atMm)));
  // It moved by no more than half of what a notch may miss its mate by: an own setting without source.
  const stayed = judgeDifference(movedMm, sigmaMm, limitMm / 2) !== 'fault';
  if (judgeDifference(shiftMm, sigmaMm, limitMm) !== 'fault' || !stayed) return [];
  const seam = seamEdge(notch.shape, notch.notch.edge)!;
  const goalMm = context.say.length(Math.abs(shiftMm));
  return [
    {
      verdict: 'fault',
      gravity: 'mend',
      key: 'stayed',
      data: {
        seam: nest.seam.name,
        piece: notch.piece.name,
        mate: mate.piece.name,
        size,
        reference,
        movedMm,
        mateMovedMm,
        shiftMm,
        sigmaMm,
        counts: [1, 1],
      },
      subjects: [{ seam: nest.seam.id, size }, notchSubject(notch, size), notchSubject(mate, size)],
      measured: { value: shiftMm, sigma: sigmaMm, unit: 'mm' },
      limit: { value: limitMm, unit: 'mm', source },
      overlay: placeOverlay(notch.piece.id, seam, notch.notch.atMm, 'notch'),
      remedies: [{ grade: 'safe', sentence: `Move the notch of ${notch.piece.name} by ${goalMm} in size ${size}.` }],
    },
  ];
}

function missingOutcome(nest: SeamNest, { piece, edge, size, reference, counts }: MissingNotch): Outcome<Data> {
  return {
    verdict: 'fault',
    gravity: 'mend',
    key: 'missing',
    data: { ...NO_DATA, seam: nest.seam.name, piece: piece.name, size, reference, counts },
    subjects: [
      { seam: nest.seam.id, size },
      { piece: piece.id, edge, size },
    ],
    measured: { value: counts[1], sigma: 0, unit: 'count' },
    limit: { value: counts[0], unit: 'count', source: `as in size ${reference}` },
    overlay: [{ kind: 'edge', piece: piece.id, edge }],
    remedies: [{ grade: 'choice', sentence: `Mark the notch of ${piece.name} in size ${size} as well.` }],
  };
}

const NO_DATA = {
  piece: '',
  mate: '',
  size: '',
  reference: '',
  movedMm: 0,
  mateMovedMm: 0,
  shiftMm: 0,
  sigmaMm: 0,
  counts: [0, 0],
} as const;

function count(n: number): string {
  return n === 0 ? 'no notch' : n === 1 ? '1 notch' : `${n} notches`;
}
