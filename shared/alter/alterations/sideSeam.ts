// The side seam let out or taken in: the side moves out of the piece as one line, armhole and waist are led to its new ends.
import type { Point } from '../../base/points.ts';
import { ok, type Result } from '../../base/result.ts';
import { endOf, startOf } from '../../geometry/cubicPath.ts';
import { add, scale } from '../../geometry/vector.ts';
import { isBodice, isSkirt, isTrouser } from '../../pattern/kinds.ts';
import type { Edge, PatternSet, PieceKind } from '../../pattern/model.ts';
import { type Alteration, allOf, nothingToAlter } from '../alteration.ts';
import { graspOn } from '../grasp.ts';
import { beside, blendedEnds, ledTo } from '../kernel/corners.ts';
import { type End, otherEnd, pointAtEnd, withEnd } from '../kernel/ends.ts';
import { edgeNamed, outwardOf, type Place, placesIn, type Scope } from '../kernel/find.ts';
import { fromNearerEnd, reshape } from '../kernel/reshape.ts';
import type { ChangedShape } from '../record.ts';
import { lengthWords } from '../words.ts';

export const sideSeam: Alteration = {
  id: 'side-seam',
  title: 'Let out or take in the side seam',
  sentence:
    'Moves the side edge of front and back out or in; armhole and waist are continued to it. The round changes by four times as much.',
  params: [
    {
      name: 'byMm',
      unit: 'mm',
      default: null,
      min: -60,
      max: 60,
      sentence: 'How far each side edge moves out, at its upper end; negative takes it in.',
    },
    {
      name: 'lowerMm',
      unit: 'mm',
      default: null,
      like: 'byMm',
      min: -60,
      max: 60,
      sentence: 'How far it moves out at its lower end; as far as at the upper end when not said.',
    },
  ],
  describe: (values, set) =>
    `Side edges moved out by ${lengthWords(set, values.amount('byMm'))} above, ${lengthWords(set, values.amount('lowerMm'))} below.`,
  redraw: (set, values, scope) => {
    const [upper, lower] = [values.amount('byMm'), values.amount('lowerMm')];
    const changes = bodyPlaces(set, scope).flatMap((place) => {
      const changed = moved(place, upper, lower);
      return changed === null ? [] : [changed];
    });
    return changes.length === 0 ? nothingToAlter('bodice, skirt or trouser piece with a side seam') : allOf(changes);
  },
  grasps: (set, _, scope) =>
    bodyPlaces(set, scope).flatMap((place) => {
      const side = edgeNamed(place, 'side');
      if (side === null) return [];
      const toward = outwardOf(place.shape, side);
      const upper = upperEnd(place, side);
      return [
        graspOn(place, { param: 'byMm', at: pointAtEnd(side.curve, upper), toward }),
        graspOn(place, { param: 'lowerMm', at: pointAtEnd(side.curve, otherEnd(upper)), toward }),
      ];
    }),
};

/** The bodice when nothing else is asked for: its waist tells the skirt to follow. Without a bodice the skirt or trousers. */
function bodyPlaces(set: PatternSet, scope: Scope): readonly Place[] {
  const withSide = (test: (kind: PieceKind) => boolean) =>
    placesIn(set, scope, test).filter((place) => edgeNamed(place, 'side') !== null);
  if (scope.pieces !== null) return withSide((kind) => isBodice(kind) || isSkirt(kind) || isTrouser(kind));
  const bodice = withSide(isBodice);
  return bodice.length > 0 ? bodice : withSide((kind) => isSkirt(kind) || isTrouser(kind));
}

function moved(place: Place, upperMm: number, lowerEndMm: number): Result<ChangedShape> | null {
  const side = edgeNamed(place, 'side');
  if (side === null) return null;
  const { shape } = place;
  const outward = outwardOf(shape, side);
  const [startMm, endMm] = upperEnd(place, side) === 'start' ? [upperMm, lowerEndMm] : [lowerEndMm, upperMm];
  const start = add(startOf(side.curve), scale(outward, startMm));
  const end = add(endOf(side.curve), scale(outward, endMm));
  const before = beside(shape, side.id, 'start');
  const after = beside(shape, side.id, 'end');
  const change = blendedEnds(shape, side, scale(outward, startMm), scale(outward, endMm), fromNearerEnd);
  return ok({
    piece: place.piece.id,
    size: place.size,
    ...reshape(
      shape,
      new Map([
        [side.id, { ...change, curve: withEnd(withEnd(change.curve, 'start', start), 'end', end) }],
        [before.id, exactly(ledTo(before, 'end', start), 'end', start)],
        [after.id, exactly(ledTo(after, 'start', end), 'start', end)],
      ]),
    ),
  });
}

function exactly<T extends { readonly curve: readonly Point[] }>(change: T, end: 'start' | 'end', point: Point): T {
  return { ...change, curve: withEnd(change.curve, end, point) };
}

/** A bodice side hangs from the armhole, a skirt's from the waist. */
function upperEnd({ shape, labels }: Place, side: Edge): End {
  const order = ['shoulder', 'armhole', 'waist', 'hem'];
  const rank = (end: End) => order.indexOf(labels.get(beside(shape, side.id, end).id) ?? '');
  return rank('start') !== -1 && (rank('end') === -1 || rank('start') < rank('end')) ? 'start' : 'end';
}
