// An edge brought to another sewn length: one of its ends moves along the edge's own line, or one of its points moves out,
// and everything beside it is blended.

import type { Point } from '../../base/points.ts';
import { fail, ok, type Result } from '../../base/result.ts';
import { pathLengthMm, pointAtLength } from '../../geometry/arcLength.ts';
import { nearestOnPath } from '../../geometry/nearest.ts';
import { leftNormal, scale, sub } from '../../geometry/vector.ts';
import { isBand } from '../../pattern/kinds.ts';
import type { Edge, Shape } from '../../pattern/model.ts';
import { seamEdge } from '../../pattern/seamline.ts';
import { displacePath } from './blend.ts';
import { beside, type CornerMove, ledTo, moveCorners, sewnMm } from './corners.ts';
import { type End, isStraight, otherEnd, outwardAt, pointAtEnd, slideEnd, withEnd } from './ends.ts';
import type { Place } from './find.ts';
import { handOf } from './find.ts';
import { type Change, fromEnd, fromStart, mouthsOn, type Reshaped, reshape, splitAtPlace } from './reshape.ts';
import { solveFor } from './solve.ts';

export type Mover = End | { readonly atMm: number };

/** The edge made longer by byMm (shorter where negative) on the sewn seamline. Fails where no such edge can be drawn. */
export function lengthenEdge(place: Place, edge: Edge, byMm: number, mover: Mover): Result<Reshaped> {
  const { shape } = place;
  const wasMm = sewnMm(shape, edge.id);
  const build = builder(place, edge, mover);
  const amount = solveFor((mm) => sewnMm(build(mm).shape, edge.id), wasMm + byMm, {
    guess: byMm,
    farthest: Math.max(FARTHEST_RATIO * wasMm, Math.abs(byMm)),
  });
  if (amount === null)
    return fail(
      'no-room',
      `The edge "${edge.label}" of "${place.piece.name}" cannot be brought to that length that way; take less, or move one of its ends.`,
    );
  return ok(build(amount));
}

/** A point moved further than this part of the edge makes another pattern. */
const FARTHEST_RATIO = 0.8;

function builder(place: Place, edge: Edge, mover: Mover): (mm: number) => Reshaped {
  if (typeof mover !== 'string') return (mm) => movedPoint(place.shape, edge, mover.atMm, mm);
  return isStrip(place, edge, mover)
    ? (mm) => movedStripEnd(place, edge, mover, mm)
    : (mm) => movedEnd(place.shape, edge, mover, mm);
}

/** The end moved along the edge's own line; the edge beside it follows. */
function movedEnd(shape: Shape, edge: Edge, end: End, byMm: number): Reshaped {
  const curve = slideEnd(edge.curve, end, -byMm);
  const corner = pointAtEnd(curve, end);
  const other = beside(shape, edge.id, end);
  const endThere = otherEnd(end);
  const move = sub(corner, pointAtEnd(other.curve, endThere));
  const change = isStraight(other.curve)
    ? blended(shape, other, endThere, move)
    : ledOrBlended(shape, other, endThere, corner, move);
  return reshape(
    shape,
    new Map([
      [edge.id, { curve, carry: end === 'end' ? fromStart : fromEnd }],
      [other.id, { ...change, curve: withEnd(change.curve, endThere, corner) }],
    ]),
  );
}

function blended(shape: Shape, edge: Edge, end: End, move: Point): Change {
  const moved = displacePath(
    edge.curve,
    {
      how: isStraight(edge.curve) ? 'linear' : 'smooth',
      stations: [
        { atRatio: 0, moveMm: end === 'start' ? move : [0, 0] },
        { atRatio: 1, moveMm: end === 'end' ? move : [0, 0] },
      ],
    },
    mouthsOn(shape, edge.id),
  );
  return { curve: moved.path, moveAt: moved.moveAt, carry: end === 'end' ? fromStart : fromEnd };
}

function ledOrBlended(shape: Shape, edge: Edge, end: End, target: Point, move: Point): Change {
  return mouthsOn(shape, edge.id).length > 0 ? blended(shape, edge, end, move) : ledTo(edge, end, target);
}

/** Bands and facings are strips: the whole short end moves, so that both long edges grow alike. */
function isStrip({ shape, piece }: Place, edge: Edge, end: End): boolean {
  const short = beside(shape, edge.id, end);
  const isStripKind =
    isBand(piece.kind) || piece.kind === 'facing' || piece.kind === 'collar' || piece.kind === 'stand';
  return isStripKind && sewnMm(shape, short.id) < sewnMm(shape, edge.id) && shape.ring.length > 3;
}

function movedStripEnd({ shape }: Place, edge: Edge, end: End, byMm: number): Reshaped {
  const short = beside(shape, edge.id, end);
  const by = scale(outwardAt(edge.curve, end), byMm);
  const moves: readonly CornerMove[] = [
    { edge: short.id, end: 'start', byMm: by },
    { edge: short.id, end: 'end', byMm: by },
  ];
  return moveCorners(shape, moves);
}

/** The point so far along the seamline moved out of the piece, the edge blended to both of its ends. */
function movedPoint(shape: Shape, edge: Edge, atMm: number, byMm: number): Reshaped {
  const seam = seamEdge(shape, edge.id)!;
  const totalMm = pathLengthMm(edge.curve);
  const place = nearestOnPath(edge.curve, pointAtLength(seam.path, atMm).point).atMm;
  const { tangent } = pointAtLength(edge.curve, place);
  const out = scale(leftNormal(tangent), handOf(shape) * byMm);
  const moved = displacePath(
    edge.curve,
    {
      how: 'smooth',
      stations: [
        { atRatio: 0, moveMm: [0, 0] },
        { atRatio: Math.min(1, Math.max(0, place / totalMm)), moveMm: out },
        { atRatio: 1, moveMm: [0, 0] },
      ],
    },
    mouthsOn(shape, edge.id),
  );
  return reshape(shape, new Map([[edge.id, { curve: moved.path, moveAt: moved.moveAt, carry: splitAtPlace(atMm) }]]));
}

/** Which end of an edge moves when nobody has said: never the fold or centre, rather the side, waist or hem. */
export function freerEnd({ shape, labels }: Place, edge: Edge): End {
  const rank = (end: End): number => {
    const other = beside(shape, edge.id, end);
    const label = labels.get(other.id) ?? '';
    if (other.role === 'fold' || label.startsWith('centre')) return 0;
    if (other.role === 'opening' || label === 'armhole' || label === 'neck' || label.startsWith('cap')) return 1;
    return label === 'hem' || label === 'side' || label === 'waist' ? 3 : 2;
  };
  return rank('start') > rank('end') ? 'start' : 'end';
}
