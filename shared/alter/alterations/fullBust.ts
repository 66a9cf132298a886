// Full or small bust: the front is cut from the dart's point to the armhole, from the point through the dart, and from the
// point down to the waist. The upper side swings about the armhole, the lower side follows it, and the centre is lengthened
// so that the waist stays level: width and length over the bust and a larger dart, armhole and side seam as long as before.
import type { Point } from '../../base/points.ts';
import { fail, ok, type Result } from '../../base/result.ts';
import { pathLengthMm } from '../../geometry/arcLength.ts';
import { type CubicPath, endOf, joinPaths, reversePath, startOf, transformPath } from '../../geometry/cubicPath.ts';
import { nearestOnPath } from '../../geometry/nearest.ts';
import { type Affine, apply } from '../../geometry/transform.ts';
import { add, dot, scale, sub, unit } from '../../geometry/vector.ts';
import { dartOnSeam } from '../../pattern/darts.ts';
import { bodySide, isBodice } from '../../pattern/kinds.ts';
import type { Dart, Edge, Shape } from '../../pattern/model.ts';
import { insetMm } from '../../pattern/seamline.ts';
import { type Alteration, allOf, nothingToAlter } from '../alteration.ts';
import { LITTLE_MM, settingOut } from '../grasp.ts';
import { bendPath } from '../kernel/bend.ts';
import { displacePath } from '../kernel/blend.ts';
import { blendedEnds, chordOf, meeting } from '../kernel/corners.ts';
import { capFrom, capToward, cutAtMouth } from '../kernel/dartCap.ts';
import { type End, otherEnd, outwardAt, pointAtEnd, slideEnd, withEnd } from '../kernel/ends.ts';
import { centreEdge, edgeNamed, handOf, outwardOf, type Place, placesIn } from '../kernel/find.ts';
import { type Change, fromEnd, fromStart, mouthsOn, type Reshaped, reshape, splitAtPlace } from '../kernel/reshape.ts';
import { solveFor } from '../kernel/solve.ts';
import type { ChangedShape } from '../record.ts';
import { lengthWords } from '../words.ts';

export const fullBust: Alteration = {
  id: 'bust',
  title: 'Full or small bust',
  sentence:
    'Adds width and length over the bust and enlarges the side dart (or the reverse); armhole and side seam keep their sewn length.',
  params: [
    {
      name: 'byMm',
      unit: 'mm',
      default: null,
      min: -30,
      max: 60,
      sentence: 'Width added at the bust on each half of the front; negative for a small bust.',
    },
  ],
  describe: (values, set) =>
    `Front ${values.amount('byMm') < 0 ? 'narrowed' : 'widened'} by ${lengthWords(set, Math.abs(values.amount('byMm')))} over each bust.`,
  redraw: (set, values, scope) => {
    const places = placesIn(set, scope, isBodice).filter(({ piece }) => bodySide(piece) === 'front');
    const changes = places.flatMap((place) => {
      const changed = adjusted(place, values.amount('byMm'));
      return changed === null ? [] : [changed];
    });
    return changes.length === 0
      ? nothingToAlter('front bodice with centre, armhole, waist and a bust dart in its side seam')
      : allOf(changes);
  },
  grasps: (set, _, scope) =>
    placesIn(set, scope, isBodice)
      .filter(({ piece }) => bodySide(piece) === 'front')
      .flatMap((place) => {
        const dart = frontOf(place)?.dart;
        const little = adjusted(place, LITTLE_MM);
        const after = little?.ok ? little.value.shape.darts.find(({ id }) => id === dart?.id) : undefined;
        return dart === undefined || after === undefined ? [] : [settingOut(place, 'byMm', dart.apex, after.apex)];
      }),
};

/** The armhole is cut this far up from the underarm, near its front notch. */
const HINGE_RATIO = 1 / 3;
/** The turn at the armhole is spread over this much to each side. */
const HINGE_REACH_MM = 25;
/** A bust dart turned further than this is another pattern. */
const MOST_TURN_DEG = 45;

interface Front {
  readonly shape: Shape;
  readonly armhole: Edge;
  readonly side: Edge;
  readonly waist: Edge;
  readonly centre: Edge;
  readonly dart: Dart;
  /** The end of the side seam at the underarm. */
  readonly top: End;
}

function adjusted(place: Place, byMm: number): Result<ChangedShape> | null {
  const front = frontOf(place);
  if (front === null) return null;
  const { shape, centre, side, dart } = front;
  const waistEnd = meeting(shape, centre.id, front.waist.id)?.endA;
  if (waistEnd === undefined) return null;
  const down = waistEnd === 'end' ? unit(chordOf(centre)) : scale(unit(chordOf(centre)), -1);
  const across = squareTo(down, outwardOf(shape, side));
  const swing = (turnDeg: number) => swungArmhole(front, turnDeg);
  const widthAt = (turnDeg: number) => dot(sub(apply(swing(turnDeg).map, dart.apex), dart.apex), across);
  const turnDeg = solveFor(widthAt, byMm, { guess: Math.sign(byMm), farthest: MOST_TURN_DEG });
  if (turnDeg === null) return fail('no-room', 'The bust dart lies too near to the armhole for so much; take less.');
  const swung = swing(turnDeg);
  const shift = sub(apply(swung.map, dart.apex), dart.apex);
  const intakeDeg = dartOnSeam(shape, dart)?.intakeDeg ?? 0;
  if (byMm < 0 && Math.abs(turnDeg) >= intakeDeg)
    return fail(
      'dart-gone',
      `The dart takes in ${intakeDeg.toFixed(1)}°, less than this would take out of it; take less.`,
    );
  return ok({ piece: place.piece.id, size: place.size, ...redrawn(front, swung, shift, down, waistEnd) });
}

function frontOf(place: Place): Front | null {
  const [armhole, side, waist] = ['armhole', 'side', 'waist'].map((label) => edgeNamed(place, label));
  const centre = centreEdge(place);
  if (!armhole || !side || !waist || centre === null) return null;
  const dart = place.shape.darts.find((candidate) => candidate.edge === side.id);
  const met = meeting(place.shape, side.id, armhole.id);
  if (dart === undefined || met === null || meeting(place.shape, side.id, waist.id) === null) return null;
  return { shape: place.shape, armhole, side, waist, centre, dart, top: met.endA };
}

function squareTo(down: Point, outward: Point): Point {
  return unit(sub(outward, scale(down, dot(outward, down))));
}

interface Swung {
  /** In the direction of the ring. */
  readonly curve: CubicPath;
  /** Carries the upper side part to its new place. */
  readonly map: Affine;
}

/** The armhole bent at its hinge, walked from the shoulder so that the shoulder stays. */
function swungArmhole({ shape, armhole, top }: Front, turnDeg: number): Swung {
  const forward = top === 'start';
  const path = forward ? armhole.curve : reversePath(armhole.curve);
  const totalMm = pathLengthMm(path);
  const keptMm = -insetMm(shape, armhole) * handOf(shape) * (forward ? 1 : -1);
  const hinge = { atMm: totalMm * (1 - HINGE_RATIO), turnDeg, reachMm: HINGE_REACH_MM };
  const bent = bendPath(path, [hinge], keptMm);
  return { curve: forward ? bent.path : reversePath(bent.path), map: bent.mapAt(totalMm) };
}

function redrawn(front: Front, swung: Swung, shift: Point, down: Point, waistEnd: End): Reshaped {
  const { shape, armhole, side, waist, centre, dart, top } = front;
  const lowerBy: Point = scale(down, dot(shift, down));
  const sideChange = splitSide(front, swung.map, shift);
  const centreCurve = slideEnd(centre.curve, waistEnd, -dot(lowerBy, outwardAt(centre.curve, waistEnd)));
  const met = meeting(shape, waist.id, side.id)!;
  const waistChange =
    met.endA === 'end'
      ? blendedEnds(shape, waist, lowerBy, shift, fromEnd)
      : blendedEnds(shape, waist, shift, lowerBy, fromStart);
  const waistCorner = add(pointAtEnd(waist.curve, met.endA), shift);
  const centreCorner = pointAtEnd(centreCurve, waistEnd);
  const led = withEnd(waistChange.curve, met.endA, waistCorner);
  const waistCurve = withEnd(led, otherEnd(met.endA), centreCorner);
  const changes = new Map<string, Change>([
    [armhole.id, { curve: swung.curve, carry: top === 'start' ? fromStart : fromEnd }],
    [side.id, sideChange.change],
    [waist.id, { ...waistChange, curve: waistCurve }],
    [centre.id, { curve: centreCurve, carry: waistEnd === 'end' ? fromStart : fromEnd }],
  ]);
  const darts = new Map<string, Dart>([[dart.id, sideChange.dart]]);
  for (const other of shape.darts.filter((candidate) => candidate.edge === waist.id)) {
    const [mouth] = mouthsOn({ ...shape, darts: [other] }, waist.id);
    const move = mouth === undefined ? lowerBy : waistChange.moveAt!((mouth.fromMm + mouth.toMm) / 2);
    const legs = [add(other.legs[0], move), add(other.legs[1], move)] as const;
    darts.set(other.id, { ...other, legs, apex: add(other.apex, move) });
  }
  return reshape(shape, changes, darts);
}

/** The side in two rigid parts with the enlarged mouth between them, the intake pressed down. */
function splitSide(
  { shape, side, dart, top }: Front,
  map: Affine,
  shift: Point,
): { readonly change: Change; readonly dart: Dart } {
  const places = dart.legs.map((leg) => nearestOnPath(side.curve, leg).atMm).sort((a, b) => a - b);
  const cut = cutAtMouth(side.curve, dart.apex, [places[0]!, places[1]!]);
  const shifted = (path: CubicPath) =>
    displacePath(path, { how: 'linear', stations: [{ atRatio: 0, moveMm: shift }] }).path;
  const before = top === 'start' ? transformPath(map, cut.before) : shifted(cut.before);
  const after = top === 'start' ? shifted(cut.after) : transformPath(map, cut.after);
  const apex = add(dart.apex, shift);
  const legs = [endOf(before), startOf(after)] as const;
  const cap = top === 'start' ? capFrom(after, { apex, legs }) : capToward(before, { apex, legs });
  const on = dartOnSeam(shape, dart);
  const middleMm = on === null ? 0 : (on.atMm[0] + on.atMm[1]) / 2;
  return {
    change: { curve: joinPaths([before, cap, after]), carry: splitAtPlace(middleMm) },
    dart: { ...dart, apex, legs },
  };
}
