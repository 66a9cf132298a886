// The shoulder seam moved toward the front or the back: one piece loses a strip at neck and armhole, the other gains as much,
// so that neck and armhole keep their length in all. The marks that meet the seam must follow it.
import type { Point } from '../../base/points.ts';
import { fail, ok, type Result } from '../../base/result.ts';
import { polylinePath } from '../../geometry/cubicPath.ts';
import { add, scale, sub, unit } from '../../geometry/vector.ts';
import { bodySide, isBodice } from '../../pattern/kinds.ts';
import type { Edge, Shape } from '../../pattern/model.ts';
import { type Alteration, nothingToAlter } from '../alteration.ts';
import { endGrasp } from '../grasp.ts';
import { blendedEnds, meeting, sewnMm } from '../kernel/corners.ts';
import { type End, otherEnd, pointAtEnd, slideEnd, withEnd } from '../kernel/ends.ts';
import { edgeNamed, type Place, placesIn } from '../kernel/find.ts';
import { fromEnd, fromStart, type Reshaped, reshape } from '../kernel/reshape.ts';
import { solveAll } from '../kernel/solve.ts';
import type { ChangedShape } from '../record.ts';
import { lengthWords } from '../words.ts';

export const shoulderForward: Alteration = {
  id: 'shoulder-forward',
  title: 'Move the shoulder seam forward or back',
  sentence:
    'Takes a strip off the front at the shoulder and adds it to the back; neck and armhole keep their length in all.',
  params: [
    {
      name: 'byMm',
      unit: 'mm',
      default: null,
      min: -30,
      max: 30,
      sentence: 'How far the seam moves toward the front, at neck and armhole; negative moves it back.',
    },
  ],
  describe: (values, set) =>
    `Shoulder seam moved ${values.amount('byMm') < 0 ? 'back' : 'forward'} by ${lengthWords(set, Math.abs(values.amount('byMm')))}.`,
  redraw: (set, values, scope) => {
    const places = placesIn(set, scope, isBodice).flatMap((place) => {
      const parts = partsOf(place);
      return parts === null ? [] : [parts];
    });
    const fronts = places.filter(({ place }) => bodySide(place.piece) === 'front');
    const backs = places.filter(({ place }) => bodySide(place.piece) === 'back');
    const changes: ChangedShape[] = [];
    for (const front of fronts) {
      const back = backs.find(({ place }) => place.size === front.place.size);
      if (back === undefined) continue;
      const moved = movedSeam(front, back, values.amount('byMm'));
      if (!moved.ok) return moved;
      changes.push(...moved.value);
    }
    return changes.length === 0 ? nothingToAlter('front and back with neck, shoulder and armhole') : ok(changes);
  },
  // The armhole of the front becomes shorter by the amount, that of the back longer.
  grasps: (set, _, scope) =>
    placesIn(set, scope, isBodice).flatMap((place) => {
      const parts = partsOf(place);
      const side = bodySide(place.piece);
      if (parts === null || side === null) return [];
      return endGrasp(place, 'byMm', parts.armhole, parts.armholeEnd, side === 'front' ? 1 : -1);
    }),
};

interface Parts {
  readonly place: Place;
  readonly neck: Edge;
  readonly shoulder: Edge;
  readonly armhole: Edge;
  /** The ends of neck and armhole that lie at the shoulder, and of the shoulder that lies at the neck. */
  readonly neckEnd: End;
  readonly armholeEnd: End;
  readonly shoulderNeckEnd: End;
}

function partsOf(place: Place): Parts | null {
  const [neck, shoulder, armhole] = ['neck', 'shoulder', 'armhole'].map((label) => edgeNamed(place, label));
  if (!neck || !shoulder || !armhole) return null;
  const atNeck = meeting(place.shape, shoulder.id, neck.id);
  const atArmhole = meeting(place.shape, shoulder.id, armhole.id);
  if (atNeck === null || atArmhole === null) return null;
  return {
    place,
    neck,
    shoulder,
    armhole,
    neckEnd: atNeck.endB,
    armholeEnd: atArmhole.endB,
    shoulderNeckEnd: atNeck.endA,
  };
}

function movedSeam(front: Parts, back: Parts, byMm: number): Result<readonly ChangedShape[]> {
  const easeMm = lengthsOf(back.place.shape, back).shoulder - lengthsOf(front.place.shape, front).shoulder;
  const [giver, taker] = byMm >= 0 ? [front, back] : [back, front];
  const given = cutBack(giver, Math.abs(byMm));
  if (given === null) return tooMuch();
  const wantedMm = lengthsOf(given.shape, giver).shoulder + (byMm >= 0 ? easeMm : -easeMm);
  const taken = builtOut(taker, Math.abs(byMm), wantedMm);
  if (taken === null) return tooMuch();
  const change = (parts: Parts, reshaped: Reshaped): ChangedShape => ({
    piece: parts.place.piece.id,
    size: parts.place.size,
    ...reshaped,
  });
  return ok([change(giver, given), change(taker, taken)]);
}

function tooMuch(): Result<never> {
  return fail('no-room', 'The shoulder seam cannot be moved that far; take less.');
}

/** The piece that gives: neck and armhole shortened, the shoulder drawn straight between their new ends. */
function cutBack(parts: Parts, byMm: number): Reshaped | null {
  const was = lengthsOf(parts.place.shape, parts);
  const build = (neckMm: number, armholeMm: number) =>
    withShoulder(
      parts,
      slideEnd(parts.neck.curve, parts.neckEnd, neckMm),
      slideEnd(parts.armhole.curve, parts.armholeEnd, armholeMm),
    );
  const found = solveAll(
    ([x, y]) => {
      const now = lengthsOf(build(x!, y!).shape, parts);
      return [now.neck - was.neck + byMm, now.armhole - was.armhole + byMm];
    },
    [byMm, byMm],
  );
  return found === null ? null : build(found[0]!, found[1]!);
}

/** The piece that takes: neck and armhole continued, and the shoulder point set so that the shoulder has the wanted length. */
function builtOut(parts: Parts, byMm: number, shoulderMm: number): Reshaped | null {
  const was = lengthsOf(parts.place.shape, parts);
  const neckPoint = pointAtEnd(parts.shoulder.curve, parts.shoulderNeckEnd);
  const tip = pointAtEnd(parts.shoulder.curve, otherEnd(parts.shoulderNeckEnd));
  const out = unit(sub(tip, neckPoint));
  const build = (neckMm: number, armholeMm: number, outMm: number) => {
    const armhole = slideEnd(parts.armhole.curve, parts.armholeEnd, -armholeMm);
    const move: Point = scale(out, outMm);
    const edge: Edge = { ...parts.armhole, curve: armhole };
    const led =
      parts.armholeEnd === 'start'
        ? blendedEnds(parts.place.shape, edge, move, [0, 0], fromEnd)
        : blendedEnds(parts.place.shape, edge, [0, 0], move, fromStart);
    const end = add(pointAtEnd(armhole, parts.armholeEnd), move);
    return withShoulder(
      parts,
      slideEnd(parts.neck.curve, parts.neckEnd, -neckMm),
      withEnd(led.curve, parts.armholeEnd, end),
    );
  };
  const found = solveAll(
    ([x, y, z]) => {
      const now = lengthsOf(build(x!, y!, z!).shape, parts);
      return [now.neck - was.neck - byMm, now.armhole - was.armhole - byMm, now.shoulder - shoulderMm];
    },
    [byMm, byMm, 0],
  );
  return found === null ? null : build(found[0]!, found[1]!, found[2]!);
}

function withShoulder(parts: Parts, neck: readonly Point[], armhole: readonly Point[]): Reshaped {
  const atNeck = pointAtEnd(neck, parts.neckEnd);
  const atArmhole = pointAtEnd(armhole, parts.armholeEnd);
  const shoulder = polylinePath(parts.shoulderNeckEnd === 'start' ? [atNeck, atArmhole] : [atArmhole, atNeck]);
  return reshape(
    parts.place.shape,
    new Map([
      [parts.neck.id, { curve: neck, carry: parts.neckEnd === 'end' ? fromStart : fromEnd }],
      [parts.armhole.id, { curve: armhole, carry: parts.armholeEnd === 'end' ? fromStart : fromEnd }],
      [parts.shoulder.id, { curve: shoulder, carry: parts.shoulderNeckEnd === 'start' ? fromStart : fromEnd }],
    ]),
  );
}

function lengthsOf(
  shape: Shape,
  { neck, shoulder, armhole }: Parts,
): { readonly neck: number; readonly shoulder: number; readonly armhole: number } {
  return { neck: sewnMm(shape, neck.id), shoulder: sewnMm(shape, shoulder.id), armhole: sewnMm(shape, armhole.id) };
}
