// A grainline runs along the fold, along a straight centre line or front edge, or square to a straight hem that both sides
// meet alike, or to the line under both arms of a sleeve; on the cross grain it stands square to that, on the bias at 45 degrees.
import type { Point } from '../../base/points.ts';
import { angleDeg, distance, leftNormal, sub } from '../../geometry/vector.ts';
import { GRAIN_OFF, GRAIN_REFERENCE } from '../../limits/pieceLimits.ts';
import { cornersOf } from '../../pattern/corners.ts';
import { isBodice, isSleeve, isTrouser, normalLabel } from '../../pattern/kinds.ts';
import type { Edge, Piece, Shape } from '../../pattern/model.ts';
import { pointSigmaAt } from '../../pattern/pointSigma.ts';
import { type SeamEdge, seamlineOf } from '../../pattern/seamline.ts';
import type { CheckContext, ShapeInSize } from '../context.ts';
import { straysMm } from '../parts/straightness.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { shapesThat } from '../subjects.ts';
import { judgeDifference } from '../verdict.ts';

interface Data {
  readonly piece: string;
  readonly reference: string;
  readonly intent: Piece['grainIntent'];
  /** Between grainline and reference, 0 to 90. */
  readonly angleDeg: number;
  readonly offDeg: number;
  readonly sigmaDeg: number;
  readonly limitDeg: number;
}

/** Where the grainline should lie to the line it is compared with. */
const WANTED_DEG = { straight: 0, cross: 90, bias: 45 } as const;

export const grainOff = defineRule<ShapeInSize, Data>({
  id: 'grain-off',
  title: 'The grainline does not lie as it should',
  why: 'The grainline is laid parallel to the selvage, and everything else follows from it. An arrow that is 5 mm off in 300 swings a skirt 10 mm off its balance over its length: the cloth hangs to one side and no pressing brings it back.',
  source: `Parallel to the centre, square to it on the cross grain, 45° on the bias (NIMI, CITS Dress Making TT, 2024, p. 17); the angle allowed is this program's own setting`,
  messages: {
    clear: (d, say) =>
      `${d.piece}: the grainline lies at ${say.angle(d.angleDeg)} to the ${d.reference}, ${say.uncertainAngle(Math.abs(d.offDeg), d.sigmaDeg)} from where it should.`,
    off: (d, say) =>
      `${d.piece}: the grainline lies at ${say.angle(d.angleDeg)} to the ${d.reference} instead of ${WANTED_DEG[d.intent]}°, ${say.uncertainAngle(Math.abs(d.offDeg), d.sigmaDeg)} off; ${say.angle(d.limitDeg)} is allowed.`,
    tooCoarse: (d, say) =>
      `${d.piece}: the grainline seems ${say.uncertainAngle(Math.abs(d.offDeg), d.sigmaDeg)} off the ${d.reference}, too coarse to judge ${say.angle(d.limitDeg)}. Draw it longer, or measure the piece again with more cards.`,
    otherWay: (d, say) =>
      `${d.piece}: the grainline lies at ${say.angle(d.angleDeg)} to the ${d.reference}, but the piece is entered as cut on the ${INTENT_WORDS[d.intent]}. Say which is meant.`,
    leans: (d, say) =>
      `${d.piece}: the ${d.reference} leans ${say.angle(Math.abs(d.offDeg))} from the grain, as the seam of a gore does on purpose.`,
    noReference: (d) =>
      `${d.piece}: there is no fold, no straight centre line or front edge and no even hem to compare the grainline with.`,
  },
  subjects: shapesThat(({ shape }) => shape.grainline !== null),
  judge: (subject, context) => [judgeGrain(subject, context)],
});

const INTENT_WORDS = { straight: 'straight grain', cross: 'cross grain', bias: 'bias' } as const;

function judgeGrain({ piece, shape, size }: ShapeInSize, context: CheckContext): Outcome<Data> {
  const grain = shape.grainline!;
  const { valueDeg: limitDeg, source } = GRAIN_OFF[context.set.preset.tolerance];
  const subjects = [{ piece: piece.id, size }];
  const reference = referenceOf({ piece, shape, size });
  const intent = piece.grainIntent;
  if (reference === null) {
    const data = { piece: piece.name, reference: '', intent, angleDeg: 0, offDeg: 0, sigmaDeg: 0, limitDeg };
    return { verdict: 'not-applicable', key: 'noReference', data, subjects };
  }
  const { line, edge, isAcross } = reference;
  const along = sub(line[1], line[0]);
  const betweenDeg = betweenLines(sub(grain.to, grain.from), isAcross ? leftNormal(along) : along);
  const offDeg = betweenDeg - WANTED_DEG[intent];
  const sigmaDeg = Math.hypot(
    directionSigmaDeg(shape.accuracy.pointSigmaMm, distance(grain.from, grain.to)),
    directionSigmaDeg(reference.sigmaMm, distance(...line)),
  );
  const isFold = edge.role === 'fold';
  const rest = {
    data: {
      piece: piece.name,
      reference: isFold ? 'fold' : reference.name,
      intent,
      angleDeg: betweenDeg,
      offDeg,
      sigmaDeg,
      limitDeg,
    } satisfies Data,
    subjects,
    measured: { value: offDeg, sigma: sigmaDeg, unit: 'deg' },
    limit: { value: limitDeg, unit: 'deg', source },
  } as const;
  const decision = judgeDifference(offDeg, sigmaDeg, limitDeg);
  if (decision === 'clear') return { verdict: 'clear', key: 'clear', ...rest };
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
  const otherWay = Object.values(WANTED_DEG).some(
    (deg) => deg !== WANTED_DEG[intent] && judgeDifference(betweenDeg - deg, sigmaDeg, limitDeg) === 'clear',
  );
  if (otherWay) return { verdict: 'unsure', reason: 'not-said', key: 'otherWay', ...rest };
  if (!isFold && Math.abs(offDeg) > GRAIN_REFERENCE.leansFromDeg)
    return { verdict: 'not-applicable', key: 'leans', ...rest };
  return {
    verdict: 'fault',
    // A centre seam may have been shaped in one straight slant; a fold cannot.
    gravity: isFold ? 'mend' : 'look',
    key: 'off',
    ...rest,
    overlay: [
      { kind: 'segment', piece: piece.id, from: grain.from, to: grain.to, label: context.say.angle(betweenDeg) },
      { kind: 'edge', piece: piece.id, edge: edge.id },
    ],
    remedies: [
      {
        grade: 'choice',
        sentence: `Turn the grainline by ${context.say.angle(Math.abs(offDeg))}, so that it measures the same distance from the ${rest.data.reference} at both ends.`,
      },
    ],
  };
}

interface Reference {
  readonly line: readonly [Point, Point];
  /** Of the less sure of its two ends. */
  readonly sigmaMm: number;
  /** Where it is shown. */
  readonly edge: Edge;
  readonly name: string;
  /** The grain stands square to it. */
  readonly isAcross: boolean;
}

/**
 * The fold, else a straight centre line or front edge that is long enough to have a direction, else a line that the piece
 * stands evenly on, as a leg or a sleeve tapers alike on both sides of its grain: a straight hem, or from under one arm to
 * under the other.
 */
function referenceOf({ piece, shape }: ShapeInSize): Reference | null {
  const { edges } = seamlineOf(shape);
  const fitting = edges.filter(
    (edge) => edge.lengthMm >= GRAIN_REFERENCE.leastMm && straysMm(edge.path) <= GRAIN_REFERENCE.straightWithinMm,
  );
  const along =
    fitting.find(({ edge }) => edge.role === 'fold') ??
    fitting.find(({ edge }) => CENTRES.includes(normalLabel(edge.label))) ??
    (hasFrontEdge(piece) ? fitting.find(({ edge }) => FRONT_EDGES.includes(normalLabel(edge.label))) : undefined);
  if (along !== undefined) return { ...lineOf(shape, along), name: along.edge.label, isAcross: false };
  if (!isTrouser(piece.kind) && !isSleeve(piece.kind)) return null;
  const hem = fitting.find((seam) => normalLabel(seam.edge.label) === 'hem' && standsEvenly(shape, seam));
  if (hem !== undefined) return { ...lineOf(shape, hem), name: 'line square to the hem', isAcross: true };
  return piece.kind === 'sleeve' ? underArms(shape, edges) : null;
}

function lineOf(shape: Shape, { edge, path, lengthMm }: SeamEdge): Pick<Reference, 'line' | 'sigmaMm' | 'edge'> {
  const sigmaMm = Math.max(...[0, lengthMm].map((mm) => pointSigmaAt(shape, edge.id, mm)));
  return { line: [path[0]!, path.at(-1)!], sigmaMm, edge };
}

/** What closes down its front, and its facing. */
function hasFrontEdge({ kind }: Piece): boolean {
  return isBodice(kind) || kind === 'facing';
}

function standsEvenly(shape: Shape, { index }: SeamEdge): boolean {
  const corners = cornersOf(shape);
  const [start, end] = [corners.at(index - 1)!, corners[index]!];
  return Math.abs(start.insideDeg - end.insideDeg) <= GRAIN_REFERENCE.evenWithinDeg;
}

/** From the end of one underarm seam to that of the other, where both are of one length and lean to that line alike. */
function underArms(shape: Shape, edges: readonly SeamEdge[]): Reference | null {
  const [first, second, more] = edges.filter(({ edge }) => normalLabel(edge.label).startsWith('underarm'));
  if (first === undefined || second === undefined || more !== undefined) return null;
  if (Math.abs(first.lengthMm - second.lengthMm) > GRAIN_REFERENCE.evenWithinMm) return null;
  // Clockwise, the one after the cap goes down to the hem and the other comes up from it.
  const [down, up] =
    (first.index + edges.length - second.index) % edges.length <
    (second.index + edges.length - first.index) % edges.length
      ? [second, first]
      : [first, second];
  const line = [up.path.at(-1)!, down.path[0]!] as const;
  const across = sub(line[1], line[0]);
  const leanDeg = (a: Point, b: Point) => betweenLines(sub(b, a), across);
  if (
    Math.abs(leanDeg(up.path.at(-1)!, up.path[0]!) - leanDeg(down.path[0]!, down.path.at(-1)!)) >
    GRAIN_REFERENCE.evenWithinDeg
  )
    return null;
  const sigmaMm = Math.max(pointSigmaAt(shape, up.edge.id, up.lengthMm), pointSigmaAt(shape, down.edge.id, 0));
  return { line, sigmaMm, edge: down.edge, name: 'line square to the one under the arms', isAcross: true };
}

const CENTRES: readonly string[] = ['centre front', 'centre back'];
const FRONT_EDGES: readonly string[] = ['front', 'front edge'];

/** The smaller angle between two lines, 0 to 90. */
function betweenLines(a: Point, b: Point): number {
  const turn = Math.abs(angleDeg(a) - angleDeg(b)) % 180;
  return Math.min(turn, 180 - turn);
}

/** How surely a line between two marked points gives a direction. */
function directionSigmaDeg(pointSigmaMm: number, lengthMm: number): number {
  return lengthMm === 0 ? 90 : (Math.atan2(Math.SQRT2 * pointSigmaMm, lengthMm) * 180) / Math.PI;
}
