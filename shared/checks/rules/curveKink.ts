// An edge between two corners is one smooth line; a turn in the middle of it is a slip of the pencil.
import type { Point } from '../../base/points.ts';
import { lengthToParameter, placeAtLength } from '../../geometry/arcLength.ts';
import { segmentCount } from '../../geometry/cubicPath.ts';
import { norm, sub, turnDeg } from '../../geometry/vector.ts';
import { CURVE_KINK } from '../../limits/pieceLimits.ts';
import { closuresOn } from '../../pattern/darts.ts';
import { normalLabel } from '../../pattern/kinds.ts';
import { pointSigmaOn } from '../../pattern/pointSigma.ts';
import { type SeamEdge, seamlineOf } from '../../pattern/seamline.ts';
import type { CheckContext, ShapeInSize } from '../context.ts';
import { readDirection, turnSigmaDeg } from '../parts/readDirection.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { EVERY_SHAPE } from '../subjects.ts';
import { judgeDifference } from '../verdict.ts';
import { edgeName, edgeWords } from '../words.ts';

interface Data {
  readonly piece: string;
  readonly edge: string;
  readonly atMm: number;
  readonly turnDeg: number;
  readonly sigmaDeg: number;
  readonly limitDeg: number;
}

interface Kink {
  readonly seam: SeamEdge;
  readonly atMm: number;
  readonly turnDeg: number;
  readonly sigmaDeg: number;
}

export const curveKink = defineRule<ShapeInSize, Data>({
  id: 'curve-kink',
  title: 'A line has a kink',
  why: 'Armhole, neckline, side and waist are drawn as one true curve, with neither point nor scoop. A kink on paper becomes a peak that no pressing flattens, and the seam sewn along it never lies smoothly on its partner.',
  source: CURVE_KINK.source,
  messages: {
    clear: (d) => `${d.piece}: its edges run smoothly from corner to corner.`,
    kinks: (d, say) =>
      `${d.piece}: the ${edgeWords(d.edge)} turns by ${say.uncertainAngle(d.turnDeg, d.sigmaDeg)} in one place, ${say.length(d.atMm)} from its start; a smooth line turns by less than ${say.angle(d.limitDeg)}.`,
    tooCoarse: (d, say) =>
      `${d.piece}: the ${edgeWords(d.edge)} seems to turn by ${say.uncertainAngle(d.turnDeg, d.sigmaDeg)} ${say.length(d.atMm)} from its start, too coarse to judge ${say.angle(d.limitDeg)}. Measure the piece again, nearer and with more cards.`,
    intended: (d, say) =>
      `${d.piece}: the ${edgeWords(d.edge)} turns by ${say.angle(d.turnDeg)} in one place, as a corner that is meant; split the edge there.`,
  },
  subjects: EVERY_SHAPE,
  judge: (subject, context) => judgeShape(subject, context),
});

function judgeShape(subject: ShapeInSize, context: CheckContext): Outcome<Data>[] {
  const { piece, shape, size } = subject;
  const { valueDeg: limitDeg, intendedDeg, source } = CURVE_KINK;
  const outcomes = seamlineOf(shape).edges.flatMap((seam): Outcome<Data>[] => {
    const worst = sharpestKink(subject, seam);
    if (worst === null) return [];
    const edge = edgeName(seam.edge);
    const rest = {
      data: { piece: piece.name, edge, atMm: worst.atMm, turnDeg: worst.turnDeg, sigmaDeg: worst.sigmaDeg, limitDeg },
      subjects: [{ piece: piece.id, edge: seam.edge.id, size }],
      measured: { value: worst.turnDeg, sigma: worst.sigmaDeg, unit: 'deg' },
      limit: { value: limitDeg, unit: 'deg', source },
    } as const;
    if (worst.turnDeg > intendedDeg) return [{ verdict: 'not-applicable', key: 'intended', ...rest }];
    const decision = judgeDifference(worst.turnDeg, worst.sigmaDeg, limitDeg);
    const isTrueCurve = TRUE_CURVES.includes(normalLabel(seam.edge.label));
    // What is worth a look at most is not worth measuring again.
    if (decision === 'clear' || (decision === 'unsure' && !isTrueCurve)) return [];
    if (decision === 'unsure') return [{ verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest }];
    const at: Point = placeAtLength(seam.path, worst.atMm);
    return [
      {
        verdict: 'fault',
        gravity: isTrueCurve ? 'mend' : 'look',
        key: 'kinks',
        ...rest,
        overlay: [{ kind: 'point', piece: piece.id, at, label: context.say.angle(worst.turnDeg) }],
        remedies: [
          {
            grade: 'choice',
            sentence: `Redraw the ${edgeWords(edge)} as one smooth line through this place, or split it there if the corner is meant.`,
          },
        ],
      },
    ];
  });
  if (outcomes.length > 0) return outcomes;
  const data = { piece: piece.name, edge: '', atMm: 0, turnDeg: 0, sigmaDeg: 0, limitDeg };
  return [{ verdict: 'clear', key: 'clear', data, subjects: [{ piece: piece.id, size }] }];
}

/** Edges that are one curve by their nature. A side seam may turn at the waist on purpose. */
const TRUE_CURVES: readonly string[] = ['armhole', 'neck', 'cap', 'cap front', 'cap back', 'rise'];

/** Directions are read over this length on both sides of a joint. */
const READ_MM = 12;
/** This near to a corner or to the mouth of a dart a turn belongs to it. */
const BESIDE_MM = 8;
/** A joint whose handles turn by less than this part of the limit is not worth the longer look. */
const WORTH_A_LOOK_RATIO = 1 / 2;

/** The sharpest joint of an edge away from its ends and its mouths; null when all joints are smooth. */
function sharpestKink({ shape }: ShapeInSize, seam: SeamEdge): Kink | null {
  const { path, lengthMm } = seam;
  let sharpest: Kink | null = null;
  for (let i = 1; i < segmentCount(path); i++) {
    if (handleTurn(path, i) < WORTH_A_LOOK_RATIO * CURVE_KINK.valueDeg) continue;
    const atMm = lengthToParameter(path, i);
    if (atMm < BESIDE_MM || lengthMm - atMm < BESIDE_MM) continue;
    const mouths = closuresOn(shape, seam.edge.id);
    if (turnsUpAt(shape, seam, atMm)) continue;
    if (mouths.some((m) => atMm > m.fromMm - BESIDE_MM && atMm < m.toMm + BESIDE_MM)) continue;
    const readMm = Math.min(READ_MM, atMm, lengthMm - atMm);
    const back = readDirection(path, atMm, -readMm);
    const turn = Math.abs(turnDeg([-back[0], -back[1]], readDirection(path, atMm, readMm)));
    if (sharpest !== null && sharpest.turnDeg >= turn) continue;
    const pointSigmaMm = pointSigmaOn(shape, seam.edge.id, atMm - readMm, atMm + readMm);
    sharpest = { seam, atMm, turnDeg: turn, sigmaDeg: turnSigmaDeg(pointSigmaMm, readMm) };
  }
  return sharpest;
}

/** Where a hem is turned up, its sides turn outward on purpose. */
function turnsUpAt(shape: ShapeInSize['shape'], seam: SeamEdge, atMm: number): boolean {
  return shape.notches.some(
    (n) => n.edge === seam.edge.id && n.purpose === 'hem-turn' && Math.abs(n.atMm - atMm) < BESIDE_MM,
  );
}

/** The turn between the handles at joint i, degrees; 180 where a handle has no length, so that the long look decides. */
function handleTurn(path: SeamEdge['path'], i: number): number {
  const joint = path[3 * i]!;
  const into = sub(joint, path[3 * i - 1]!);
  const out = sub(path[3 * i + 1]!, joint);
  return norm(into) === 0 || norm(out) === 0 ? STRAIGHT_BACK_DEG : Math.abs(turnDeg(into, out));
}

const STRAIGHT_BACK_DEG = 180;
