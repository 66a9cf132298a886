// A dart ends inside its piece, crosses no other dart, and a bust dart ends a little before the bust point and aims at it.
import type { Point } from '../../base/points.ts';
import { flattenRing } from '../../geometry/flatten.ts';
import { distanceToSegment, pointInPolygon } from '../../geometry/polygon.ts';
import { cross, distance, dot, lerp, sub, unit } from '../../geometry/vector.ts';
import { BUST_DART } from '../../limits/pieceLimits.ts';
import { dartOnSeam } from '../../pattern/darts.ts';
import { isBodice } from '../../pattern/kinds.ts';
import type { Dart, OtherMark, Shape } from '../../pattern/model.ts';
import type { CheckContext } from '../context.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { type DartInSize, EVERY_DART } from '../subjects.ts';
import { judgeInterval } from '../verdict.ts';
import { edgeWords } from '../words.ts';

interface Data {
  readonly piece: string;
  readonly edge: string;
  /** From the end of the dart to the bust point along the dart; negative when the dart runs past it. */
  readonly beforeMm: number;
  readonly asideMm: number;
  readonly sigmaMm: number;
}

const { leastMm, asideMm: mostAsideMm, source: BUST_SOURCE } = BUST_DART;

export const dartPoint = defineRule<DartInSize, Data>({
  id: 'dart-point',
  title: 'A dart ends in the wrong place',
  why: 'A dart takes cloth away toward a rounding of the body and must run out before it: past the bust point it makes a dent where the figure is fullest, and one that aims beside it pulls the front askew.',
  source: BUST_SOURCE,
  messages: {
    inside: (d) => `${d.piece}: the dart on the ${edgeWords(d.edge)} ends inside the piece.`,
    before: (d, say) =>
      `${d.piece}: the dart on the ${edgeWords(d.edge)} ends ${say.uncertain(d.beforeMm, d.sigmaMm)} before the bust point and aims at it.`,
    outside: (d) => `${d.piece}: the dart on the ${edgeWords(d.edge)} ends outside the piece.`,
    crosses: (d) => `${d.piece}: the dart on the ${edgeWords(d.edge)} crosses another dart.`,
    past: (d, say) =>
      `${d.piece}: the dart on the ${edgeWords(d.edge)} runs ${say.uncertain(-d.beforeMm, d.sigmaMm)} past the bust point.`,
    near: (d, say) =>
      `${d.piece}: the dart on the ${edgeWords(d.edge)} ends only ${say.uncertain(d.beforeMm, d.sigmaMm)} before the bust point; ${say.length(leastMm)} or more is usual.`,
    aside: (d, say) =>
      `${d.piece}: the dart on the ${edgeWords(d.edge)} aims ${say.uncertain(d.asideMm, d.sigmaMm)} beside the bust point; ${say.length(mostAsideMm)} is usual at most.`,
    tooCoarse: (d, say) =>
      `${d.piece}: the dart on the ${edgeWords(d.edge)} ends ${say.uncertain(d.beforeMm, d.sigmaMm)} before the bust point, measured too coarsely to tell. Measure the piece again, nearer and with more cards.`,
  },
  subjects: EVERY_DART,
  judge: (subject, context) => [judgePoint(subject, context)],
});

/** Coarse is enough to tell inside from outside. */
const OUTLINE_CHORD_MM = 1;

function judgePoint({ piece, shape, size, dart }: DartInSize, context: CheckContext): Outcome<Data> {
  const edge = shape.ring.find(({ id }) => id === dart.edge)?.label ?? '';
  const sigmaMm = Math.SQRT2 * shape.accuracy.pointSigmaMm;
  const about = {
    data: { piece: piece.name, edge, beforeMm: 0, asideMm: 0, sigmaMm } satisfies Data,
    subjects: [{ piece: piece.id, edge: dart.edge, dart: dart.id, size }],
  };
  const overlay = [{ kind: 'point', piece: piece.id, at: dart.apex, label: 'end of the dart' }] as const;
  const redraw = { grade: 'choice', sentence: 'Move the end of the dart and redraw both legs.' } as const;
  const outline = flattenRing(
    shape.ring.map(({ curve }) => curve),
    OUTLINE_CHORD_MM,
  );
  if (!pointInPolygon(dart.apex, outline) && awayMm(dart.apex, outline) > 2 * sigmaMm) {
    return { verdict: 'fault', gravity: 'look', key: 'outside', ...about, overlay, remedies: [redraw] };
  }
  if (shape.darts.some((other) => other !== dart && crossesDart(dart, other))) {
    return { verdict: 'fault', gravity: 'mend', key: 'crosses', ...about, overlay, remedies: [redraw] };
  }
  const bust = isBodice(piece.kind) ? bustPoint(shape) : null;
  if (bust === null) return { verdict: 'clear', key: 'inside', ...about };
  const aim = aimOf(shape, dart);
  const toward = sub(bust, dart.apex);
  const beforeMm = dot(toward, aim);
  const asideMm = Math.abs(cross(toward, aim));
  const data: Data = { ...about.data, beforeMm, asideMm };
  const said = {
    subjects: about.subjects,
    data,
    measured: { value: beforeMm, sigma: sigmaMm, unit: 'mm' },
    limit: { value: leastMm, unit: 'mm', source: BUST_SOURCE },
  } as const;
  const drawn = [
    { kind: 'segment', piece: piece.id, from: dart.apex, to: bust, label: context.say.length(beforeMm) },
  ] as const;
  const { say } = context;
  const shorten = {
    grade: 'choice',
    sentence: `Shorten the dart so that it ends ${say.length(leastMm)} to ${say.length(5 * leastMm)} before the bust point.`,
  } as const;
  if (judgeInterval(beforeMm, sigmaMm, 0, Number.POSITIVE_INFINITY) === 'fault')
    return { verdict: 'fault', gravity: 'mend', key: 'past', ...said, overlay: drawn, remedies: [shorten] };
  if (judgeInterval(asideMm, sigmaMm, 0, mostAsideMm) === 'fault') {
    const measured = { value: asideMm, sigma: sigmaMm, unit: 'mm' } as const;
    const limit = { value: mostAsideMm, unit: 'mm', source: BUST_SOURCE } as const;
    const turn = { grade: 'choice', sentence: 'Move the end of the dart onto the line to the bust point.' } as const;
    return {
      verdict: 'fault',
      gravity: 'look',
      key: 'aside',
      ...said,
      measured,
      limit,
      overlay: drawn,
      remedies: [turn],
    };
  }
  const decision = judgeInterval(beforeMm, sigmaMm, leastMm, Number.POSITIVE_INFINITY);
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...said };
  if (decision === 'fault')
    return { verdict: 'fault', gravity: 'look', key: 'near', ...said, overlay: drawn, remedies: [shorten] };
  return { verdict: 'clear', key: 'before', ...said };
}

/** The unit vector from the middle of the mouth toward the end of the dart. */
function aimOf(shape: Shape, dart: Dart): Point {
  const [a, b] = dartOnSeam(shape, dart)?.points ?? dart.legs;
  return unit(sub(dart.apex, lerp(a, b, 1 / 2)));
}

/** A point that somebody called the bust point; a plain drill hole near a dart is not one. */
function bustPoint(shape: Shape): Point | null {
  const mark = shape.marks.find((m): m is Extract<OtherMark, { at: Point }> => 'at' in m && /bust/i.test(m.id));
  return mark?.at ?? null;
}

function crossesDart(a: Dart, b: Dart): boolean {
  return a.legs.some((p) => b.legs.some((q) => crossesSegment([p, a.apex], [q, b.apex])));
}

function crossesSegment([a, b]: readonly [Point, Point], [c, d]: readonly [Point, Point]): boolean {
  const sides = (from: Point, to: Point, p: Point, q: Point) =>
    cross(sub(to, from), sub(p, from)) * cross(sub(to, from), sub(q, from)) < 0;
  return sides(a, b, c, d) && sides(c, d, a, b);
}

function awayMm(point: Point, outline: readonly Point[]): number {
  return outline.reduce(
    (least, a, i) => Math.min(least, distanceToSegment(point, a, outline[(i + 1) % outline.length]!)),
    distance(point, outline[0]!),
  );
}
