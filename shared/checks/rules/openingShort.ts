// A skirt or trousers with a fitted waist goes on over the hip only when its opening reaches down far enough.
import { WAIST_OPENING } from '../../limits/setLimits.ts';
import { isCentreName, isSkirt, isTrouser, normalLabel } from '../../pattern/kinds.ts';
import { pointSigmaAt } from '../../pattern/pointSigma.ts';
import { neighbours, type SeamEdge, seamlineOf } from '../../pattern/seamline.ts';
import type { CheckContext, ShapeInSize } from '../context.ts';
import { childSign } from '../parts/childSet.ts';
import { placeOverlay } from '../parts/placeOverlay.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { inShapes } from '../subjects.ts';
import { judgeInterval } from '../verdict.ts';

interface Data {
  readonly piece: string;
  readonly edge: string;
  readonly openMm: number;
  readonly sigmaMm: number;
  readonly limitMm: number;
}

interface Opening extends ShapeInSize {
  readonly seam: SeamEdge;
  /** From the waist down. */
  readonly openMm: number;
  /** Where it ends, along the edge. */
  readonly stopMm: number;
  /** Where it begins, along the edge. */
  readonly waistMm: number;
}

const { valueMm: LIMIT_MM, mendBelowMm, source: SOURCE } = WAIST_OPENING;

export const openingShort = defineRule<Opening, Data>({
  id: 'opening-short',
  title: 'An opening is too short to get through',
  why: 'A fitted waist is narrower than the hip that has to pass it. The zip or placket opens it as far down as the hip begins; one that stops short tears at its end the third time the garment is put on.',
  source: SOURCE,
  messages: {
    clear: (d, say) =>
      `${d.piece}: the opening reaches ${say.uncertain(d.openMm, d.sigmaMm)} down from the waist along the ${d.edge}.`,
    short: (d, say) =>
      `${d.piece}: the opening reaches only ${say.uncertain(d.openMm, d.sigmaMm)} down from the waist along the ${d.edge}; ${say.length(d.limitMm)} or more lets a hip through.`,
    tooCoarse: (d, say) =>
      `${d.piece}: the opening reaches ${say.uncertain(d.openMm, d.sigmaMm)} down from the waist along the ${d.edge}, too coarse to judge ${say.length(d.limitMm)}. Measure the piece again, nearer and with more cards.`,
    child: (d) => `${d.piece}: how far down an opening must reach on a child is not judged here.`,
    stretches: (d) => `${d.piece}: the cloth stretches, so the opening along the ${d.edge} need not reach the hip.`,
  },
  subjects: inShapes(openingsOf),
  judge: (subject, context) => [judgeOpening(subject, context)],
});

function judgeOpening(
  { piece, shape, size, seam, openMm, stopMm, waistMm }: Opening,
  context: CheckContext,
): Outcome<Data> {
  const sigmaMm = Math.hypot(...[waistMm, stopMm].map((mm) => pointSigmaAt(shape, seam.edge.id, mm)));
  const rest = {
    data: { piece: piece.name, edge: seam.edge.label, openMm, sigmaMm, limitMm: LIMIT_MM },
    subjects: [{ piece: piece.id, edge: seam.edge.id, size }],
    measured: { value: openMm, sigma: sigmaMm, unit: 'mm' },
    limit: { value: LIMIT_MM, unit: 'mm', source: SOURCE },
  } as const;
  if (context.set.preset.cloth === 'knit') return { verdict: 'not-applicable', key: 'stretches', ...rest };
  if (context.once(childSign, null) !== null) return { verdict: 'not-applicable', key: 'child', ...rest };
  const decision = judgeInterval(openMm, sigmaMm, LIMIT_MM, Number.POSITIVE_INFINITY);
  if (decision === 'clear') return { verdict: 'clear', key: 'clear', ...rest };
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
  return {
    verdict: 'fault',
    gravity: openMm < mendBelowMm ? 'mend' : 'look',
    key: 'short',
    ...rest,
    overlay: placeOverlay(piece.id, seam, stopMm, 'end of the opening'),
    remedies: [
      {
        grade: 'choice',
        sentence: `Move the end of the opening ${context.say.length(LIMIT_MM - openMm)} down, and choose a zip of that length.`,
      },
    ],
  };
}

/** Openings that begin at the waist: marked by where they stop, or a whole edge that is left open. */
function openingsOf(entry: ShapeInSize): Opening[] {
  const { piece, shape } = entry;
  if (!isSkirt(piece.kind) && !isTrouser(piece.kind)) return [];
  return seamlineOf(shape).edges.flatMap((seam): Opening[] => {
    if (!isCentreName(seam.edge.label) && normalLabel(seam.edge.label) !== 'side') return [];
    const { before, after } = neighbours(shape, seam.index);
    const atStart = normalLabel(before.edge.label) === 'waist';
    if (!atStart && normalLabel(after.edge.label) !== 'waist') return [];
    const stops = shape.notches.filter((n) => n.edge === seam.edge.id && n.purpose === 'opening-stop');
    const fromWaist = (atMm: number) => (atStart ? atMm : seam.lengthMm - atMm);
    const deepest = stops.map(({ atMm }) => atMm).toSorted((a, b) => fromWaist(b) - fromWaist(a))[0];
    const waistMm = atStart ? 0 : seam.lengthMm;
    if (deepest !== undefined) return [{ ...entry, seam, openMm: fromWaist(deepest), stopMm: deepest, waistMm }];
    if (seam.edge.role !== 'opening') return [];
    return [{ ...entry, seam, openMm: seam.lengthMm, stopMm: seam.lengthMm - waistMm, waistMm }];
  });
}
