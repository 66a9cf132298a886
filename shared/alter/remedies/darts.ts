// Darts mended: both legs made equally long, and the edge across the mouth redrawn so that it is true when the dart is closed.
import type { Point } from '../../base/points.ts';
import { fail, ok, type Result } from '../../base/result.ts';
import { pathLengthMm } from '../../geometry/arcLength.ts';
import { endOf, endTangent, joinPaths, startOf, tangentAt } from '../../geometry/cubicPath.ts';
import { nearestOnPath } from '../../geometry/nearest.ts';
import { distance, scale, sub, turnDeg, unit } from '../../geometry/vector.ts';
import { dartOnSeam } from '../../pattern/darts.ts';
import type { Dart, Edge, Shape } from '../../pattern/model.ts';
import { type CutAtMouth, capFrom, capToward, cutAtMouth } from '../kernel/dartCap.ts';
import { moveEnds, turnEnd } from '../kernel/ends.ts';
import type { Place } from '../kernel/find.ts';
import { type Reshaped, reshape, splitAtPlace } from '../kernel/reshape.ts';
import { DART, everywhere, PIECE, type RemedyAction, SIZE } from '../remedy.ts';
import { dartWords } from '../words.ts';

export const equalDartLegs: RemedyAction = {
  id: 'dart-legs',
  grade: 'choice',
  title: 'Make the legs of a dart equally long',
  params: [PIECE, DART, SIZE],
  sentence: (values, set) =>
    `The legs of ${dartWords(set, values.name('piece'), values.name('dart'))} made equally long; the edge follows them.`,
  redraw: (set, values) => everywhere(set, values, (place) => equalised(place, values.name('dart'))),
};

export const redrawDartCap: RemedyAction = {
  id: 'dart-cap',
  grade: 'choice',
  title: 'Redraw the edge across a dart',
  params: [PIECE, DART, SIZE],
  sentence: (values, set) =>
    `The edge across ${dartWords(set, values.name('piece'), values.name('dart'))} redrawn: one line when the dart is closed.`,
  redraw: (set, values) => everywhere(set, values, (place) => capRedrawn(place, values.name('dart'))),
};

interface Found {
  readonly dart: Dart;
  readonly edge: Edge;
  readonly cut: CutAtMouth;
  readonly middleMm: number;
  /** True where the dart lists its legs against the edge. */
  readonly isTurned: boolean;
}

function find({ shape, piece }: Place, dartId: string): Result<Found> {
  const dart = shape.darts.find(({ id }) => id === dartId);
  const edge = shape.ring.find(({ id }) => id === dart?.edge);
  const on = dart === undefined ? null : dartOnSeam(shape, dart);
  if (dart === undefined || edge === undefined || on === null)
    return fail('no-dart', `"${piece.name}" has no dart "${dartId}".`);
  const [a, b] = dart.legs.map((leg) => nearestOnPath(edge.curve, leg).atMm) as [number, number];
  const cut = cutAtMouth(edge.curve, dart.apex, [Math.min(a, b), Math.max(a, b)]);
  return ok({ dart, edge, cut, middleMm: (on.atMm[0] + on.atMm[1]) / 2, isTurned: a > b });
}

/** Both legs brought to their mean length, each along its own line; the edge is led to their new ends. */
function equalised(place: Place, dartId: string): Result<Reshaped> {
  const found = find(place, dartId);
  if (!found.ok) return found;
  const { dart, cut } = found.value;
  const [first, second] = cut.mouth.legs.map((leg) => distance(dart.apex, leg)) as [number, number];
  const seam = dartOnSeam(place.shape, dart)!;
  const halfMm = (seam.legsMm[1] - seam.legsMm[0]) / 2;
  const along = (leg: Point, byMm: number, legMm: number): Point =>
    scale(unit(sub(leg, dart.apex)), legMm === 0 ? 0 : byMm);
  const byFirst = along(cut.mouth.legs[0], halfMm, first);
  const bySecond = along(cut.mouth.legs[1], -halfMm, second);
  const before = moveEnds(cut.before, [0, 0], byFirst);
  const after = moveEnds(cut.after, bySecond, [0, 0]);
  return ok(joinedAt(place.shape, found.value, before, after));
}

/** The kink that shows when the dart is closed taken out of both sides, and the mouth drawn as the fold needs it. */
function capRedrawn(place: Place, dartId: string): Result<Reshaped> {
  const found = find(place, dartId);
  if (!found.ok) return found;
  const { dart, cut } = found.value;
  if (pathLengthMm(cut.before) === 0 || pathLengthMm(cut.after) === 0)
    return fail('at-corner', `Dart "${dartId}" opens at a corner; there is no edge on one of its sides to be true to.`);
  const [a, b] = cut.mouth.legs;
  const closingDeg = turnDeg(sub(b, dart.apex), sub(a, dart.apex));
  const kinkDeg = turnDeg(endTangent(cut.before), tangentAt(cut.after, 0)) + closingDeg;
  const turn = { turnDeg: wrapped(kinkDeg) / 2, holdMm: 0 };
  const before = turnEnd(cut.before, 'end', turn);
  const after = turnEnd(cut.after, 'start', { ...turn, turnDeg: -turn.turnDeg });
  return ok(joinedAt(place.shape, found.value, before, after));
}

function wrapped(deg: number): number {
  return deg - 360 * Math.round(deg / 360);
}

function joinedAt(
  shape: Shape,
  { dart, edge, middleMm, isTurned }: Found,
  before: readonly Point[],
  after: readonly Point[],
): Reshaped {
  const legs: readonly [Point, Point] = [endOf(before), startOf(after)];
  const mouth = { apex: dart.apex, legs };
  const cap = dart.foldTo === 'end' ? capFrom(after, mouth) : capToward(before, mouth);
  const curve = joinPaths([before, cap, after]);
  const moved: Dart = { ...dart, legs: isTurned ? [legs[1], legs[0]] : legs };
  return reshape(shape, new Map([[edge.id, { curve, carry: splitAtPlace(middleMm) }]]), new Map([[dart.id, moved]]));
}
