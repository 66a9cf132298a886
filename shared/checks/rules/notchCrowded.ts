// Notches need room: from each other, so that two singles are not read as one double, and from the stitches, so that a snip
// does not show.
import { NOTCH_CROWDED, SNIP_ROOM } from '../../limits/pieceLimits.ts';
import type { LimitMm } from '../../limits/row.ts';
import type { Notch } from '../../pattern/model.ts';
import { notchPurpose } from '../../pattern/notchPurpose.ts';
import { pointSigmaAt } from '../../pattern/pointSigma.ts';
import { type SeamEdge, seamlineOf } from '../../pattern/seamline.ts';
import type { CheckContext, ShapeInSize } from '../context.ts';
import { placeOverlay } from '../parts/placeOverlay.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { inShapes } from '../subjects.ts';
import { judgeInterval } from '../verdict.ts';
import { edgeName, edgeWords } from '../words.ts';

interface Data {
  readonly piece: string;
  readonly edge: string;
  readonly apartMm: number;
  readonly sigmaMm: number;
  readonly limitMm: number;
}

interface NotchedEdge extends ShapeInSize {
  readonly seam: SeamEdge;
  /** Match notches in the order of the edge. */
  readonly notches: readonly Notch[];
}

export const notchCrowded = defineRule<NotchedEdge, Data>({
  id: 'notch-crowded',
  title: 'Notches stand too close',
  why: 'Two single notches side by side read as one double notch, and the front of a sleeve is set into the back. And a snip needs an allowance deeper than itself: one that reaches the stitches leaves a hole in the seam.',
  source: `${NOTCH_CROWDED.source}; ${SNIP_ROOM.source}`,
  messages: {
    clear: (d) => `${d.piece}: the notches on the ${edgeWords(d.edge)} have room.`,
    close: (d, say) =>
      `${d.piece}: two notches on the ${edgeWords(d.edge)} are only ${say.uncertain(d.apartMm, d.sigmaMm)} apart and read as a double one; ${say.length(d.limitMm)} keeps them apart.`,
    shallow: (d, say) =>
      `${d.piece}: the ${edgeWords(d.edge)} carries ${say.length(d.apartMm)} of allowance, too little to snip its notches into; ${say.length(d.limitMm)} keeps a snip off the stitches. Mark them with chalk or a tick outward.`,
    tooCoarse: (d, say) =>
      `${d.piece}: two notches on the ${edgeWords(d.edge)} are about ${say.uncertain(d.apartMm, d.sigmaMm)} apart, too coarse to judge ${say.length(d.limitMm)}. Measure the piece again, nearer and with more cards.`,
  },
  subjects: inShapes(notchedEdges),
  judge: (subject, context) => [judgeEdge(subject, context)],
});

function notchedEdges(entry: ShapeInSize): NotchedEdge[] {
  const matching = entry.shape.notches.filter((notch) => notchPurpose(entry.shape, notch) === 'match');
  if (matching.length === 0) return [];
  return seamlineOf(entry.shape).edges.flatMap((seam) => {
    const notches = matching.filter(({ edge }) => edge === seam.edge.id).toSorted((a, b) => a.atMm - b.atMm);
    return notches.length === 0 ? [] : [{ ...entry, seam, notches }];
  });
}

function judgeEdge({ piece, shape, size, seam, notches }: NotchedEdge, context: CheckContext): Outcome<Data> {
  const gaps = notches
    .slice(1)
    .map((notch, i) => ({ apartMm: notch.atMm - notches[i]!.atMm, pair: [notches[i]!, notch] }));
  const closest = gaps.toSorted((a, b) => a.apartMm - b.apartMm)[0];
  const sigmaMm = Math.hypot(
    ...(closest?.pair ?? notches.slice(0, 2)).map(({ atMm }) => pointSigmaAt(shape, seam.edge.id, atMm)),
  );
  const edge = edgeName(seam.edge);
  const said = (apartMm: number, sigma: number, { valueMm, source }: LimitMm) =>
    ({
      data: { piece: piece.name, edge, apartMm, sigmaMm: sigma, limitMm: valueMm },
      subjects: [{ piece: piece.id, edge: seam.edge.id, size }],
      measured: { value: apartMm, sigma, unit: 'mm' },
      limit: { value: valueMm, unit: 'mm', source },
    }) as const;
  const { say } = context;
  const apartMm = closest?.apartMm ?? Number.POSITIVE_INFINITY;
  const decision = judgeInterval(apartMm, sigmaMm, NOTCH_CROWDED.valueMm, Number.POSITIVE_INFINITY);
  if (closest !== undefined && decision === 'fault') {
    return {
      verdict: 'fault',
      gravity: 'look',
      key: 'close',
      ...said(apartMm, sigmaMm, NOTCH_CROWDED),
      overlay: closest.pair.flatMap((notch) => placeOverlay(piece.id, seam, notch.atMm, 'notch')),
      remedies: [
        {
          grade: 'choice',
          sentence: `Make them one double notch if that is meant, or move one of them until they are ${say.length(NOTCH_CROWDED.valueMm)} apart.`,
        },
      ],
    };
  }
  const { allowanceMm, allowanceAssumed } = seam.edge;
  if (!allowanceAssumed && allowanceMm > 0 && allowanceMm < SNIP_ROOM.valueMm) {
    return {
      verdict: 'fault',
      gravity: 'look',
      key: 'shallow',
      ...said(allowanceMm, 0, SNIP_ROOM),
      overlay: notches.flatMap((notch) => placeOverlay(piece.id, seam, notch.atMm, 'notch')),
      remedies: [
        {
          grade: 'choice',
          sentence: `Mark the notches with chalk, or widen the allowance to ${say.length(SNIP_ROOM.valueMm)}.`,
        },
      ],
    };
  }
  if (closest !== undefined && decision === 'unsure')
    return {
      verdict: 'unsure',
      reason: 'too-coarse',
      key: 'tooCoarse',
      ...said(apartMm, sigmaMm, NOTCH_CROWDED),
    };
  const { data, subjects } = said(closest?.apartMm ?? 0, sigmaMm, NOTCH_CROWDED);
  return { verdict: 'clear', key: 'clear', data, subjects };
}
