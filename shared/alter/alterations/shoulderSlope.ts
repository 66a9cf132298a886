// A squarer or more sloping shoulder: the shoulder seam turns about its neck point with its length kept, the armhole is
// redrawn to the new shoulder point.
import type { Point } from '../../base/points.ts';
import { fail, ok, type Result } from '../../base/result.ts';
import { transformPath } from '../../geometry/cubicPath.ts';
import type { Affine } from '../../geometry/transform.ts';
import { distance, scale, sub } from '../../geometry/vector.ts';
import { isBodice } from '../../pattern/kinds.ts';
import type { Edge } from '../../pattern/model.ts';
import { insetMm } from '../../pattern/seamline.ts';
import { type Alteration, allOf, nothingToAlter } from '../alteration.ts';
import { graspOn } from '../grasp.ts';
import { beside, blendedEnds, meeting, sewnMm } from '../kernel/corners.ts';
import { type End, type EndTurn, isStraight, otherEnd, pointAtEnd, turnEnd, withEnd } from '../kernel/ends.ts';
import { edgeNamed, handOf, outwardOf, type Place, placesIn } from '../kernel/find.ts';
import { type Change, fromEnd, fromStart, type Reshaped, reshape } from '../kernel/reshape.ts';
import { solveFor } from '../kernel/solve.ts';
import type { ChangedShape } from '../record.ts';
import { lengthWords } from '../words.ts';

export const shoulderSlope: Alteration = {
  id: 'shoulder-slope',
  title: 'Change the slope of the shoulder',
  sentence: 'Lowers or raises both shoulder points; the shoulder keeps its length, the upper armhole is redrawn.',
  params: [
    {
      name: 'byMm',
      unit: 'mm',
      default: null,
      min: -30,
      max: 30,
      sentence: 'How far the shoulder point drops; negative lifts it (squarer shoulders).',
    },
  ],
  describe: (values, set) =>
    `Shoulder point ${values.amount('byMm') < 0 ? 'lifted' : 'lowered'} by ${lengthWords(set, Math.abs(values.amount('byMm')))}.`,
  redraw: (set, values, scope) => {
    const changes = placesIn(set, scope, isBodice).flatMap((place) => {
      const changed = turned(place, values.amount('byMm'));
      return changed === null ? [] : [changed];
    });
    return changes.length === 0 ? nothingToAlter('bodice with a shoulder that ends at an armhole') : allOf(changes);
  },
  grasps: (set, _, scope) =>
    placesIn(set, scope, isBodice).flatMap((place) => {
      const found = shoulderOf(place);
      if (found === null) return [];
      return [
        graspOn(place, { param: 'byMm', at: found.tip, toward: scale(outwardOf(place.shape, found.shoulder), -1) }),
      ];
    }),
};

interface Shoulder {
  readonly shoulder: Edge;
  readonly armhole: Edge;
  readonly tipEnd: End;
  /** The end of the armhole at the tip. */
  readonly armholeEnd: End;
  /** The neck point, on the traced line. */
  readonly pivot: Point;
  readonly tip: Point;
}

function shoulderOf(place: Place): Shoulder | null {
  const armhole = edgeNamed(place, 'armhole');
  const shoulder = edgeNamed(place, 'shoulder');
  if (armhole === null || shoulder === null) return null;
  const met = meeting(place.shape, shoulder.id, armhole.id);
  if (met === null) return null;
  const pivot = pointAtEnd(shoulder.curve, otherEnd(met.endA));
  const tip = pointAtEnd(shoulder.curve, met.endA);
  return { shoulder, armhole, tipEnd: met.endA, armholeEnd: met.endB, pivot, tip };
}

function turned(place: Place, byMm: number): Result<ChangedShape> | null {
  const found = shoulderOf(place);
  if (found === null) return null;
  const { shoulder, armhole, tipEnd, armholeEnd, pivot, tip } = found;
  // Along the ring from neck to tip the inside of a clockwise ring lies to the right: a right turn lowers the tip.
  const sign = handOf(place.shape) * (tipEnd === 'end' ? 1 : -1);
  const turnRad = sign * Math.asin(Math.min(1, Math.max(-1, byMm / distance(pivot, tip))));
  const lengthMm = sewnMm(place.shape, shoulder.id);
  const neckEnd = otherEnd(tipEnd);
  const build = (stretchMm: number): Reshaped => {
    const map = turnAndStretch(pivot, turnRad, 1 + stretchMm / distance(pivot, tip));
    const curve = withEnd(transformPath(map, shoulder.curve), neckEnd, pivot);
    const turnDeg = (turnRad * 180) / Math.PI;
    const changes = new Map<string, Change>([
      [shoulder.id, { curve, carry: tipEnd === 'end' ? fromStart : fromEnd }],
      [
        armhole.id,
        ledToTip(place, armhole, armholeEnd, pointAtEnd(curve, tipEnd), {
          turnDeg,
          holdMm: insetMm(place.shape, shoulder),
        }),
      ],
    ]);
    const neck = beside(place.shape, shoulder.id, neckEnd);
    // The neck turns with the shoulder where they meet, so that the line across the seam stays as smooth as it was.
    if (!isStraight(neck.curve))
      changes.set(neck.id, {
        curve: turnEnd(neck.curve, tipEnd, { turnDeg, holdMm: insetMm(place.shape, shoulder) }),
        carry: tipEnd === 'end' ? fromStart : fromEnd,
      });
    return reshape(place.shape, changes);
  };
  const stretchMm = solveFor((mm) => sewnMm(build(mm).shape, shoulder.id), lengthMm, {
    guess: 1,
    farthest: lengthMm / 2,
  });
  if (stretchMm === null) return fail('no-room', 'The shoulder cannot be turned that far; take less.');
  return ok({ piece: place.piece.id, size: place.size, ...build(stretchMm) });
}

function ledToTip(place: Place, armhole: Edge, end: End, tip: Point, turn: EndTurn): Change {
  const move = sub(tip, pointAtEnd(armhole.curve, end));
  const change =
    end === 'start'
      ? blendedEnds(place.shape, armhole, move, [0, 0], fromEnd)
      : blendedEnds(place.shape, armhole, [0, 0], move, fromStart);
  return { ...change, curve: withEnd(turnEnd(change.curve, end, turn), end, tip) };
}

function turnAndStretch([x, y]: Point, turnRad: number, factor: number): Affine {
  const cos = factor * Math.cos(turnRad);
  const sin = factor * Math.sin(turnRad);
  return [cos, sin, -sin, cos, x - cos * x + sin * y, y - sin * x - cos * y];
}
