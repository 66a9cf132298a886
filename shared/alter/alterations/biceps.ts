// The sleeve made wider or narrower across the biceps: both underarm points move apart, underarm seams keep their length, the
// cap is redrawn between them.
import type { Point } from '../../base/points.ts';
import { fail, ok, type Result } from '../../base/result.ts';
import { pointAtLength } from '../../geometry/arcLength.ts';
import { nearestOnPath } from '../../geometry/nearest.ts';
import { add, scale, sub, unit } from '../../geometry/vector.ts';
import type { Edge } from '../../pattern/model.ts';
import { type Alteration, allOf, nothingToAlter } from '../alteration.ts';
import { graspOn } from '../grasp.ts';
import { beside, type CornerMove, edgeOf, meeting, moveCorners, sewnMm } from '../kernel/corners.ts';
import { type End, otherEnd, outwardAt, pointAtEnd } from '../kernel/ends.ts';
import { edgesNamed, type Place, placesIn } from '../kernel/find.ts';
import { type Carry, type Change, fromEnd, fromStart, type Reshaped, reshape } from '../kernel/reshape.ts';
import { solveAll } from '../kernel/solve.ts';
import type { ChangedShape } from '../record.ts';
import { lengthWords } from '../words.ts';

export const biceps: Alteration = {
  id: 'biceps',
  title: 'Widen or narrow the sleeve at the biceps',
  sentence:
    'Moves both underarm points of the sleeve apart; the underarm seams keep their length, the cap becomes longer or shorter.',
  params: [
    {
      name: 'byMm',
      unit: 'mm',
      default: null,
      min: -60,
      max: 120,
      sentence: 'How much wider the sleeve becomes across the biceps, in all; negative narrows it.',
    },
    {
      name: 'hemMm',
      unit: 'mm',
      default: 0,
      min: -60,
      max: 120,
      sentence: 'How much wider the hem becomes, in all.',
    },
  ],
  describe: (values, set) =>
    `Sleeve widened by ${lengthWords(set, values.amount('byMm'))} at the biceps, ${lengthWords(set, values.amount('hemMm'))} at the hem.`,
  redraw: (set, values, scope) => {
    const changes = placesIn(set, scope, (kind) => kind === 'sleeve').flatMap((place) => {
      const changed = widened(place, values.amount('byMm'), values.amount('hemMm'));
      return changed === null ? [] : [changed];
    });
    return changes.length === 0
      ? nothingToAlter('sleeve in one piece with a cap and two underarm seams')
      : allOf(changes);
  },
  grasps: (set, _, scope) =>
    placesIn(set, scope, (kind) => kind === 'sleeve').flatMap((place) => {
      const found = underarmsOf(place);
      if (found === null) return [];
      const { a, b, apart } = found;
      // What widens the sleeve in all is shared by its two sides.
      const held = (param: string, { edge }: Underarm, end: End, way: 1 | -1) =>
        graspOn(place, {
          param,
          at: pointAtEnd(edge.curve, end),
          toward: scale(apart, way),
          travelRatio: 1 / 2,
        });
      return [
        held('byMm', a, a.end, -1),
        held('byMm', b, b.end, 1),
        held('hemMm', a, otherEnd(a.end), -1),
        held('hemMm', b, otherEnd(b.end), 1),
      ];
    }),
};

/** An underarm seam and the end of it that lies at the cap. */
interface Underarm {
  readonly edge: Edge;
  readonly end: End;
}

interface Underarms {
  readonly caps: readonly Edge[];
  readonly a: Underarm;
  readonly b: Underarm;
  /** Unit direction from the first underarm point to the second. */
  readonly apart: Point;
}

function underarmsOf(place: Place): Underarms | null {
  const caps = edgesNamed(place, (label) => label.startsWith('cap'));
  const underarms = edgesNamed(place, (label) => label.startsWith('underarm')).flatMap((edge): Underarm[] => {
    const met = caps.map((cap) => meeting(place.shape, edge.id, cap.id)).find((m) => m !== null);
    return met === undefined || met === null ? [] : [{ edge, end: met.endA }];
  });
  const [a, b] = underarms;
  if (a === undefined || b === undefined || caps.length === 0) return null;
  const at = ({ edge, end }: Underarm) => pointAtEnd(edge.curve, end);
  return { caps, a, b, apart: unit(sub(at(b), at(a))) };
}

function widened(place: Place, byMm: number, hemMm: number): Result<ChangedShape> | null {
  const found = underarmsOf(place);
  if (found === null) return null;
  const { caps, a, b, apart } = found;
  const lengths = [sewnMm(place.shape, a.edge.id), sewnMm(place.shape, b.edge.id)] as const;
  const build = (alongA: number, alongB: number): Reshaped => {
    const top = (u: Underarm, away: number, alongMm: number): CornerMove => ({
      edge: u.edge.id,
      end: u.end,
      byMm: add(scale(apart, (away * byMm) / 2), scale(outwardAt(u.edge.curve, u.end), alongMm)),
    });
    const hem = (u: Underarm, away: number): CornerMove[] =>
      hemMm === 0 ? [] : [{ edge: u.edge.id, end: otherEnd(u.end), byMm: scale(apart, (away * hemMm) / 2) }];
    return moveCorners(place.shape, [top(a, -1, alongA), top(b, 1, alongB), ...hem(a, -1), ...hem(b, 1)]);
  };
  const along = solveAll(
    ([x, y]) => {
      const { shape } = build(x!, y!);
      return [sewnMm(shape, a.edge.id) - lengths[0], sewnMm(shape, b.edge.id) - lengths[1]];
    },
    [0, 0],
  );
  if (along === null) return fail('no-room', 'The underarm seams cannot keep their length with so much; take less.');
  const moved = build(along[0]!, along[1]!);
  return ok({ piece: place.piece.id, size: place.size, ...withCapMarks(place, moved, caps) });
}

/** Marks low on the cap keep their distance from the underarm, the one nearest to its middle stays where it is. */
function withCapMarks(place: Place, moved: Reshaped, caps: readonly Edge[]): Reshaped {
  const changes = new Map<string, Change>(
    place.shape.ring
      .filter((edge) => edgeOf(moved.shape, edge.id).curve !== edge.curve)
      .map((edge) => [edge.id, { curve: edgeOf(moved.shape, edge.id).curve, carry: carryOn(place, edge, caps) }]),
  );
  return reshape(place.shape, changes, new Map(moved.shape.darts.map((dart) => [dart.id, dart])));
}

/** A mark within this part of a one-piece cap about its middle is the mark of the shoulder. */
const TOP_RATIO = 0.1;

function carryOn({ shape }: Place, edge: Edge, caps: readonly Edge[]): Carry {
  if (!caps.includes(edge)) return lowEndStays(shape, edge, caps);
  const startIsLow = !caps.includes(beside(shape, edge.id, 'start'));
  const endIsLow = !caps.includes(beside(shape, edge.id, 'end'));
  if (startIsLow !== endIsLow) return startIsLow ? fromStart : fromEnd;
  return (atMm, was, now) => {
    const middleMm = was.lengthMm / 2;
    if (Math.abs(atMm - middleMm) > TOP_RATIO * was.lengthMm)
      return (atMm < middleMm ? fromStart : fromEnd)(atMm, was, now);
    return nearestOnPath(now.path, pointAtLength(was.path, atMm).point).atMm;
  };
}

/** On an underarm seam the end at the cap moved; on a hem both did, and its marks keep their share of it. */
function lowEndStays(shape: Parameters<typeof beside>[0], edge: Edge, caps: readonly Edge[]): Carry {
  if (caps.includes(beside(shape, edge.id, 'start'))) return fromEnd;
  if (caps.includes(beside(shape, edge.id, 'end'))) return fromStart;
  return (atMm, was, now) => (was.lengthMm === 0 ? 0 : (atMm / was.lengthMm) * now.lengthMm);
}
