// Where an edge meets the fold it stands square, or the opened piece has a point or a dip in its middle.
import { INTENDED_CORNER } from '../../limits/tolerances.ts';
import { type Corner, cornersOf } from '../../pattern/corners.ts';
import type { CheckContext, ShapeInSize } from '../context.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { inShapes } from '../subjects.ts';
import { judgeDifference } from '../verdict.ts';
import { edgeWords } from '../words.ts';

interface Data {
  readonly piece: string;
  readonly edge: string;
  readonly angleDeg: number;
  readonly sigmaDeg: number;
  readonly limitDeg: number;
}

interface FoldCorner extends ShapeInSize {
  readonly corner: Corner;
}

const RIGHT_ANGLE_DEG = 90;

export const foldCorner = defineRule<FoldCorner, Data>({
  id: 'fold-corner',
  title: 'A corner at the fold is not square',
  why: 'When the piece is opened, the edge at the fold meets its own mirror image. Anything but a right angle becomes a point or a dip in the middle of the neck, waist or hem.',
  source: "Square at any fold edge: common practice, no source; the angle allowed is this program's own setting",
  messages: {
    clear: (d, say) => `${d.piece}: the ${d.edge} meets the fold at ${say.uncertainAngle(d.angleDeg, d.sigmaDeg)}.`,
    untrue: (d, say) =>
      `${d.piece}: the ${d.edge} meets the fold at ${say.uncertainAngle(d.angleDeg, d.sigmaDeg)} instead of 90°; ${say.angle(d.limitDeg)} is allowed. Opened, it has a ${d.angleDeg > RIGHT_ANGLE_DEG ? 'dip' : 'point'} in the middle.`,
    tooCoarse: (d, say) =>
      `${d.piece}: the ${d.edge} meets the fold at ${say.uncertainAngle(d.angleDeg, d.sigmaDeg)}, too coarse to judge ${say.angle(d.limitDeg)}. Measure this corner again, nearer and with more cards.`,
    intended: (d, say) =>
      `${d.piece}: the ${d.edge} meets the fold at ${say.angle(d.angleDeg)}, as a V neck or a point does on purpose.`,
  },
  subjects: inShapes((entry) =>
    cornersOf(entry.shape)
      .filter(({ before, after }) => (before.edge.role === 'fold') !== (after.edge.role === 'fold'))
      .map((corner) => ({ ...entry, corner })),
  ),
  judge: (subject, context) => [judgeCorner(subject, context)],
});

function judgeCorner({ piece, size, corner }: FoldCorner, context: CheckContext): Outcome<Data> {
  const { valueDeg: limitDeg, source } = context.limits.foldCorner;
  const edge = corner.before.edge.role === 'fold' ? corner.after.edge : corner.before.edge;
  const offDeg = corner.insideDeg - RIGHT_ANGLE_DEG;
  const rest = {
    data: {
      piece: piece.name,
      edge: edgeWords(edge.label),
      angleDeg: corner.insideDeg,
      sigmaDeg: corner.sigmaDeg,
      limitDeg,
    } satisfies Data,
    subjects: [{ piece: piece.id, edge: edge.id, size }],
    measured: { value: offDeg, sigma: corner.sigmaDeg, unit: 'deg' },
    limit: { value: limitDeg, unit: 'deg', source },
  } as const;
  if (Math.abs(offDeg) > INTENDED_CORNER.valueDeg) return { verdict: 'not-applicable', key: 'intended', ...rest };
  const decision = judgeDifference(offDeg, corner.sigmaDeg, limitDeg);
  if (decision === 'clear') return { verdict: 'clear', key: 'clear', ...rest };
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
  return {
    verdict: 'fault',
    gravity: 'mend',
    key: 'untrue',
    ...rest,
    overlay: [{ kind: 'point', piece: piece.id, at: corner.at, label: context.say.angle(corner.insideDeg) }],
    remedies: [
      { grade: 'choice', sentence: `Redraw the last 20 to 30 mm of the ${rest.data.edge} square to the fold.` },
    ],
  };
}
