// A notch lies on an edge of its piece and outside the mouths that vanish when the piece is sewn.
import { NOTCH_ADRIFT } from '../../limits/pieceLimits.ts';
import { closuresOn } from '../../pattern/darts.ts';
import type { Notch } from '../../pattern/model.ts';
import { notchPurpose } from '../../pattern/notchPurpose.ts';
import { seamEdge } from '../../pattern/seamline.ts';
import type { CheckContext, ShapeInSize } from '../context.ts';
import { placeOverlay } from '../parts/placeOverlay.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { inShapes } from '../subjects.ts';
import { judgeInterval } from '../verdict.ts';
import { edgeName, edgeWords } from '../words.ts';

interface Data {
  readonly piece: string;
  readonly edge: string;
  readonly atMm: number;
  /** How far outside its edge the notch lies, or into the mouth. */
  readonly beyondMm: number;
  readonly sigmaMm: number;
}

interface NotchInSize extends ShapeInSize {
  readonly notch: Notch;
}

export const notchAdrift = defineRule<NotchInSize, Data>({
  id: 'notch-adrift',
  title: 'A notch lies on no edge',
  why: 'A notch is an appointment on a stitching line. One that lies beyond the end of its edge, or in the mouth of a dart that is folded away, can never be kept: its partner is matched to nothing.',
  source: NOTCH_ADRIFT.source,
  messages: {
    clear: (d) => `${d.piece}: a notch of the ${edgeWords(d.edge)} lies on it.`,
    beyond: (d, say) =>
      `${d.piece}: a notch of the ${edgeWords(d.edge)} lies ${say.uncertain(d.beyondMm, d.sigmaMm)} beyond its end.`,
    inMouth: (d, say) =>
      `${d.piece}: a notch on the ${edgeWords(d.edge)} lies ${say.uncertain(d.beyondMm, d.sigmaMm)} inside the mouth of a dart and vanishes when the dart is sewn.`,
    noEdge: (d) => `${d.piece}: a notch belongs to an edge "${d.edge}" that the piece does not have.`,
    tooCoarse: (d, say) =>
      `${d.piece}: a notch of the ${edgeWords(d.edge)} seems to lie ${say.uncertain(d.beyondMm, d.sigmaMm)} outside it, measured too coarsely to tell. Measure the piece again, nearer and with more cards.`,
    otherUse: (d) =>
      `${d.piece}: a notch on the ${edgeWords(d.edge)} marks an allowance or a hem, which lies outside the edge.`,
  },
  subjects: inShapes((entry) => entry.shape.notches.map((notch) => ({ ...entry, notch }))),
  judge: (subject, context) => [judgeNotch(subject, context)],
});

function judgeNotch({ piece, shape, size, notch }: NotchInSize, context: CheckContext): Outcome<Data> {
  const seam = seamEdge(shape, notch.edge);
  const sigmaMm = Math.SQRT2 * shape.accuracy.pointSigmaMm;
  const limitMm = NOTCH_ADRIFT.valueMm;
  const subjects = [{ piece: piece.id, edge: notch.edge, notch: notch.id, size }];
  const data: Data = { piece: piece.name, edge: notch.edge, atMm: notch.atMm, beyondMm: 0, sigmaMm };
  if (seam === undefined) {
    const remedies = [{ grade: 'choice', sentence: 'Choose the edge that this notch lies on.' }] as const;
    return { verdict: 'fault', gravity: 'mend', key: 'noEdge', data, subjects, remedies };
  }
  const edge = edgeName(seam.edge);
  const outsideMm = Math.max(-notch.atMm, notch.atMm - seam.lengthMm);
  const purpose = notchPurpose(shape, notch);
  const isOther = purpose === 'allowance' || purpose === 'hem-turn';
  const mouthMm = purpose === 'match' ? insideMouth({ piece, shape, size, notch }) : 0;
  const beyondMm = Math.max(outsideMm, mouthMm);
  const rest = {
    data: { ...data, edge, beyondMm },
    subjects,
    measured: { value: beyondMm, sigma: sigmaMm, unit: 'mm' },
    limit: { value: limitMm, unit: 'mm', source: NOTCH_ADRIFT.source },
  } as const;
  if (isOther) return { verdict: 'not-applicable', key: 'otherUse', ...rest };
  const decision = judgeInterval(beyondMm, sigmaMm, Number.NEGATIVE_INFINITY, limitMm);
  if (decision === 'clear') return { verdict: 'clear', key: 'clear', ...rest };
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
  const isBeyond = outsideMm >= mouthMm;
  return {
    verdict: 'fault',
    gravity: 'mend',
    key: isBeyond ? 'beyond' : 'inMouth',
    ...rest,
    overlay: placeOverlay(piece.id, seam, notch.atMm, 'notch'),
    remedies: [
      {
        grade: 'choice',
        sentence: `Move the notch ${context.say.length(beyondMm)} ${isBeyond ? 'back onto its edge, or give it to the edge beside it' : 'out of the mouth, or mark it as a notch of the dart'}.`,
      },
    ],
  };
}

/** How far inside a dart's mouth the notch lies; the middle of the mouth is its fold line and often marked. */
function insideMouth({ shape, notch }: NotchInSize): number {
  return closuresOn(shape, notch.edge).reduce((deepest, { kind, fromMm, toMm }) => {
    const isMiddle = Math.abs(notch.atMm - (fromMm + toMm) / 2) <= MIDDLE_MM;
    const depthMm = Math.min(notch.atMm - fromMm, toMm - notch.atMm);
    return kind === 'dart' && !isMiddle ? Math.max(deepest, depthMm) : deepest;
  }, 0);
}

/** A mark this near to the middle of the mouth stands for the fold line of the dart. */
const MIDDLE_MM = 2;
