// With the dart sewn, the edge runs across it in one line. The shape that the cutting line has over the mouth follows from
// that: fold the dart, cut along the seam, and open it again.
import { turnDeg } from '../../geometry/vector.ts';
import { DART_CAP_UNDRAWN } from '../../limits/pieceLimits.ts';
import { closuresOn, dartOnSeam } from '../../pattern/darts.ts';
import { pointSigmaOn } from '../../pattern/pointSigma.ts';
import { seamEdge } from '../../pattern/seamline.ts';
import type { CheckContext } from '../context.ts';
import { readDirection, turnSigmaDeg } from '../parts/readDirection.ts';
import { judgeTurn } from '../parts/turnVerdict.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { type DartInSize, EVERY_DART } from '../subjects.ts';
import { edgeWords } from '../words.ts';

interface Data {
  readonly piece: string;
  readonly edge: string;
  readonly offDeg: number;
  readonly sigmaDeg: number;
  readonly limitDeg: number;
}

export const dartCap = defineRule<DartInSize, Data>({
  id: 'dart-cap',
  title: 'The edge kinks where a dart is closed',
  why: 'Fold the dart as it is sewn and look along the edge: it must run on as one line. A corner there shows as a step in the side seam or the waist, and the allowance over the mouth falls short when it is caught in the seam.',
  source:
    "Walk seams with darts closed (thedailysew.com, Feb 2018): with the dart closed the two parts make one line: geometry; the angle allowed is this program's own setting; a turn that is small is worth a look only",
  messages: {
    clear: (d, say) =>
      `${d.piece}: across the closed dart the ${edgeWords(d.edge)} runs on (${say.uncertainAngle(Math.abs(d.offDeg), d.sigmaDeg)} off).`,
    kinks: (d, say) =>
      `${d.piece}: with the dart closed the ${edgeWords(d.edge)} turns by ${say.uncertainAngle(Math.abs(d.offDeg), d.sigmaDeg)}; ${say.angle(d.limitDeg)} is allowed.`,
    tooCoarse: (d, say) =>
      `${d.piece}: with the dart closed the ${edgeWords(d.edge)} seems to turn by ${say.uncertainAngle(Math.abs(d.offDeg), d.sigmaDeg)}, too coarse to judge ${say.angle(d.limitDeg)}. Measure the piece again, nearer and with more cards.`,
    undrawn: (d, say) =>
      `${d.piece}: the ${edgeWords(d.edge)} is drawn straight past the dart, so how it runs with the dart closed (${say.angle(Math.abs(d.offDeg))} of turn) was not drawn; fold the dart and true it before cutting.`,
    noRoom: (d) =>
      `${d.piece}: beside the dart on the ${edgeWords(d.edge)} there is too little line left to tell how it runs.`,
  },
  subjects: EVERY_DART,
  judge: (subject, context) => judgeCap(subject, context),
});

/** The direction beside a leg is read over this length. */
const READ_MM = 20;
/** With less line than this between a leg and the next corner or mouth there is no direction to read. */
const LEAST_READ_MM = 8;

function judgeCap({ piece, shape, size, dart }: DartInSize, context: CheckContext): Outcome<Data>[] {
  const on = dartOnSeam(shape, dart);
  const seam = seamEdge(shape, dart.edge);
  // A dart on no edge is what `dart-legs` speaks of.
  if (on === null || seam === undefined) return [];
  const { joinedCorner } = context.limits;
  const others = closuresOn(shape, dart.edge);
  const before = Math.max(0, ...others.map((c) => c.toMm).filter((mm) => mm <= on.atMm[0]));
  const after = Math.min(seam.lengthMm, ...others.map((c) => c.fromMm).filter((mm) => mm >= on.atMm[1]));
  const readMm = Math.min(READ_MM, on.atMm[0] - before, after - on.atMm[1]);
  const subjects = [{ piece: piece.id, edge: dart.edge, dart: dart.id, size }];
  const edge = seam.edge.label;
  if (readMm < LEAST_READ_MM) {
    const data = { piece: piece.name, edge, offDeg: 0, sigmaDeg: 0, limitDeg: joinedCorner.valueDeg };
    return [{ verdict: 'not-applicable', key: 'noRoom', data, subjects }];
  }
  const arriving = readDirection(seam.path, on.atMm[0], -readMm);
  const leaving = readDirection(seam.path, on.atMm[1], readMm);
  const openTurnDeg = turnDeg([-arriving[0], -arriving[1]], leaving);
  const closingDeg = turnDeg(
    [on.points[1][0] - dart.apex[0], on.points[1][1] - dart.apex[1]],
    [on.points[0][0] - dart.apex[0], on.points[0][1] - dart.apex[1]],
  );
  const offDeg = within180(openTurnDeg + closingDeg);
  const sigmaDeg = turnSigmaDeg(pointSigmaOn(shape, dart.edge, on.atMm[0] - readMm, on.atMm[1] + readMm), readMm);
  const { decision, gravity, limit } = judgeTurn(offDeg, sigmaDeg, joinedCorner);
  const { valueDeg: limitDeg, source } = limit;
  const rest = {
    data: { piece: piece.name, edge, offDeg, sigmaDeg, limitDeg },
    subjects,
    measured: { value: Math.abs(offDeg), sigma: sigmaDeg, unit: 'deg' },
    limit: { value: limitDeg, unit: 'deg', source },
  } as const;
  if (decision === 'clear') return [{ verdict: 'clear', key: 'clear', ...rest }];
  if (Math.abs(openTurnDeg) <= DART_CAP_UNDRAWN.valueDeg) {
    return [{ verdict: 'not-applicable', key: 'undrawn', ...rest }];
  }
  if (decision === 'unsure') return [{ verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest }];
  return [
    {
      verdict: 'fault',
      gravity,
      key: 'kinks',
      ...rest,
      overlay: on.points.map((at) => ({
        kind: 'point',
        piece: piece.id,
        at,
        label: context.say.angle(Math.abs(offDeg)),
      })),
      remedies: [
        {
          grade: 'choice',
          sentence: `Fold the dart as it is pressed, redraw the ${edgeWords(edge)} across it as one line, cut along it and open the dart again.`,
        },
      ],
    },
  ];
}

function within180(deg: number): number {
  return deg > 180 ? deg - 360 : deg <= -180 ? deg + 360 : deg;
}
