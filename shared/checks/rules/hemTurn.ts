// A hem allowance folds up onto the garment, so its raw edge is as wide as the garment is there: a hem that tapers needs an
// allowance that flares.
import type { Point } from '../../base/points.ts';
import { pathLengthMm, placeAtLength } from '../../geometry/arcLength.ts';
import { pointAt } from '../../geometry/cubicPath.ts';
import { flattenRing } from '../../geometry/flatten.ts';
import { intersectLine } from '../../geometry/intersect.ts';
import { isClockwise } from '../../geometry/polygon.ts';
import { add, dot, leftNormal, scale, sub, unit } from '../../geometry/vector.ts';
import { HEM_TURN } from '../../limits/pieceLimits.ts';
import { INTENDED_CORNER } from '../../limits/tolerances.ts';
import type { Edge, Shape } from '../../pattern/model.ts';
import { notchPurpose } from '../../pattern/notchPurpose.ts';
import { pointSigmaOn } from '../../pattern/pointSigma.ts';
import { seamEdge } from '../../pattern/seamline.ts';
import type { CheckContext, ShapeInSize } from '../context.ts';
import { readDirection } from '../parts/readDirection.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { inShapes } from '../subjects.ts';
import { judgeInterval } from '../verdict.ts';
import { edgeName } from '../words.ts';

interface Data {
  readonly piece: string;
  readonly hem: string;
  readonly allowanceMm: number;
  /** How much narrower the raw edge is than the garment that it is turned up onto. */
  readonly shortMm: number;
  readonly sigmaMm: number;
  readonly limitMm: number;
}

interface Hem extends ShapeInSize {
  readonly edge: Edge;
  readonly index: number;
}

export const hemTurn = defineRule<Hem, Data>({
  id: 'hem-turn',
  title: 'The hem allowance does not fit where it is turned up',
  why: 'Turned up, the raw edge of a hem lies on the garment as far above the hem as the allowance is deep. Where a sleeve or a leg narrows toward the hem, an allowance drawn straight on is narrower still: turned up it is too short and gathers the garment. It must mirror the sides, so that it flares.',
  source: HEM_TURN.source,
  messages: {
    clear: (d, say) =>
      `${d.piece}: turned up by ${say.length(d.allowanceMm)}, the ${d.hem} edge lies on the garment (${say.uncertain(Math.abs(d.shortMm), d.sigmaMm)} ${d.shortMm > 0 ? 'narrower' : 'wider'}).`,
    short: (d, say) =>
      `${d.piece}: turned up by ${say.length(d.allowanceMm)}, the ${d.hem} edge is ${say.uncertain(d.shortMm, d.sigmaMm)} narrower than the garment it lies on; ${say.length(d.limitMm)} is allowed.`,
    tooCoarse: (d, say) =>
      `${d.piece}: turned up by ${say.length(d.allowanceMm)}, the ${d.hem} edge seems ${say.uncertain(d.shortMm, d.sigmaMm)} narrower than the garment, too coarse to judge ${say.length(d.limitMm)}. Measure the piece again, nearer and with more cards.`,
    notDrawn: (d) => `${d.piece}: the ${d.hem} edge was traced without its allowance, so there is nothing to turn up.`,
    noSides: (d) =>
      `${d.piece}: beside the ${d.hem} edge there is too little of the piece to turn its allowance up onto.`,
  },
  subjects: inShapes((entry) =>
    entry.shape.ring.flatMap((edge, index) => (edge.role === 'hem' ? [{ ...entry, edge, index }] : [])),
  ),
  judge: (subject, context) => [judgeHem(subject, context)],
});

function judgeHem({ piece, shape, size, edge, index }: Hem, context: CheckContext): Outcome<Data> {
  const { valueMm: limitMm, source } = HEM_TURN;
  const corners = [hemCorner(shape, edge, index, 'start'), hemCorner(shape, edge, index, 'end')] as const;
  const allowanceMm = drawnAllowance(shape, edge, corners);
  const hem = edgeName(edge);
  const sigmaMm = 2 * leastSure(shape, edge, corners, allowanceMm ?? 0);
  const data: Data = { piece: piece.name, hem, allowanceMm: allowanceMm ?? 0, shortMm: 0, sigmaMm, limitMm };
  const subjects = [{ piece: piece.id, edge: edge.id, size }];
  if (allowanceMm === null) return { verdict: 'not-applicable', key: 'notDrawn', data, subjects };
  const ends = corners.map((corner) => turnedEnd(corner, 2 * allowanceMm));
  if (ends.some((end) => end === null)) return { verdict: 'not-applicable', key: 'noSides', data, subjects };
  const shortMm = ends.reduce((sum, end) => sum + (end?.shortMm ?? 0), 0);
  const rest = {
    data: { ...data, shortMm },
    subjects,
    measured: { value: shortMm, sigma: sigmaMm, unit: 'mm' },
    limit: { value: limitMm, unit: 'mm', source },
  } as const;
  // A raw edge that is wider can be shrunk or pleated away; one that is narrower cannot be made longer.
  const decision = judgeInterval(shortMm, sigmaMm, Number.NEGATIVE_INFINITY, limitMm);
  if (decision === 'clear') return { verdict: 'clear', key: 'clear', ...rest };
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
  return {
    verdict: 'fault',
    gravity: 'mend',
    key: 'short',
    ...rest,
    overlay: [
      { kind: 'edge', piece: piece.id, edge: edge.id },
      ...ends.flatMap((end) => (end === null ? [] : [{ kind: 'point', piece: piece.id, at: end.above } as const])),
    ],
    remedies: [
      {
        grade: 'choice',
        sentence: `Fold the paper up along the hem, trace the sides through onto the allowance and cut it so; it grows by ${context.say.length(shortMm)}.`,
      },
    ],
  };
}

const OUTLINE_CHORD_MM = 1;
/** The direction of the hem at its end is read over this part of it at most. */
const READ_RATIO = 0.25;
const READ_MM = 20;

/** Point sigma of what is read: the ends of the hem, and the sides up to where the hem is turned. */
function leastSure(shape: Shape, hem: Edge, corners: readonly [HemCorner, HemCorner], allowanceMm: number): number {
  const readMm = Math.max(READ_MM, 2 * allowanceMm);
  const [before, after] = [corners[0].side, corners[1].side];
  const lengthOf = ({ id }: Edge): number => seamEdge(shape, id)!.lengthMm;
  return Math.max(
    pointSigmaOn(shape, hem.id, 0, READ_MM),
    pointSigmaOn(shape, hem.id, lengthOf(hem) - READ_MM, lengthOf(hem)),
    pointSigmaOn(shape, before.id, lengthOf(before) - readMm, lengthOf(before)),
    pointSigmaOn(shape, after.id, 0, readMm),
  );
}

/** One end of the raw edge, and how the piece lies from there. */
interface HemCorner {
  readonly at: Point;
  /** The edge beside the hem. */
  readonly side: Edge;
  /** Unit vectors from the corner along the raw edge, and square to it up into the piece. */
  readonly intoHem: Point;
  readonly up: Point;
}

function hemCorner({ ring }: Shape, hem: Edge, index: number, which: 'start' | 'end'): HemCorner {
  const lengthMm = pathLengthMm(hem.curve);
  const readMm = Math.min(READ_MM, READ_RATIO * lengthMm);
  const isStart = which === 'start';
  const intoHem = unit(isStart ? readDirection(hem.curve, 0, readMm) : readDirection(hem.curve, lengthMm, -readMm));
  const outline = flattenRing(
    ring.map(({ curve }) => curve),
    OUTLINE_CHORD_MM,
  );
  // The inside lies to the right of a ring that runs clockwise.
  const inward = isClockwise(outline) === isStart ? -1 : 1;
  return {
    at: isStart ? hem.curve[0]! : hem.curve.at(-1)!,
    side: isStart ? ring.at(index - 1)! : ring[(index + 1) % ring.length]!,
    intoHem,
    up: scale(leftNormal(intoHem), inward),
  };
}

/**
 * The depth of hem allowance that lies inside the traced outline: that of a cutting line, or where the whole paper was
 * traced as the seamline, what the marks at the turn of the hem show. Null when there is none.
 */
function drawnAllowance(shape: Shape, hem: Edge, corners: readonly HemCorner[]): number | null {
  if (shape.tracedLine === 'cutting') return hem.allowanceMm > 0 && !hem.allowanceAssumed ? hem.allowanceMm : null;
  const depths = shape.notches.flatMap((notch) => {
    const corner = corners.find(({ side }) => side.id === notch.edge);
    const seam = seamEdge(shape, notch.edge);
    if (corner === undefined || seam === undefined || notchPurpose(shape, notch) !== 'hem-turn') return [];
    return [dot(sub(placeAtLength(seam.path, notch.atMm), corner.at), corner.up)];
  });
  const deepest = Math.max(0, ...depths);
  return deepest > 0 ? deepest : null;
}

interface HemEnd {
  readonly shortMm: number;
  /** The place on the piece onto which the corner of the raw edge is turned. */
  readonly above: Point;
}

/**
 * How far the corner of the raw edge stays behind the side it is turned up onto. A fold is its own mirror and never does; a
 * corner far from square, as at a shirt tail or a point, is hemmed otherwise.
 */
function turnedEnd({ at, side, intoHem, up }: HemCorner, depthMm: number): HemEnd | null {
  if (side.role === 'fold') return { shortMm: 0, above: at };
  const level = add(at, scale(up, depthMm));
  const behindMm = (p: Point) => dot(sub(level, p), intoHem);
  const hits = intersectLine(level, add(level, intoHem), side.curve).map((t) => pointAt(side.curve, t));
  const above = hits.toSorted((a, b) => Math.abs(behindMm(a)) - Math.abs(behindMm(b)))[0];
  if (above === undefined) return null;
  const leanDeg = (Math.atan2(Math.abs(behindMm(above)), depthMm) * 180) / Math.PI;
  return { shortMm: leanDeg > INTENDED_CORNER.valueDeg ? 0 : behindMm(above), above };
}
