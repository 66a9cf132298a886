// Corners of a piece moved: by a vector, with both of their edges blended, or along one of their edges, which is then cut
// shorter or continued while the other is redrawn to meet it.
import type { Point } from '../../base/points.ts';
import { fail, ok, type Result } from '../../base/result.ts';
import { endOf, startOf } from '../../geometry/cubicPath.ts';
import { add, sub, turnDeg } from '../../geometry/vector.ts';
import { closuresOn } from '../../pattern/darts.ts';
import { sewnLength } from '../../pattern/measure.ts';
import type { Edge, Shape } from '../../pattern/model.ts';
import { insetMm } from '../../pattern/seamline.ts';
import { displacePath } from './blend.ts';
import { type End, endsBlend, type Holds, isStraight, leadTo, pointAtEnd, slideEnd, turnEnd, withEnd } from './ends.ts';
import {
  type Carry,
  type Change,
  fromEnd,
  fromNearerEnd,
  fromStart,
  mouthsOn,
  type Reshaped,
  reshape,
} from './reshape.ts';
import { solveFor } from './solve.ts';

/** Lengths are compared with themselves here: how sure an allowance is does not matter. */
export const EXACT = { assumedAllowanceSigmaMm: 0 } as const;

export function sewnMm(shape: Shape, edgeId: string): number {
  return sewnLength(shape, edgeId, null, EXACT).valueMm;
}

export function edgeOf(shape: Shape, edgeId: string): Edge {
  const edge = shape.ring.find((candidate) => candidate.id === edgeId);
  if (edge === undefined) throw new Error(`the shape has no edge ${edgeId}`);
  return edge;
}

/** The ends at which two edges meet; null when they are no neighbours. */
export function meeting(shape: Shape, a: string, b: string): { readonly endA: End; readonly endB: End } | null {
  const indexA = shape.ring.findIndex((edge) => edge.id === a);
  const count = shape.ring.length;
  if (shape.ring[(indexA + 1) % count]?.id === b) return { endA: 'end', endB: 'start' };
  if (shape.ring[(indexA + count - 1) % count]?.id === b) return { endA: 'start', endB: 'end' };
  return null;
}

/** The edge beside this one at that end. */
export function beside(shape: Shape, edgeId: string, end: End): Edge {
  const index = shape.ring.findIndex((edge) => edge.id === edgeId);
  return shape.ring.at(end === 'end' ? (index + 1) % shape.ring.length : index - 1)!;
}

export interface CornerMove {
  readonly edge: string;
  readonly end: End;
  readonly byMm: Point;
}

/**
 * Corners moved by vectors, each named by one of its edges. Straight edges stay straight; where one turns by that, the curved
 * edge beside it turns with it at their corner, so that the angle between them stays true.
 */
export function moveCorners(shape: Shape, moves: readonly CornerMove[]): Reshaped {
  const count = shape.ring.length;
  const byCorner = new Map<number, Point>();
  for (const { edge, end, byMm } of moves) {
    const index = shape.ring.findIndex((candidate) => candidate.id === edge);
    byCorner.set(end === 'end' ? index : (index + count - 1) % count, byMm);
  }
  const startMove = (i: number) => byCorner.get((i + count - 1) % count);
  const turns = shape.ring.map((edge, i) => {
    const [start, end] = [startMove(i) ?? STILL, byCorner.get(i) ?? STILL];
    return isStraight(edge.curve) ? turnDeg(chordOf(edge), add(chordOf(edge), sub(end, start))) : 0;
  });
  const changes = new Map<string, Change>();
  shape.ring.forEach((edge, i) => {
    const [start, end] = [startMove(i), byCorner.get(i)];
    const turn = (k: number) => (isStraight(edge.curve) ? 0 : turns[(k + count) % count]!);
    const [atStart, atEnd] = [turn(i - 1), turn(i + 1)];
    if (start === undefined && end === undefined && atStart === 0 && atEnd === 0) return;
    const moved = blendedEnds(shape, edge, start ?? STILL, end ?? STILL, carryFor(start, end));
    const holds = holdsOf(shape, edge.id);
    const turned = turnEnd(moved.curve, 'start', { turnDeg: atStart, holdMm: holds.startMm });
    const curve = turnEnd(turned, 'end', { turnDeg: atEnd, holdMm: holds.endMm });
    changes.set(edge.id, { ...moved, curve });
  });
  return reshape(shape, changes);
}

const STILL: Point = [0, 0];

export function blendedEnds(shape: Shape, edge: Edge, start: Point, end: Point, carry: Carry): Change {
  const moved = displacePath(
    edge.curve,
    endsBlend(edge.curve, start, end, holdsOf(shape, edge.id)),
    mouthsOn(shape, edge.id),
  );
  return { curve: moved.path, moveAt: moved.moveAt, carry };
}

/** On a cutting line the corners of the seam lie about the neighbours' allowances from the ends. */
export function holdsOf(shape: Shape, edgeId: string): Holds {
  return {
    startMm: insetMm(shape, beside(shape, edgeId, 'start')),
    endMm: insetMm(shape, beside(shape, edgeId, 'end')),
  };
}

/** What lies on an edge keeps its distance from the end that stayed. */
function carryFor(start: Point | undefined, end: Point | undefined): Carry {
  if (start === undefined) return fromStart;
  return end === undefined ? fromEnd : fromNearerEnd;
}

/** Half of the edge may be slid away at most: beyond that it is another pattern. */
const MOST_SLIDE_RATIO = 0.9;

/**
 * The corner of two edges slid along the first so that this one's sewn length shrinks by byMm (grows where negative); the
 * other edge is redrawn to meet it, smooth, with its direction at both ends kept.
 */
export function slideCorner(shape: Shape, alongId: string, otherId: string, byMm: number): Result<Reshaped> {
  const met = meeting(shape, alongId, otherId);
  if (met === null) throw new Error(`${alongId} and ${otherId} do not meet`);
  const along = edgeOf(shape, alongId);
  const other = edgeOf(shape, otherId);
  const lengthMm = sewnMm(shape, alongId);
  const roomMm = Math.min(roomBeforeMouth(shape, alongId, met.endA), MOST_SLIDE_RATIO * lengthMm);
  if (byMm >= roomMm) return noRoom(along.label);
  const build = (slideMm: number): Reshaped => {
    const slid = slideEnd(along.curve, met.endA, slideMm);
    const corner = pointAtEnd(slid, met.endA);
    const was = pointAtEnd(other.curve, met.endB);
    const move = sub(corner, was);
    const change =
      met.endB === 'start'
        ? blendedEnds(shape, other, move, [0, 0], fromEnd)
        : blendedEnds(shape, other, [0, 0], move, fromStart);
    return reshape(
      shape,
      new Map([
        [alongId, { curve: slid, carry: met.endA === 'end' ? fromStart : fromEnd }],
        [otherId, { ...change, curve: withEnd(change.curve, met.endB, corner) }],
      ]),
    );
  };
  const slideMm = solveFor((mm) => sewnMm(build(mm).shape, alongId), lengthMm - byMm, {
    guess: byMm,
    farthest: Math.max(2 * Math.abs(byMm), 1),
  });
  return slideMm === null ? noRoom(along.label) : ok(build(slideMm));
}

function noRoom(label: string): Result<never> {
  return fail('no-room', `The edge "${label}" has not that much room up to its dart or its end; take less.`);
}

/** From that end of the edge to the nearest dart or pleat, on the seamline. */
function roomBeforeMouth(shape: Shape, edgeId: string, end: End): number {
  const mouths = closuresOn(shape, edgeId);
  const openMm = sewnMm(shape, edgeId) + mouths.reduce((sum, { fromMm, toMm }) => sum + toMm - fromMm, 0);
  return mouths.reduce(
    (room, { fromMm, toMm }) => Math.min(room, end === 'start' ? fromMm : openMm - toMm),
    Number.POSITIVE_INFINITY,
  );
}

/** An edge led to a new end point: continued along its own line as far as that goes, the rest blended. */
export function ledTo(edge: Edge, end: End, target: Point): Change {
  return { curve: leadTo(edge.curve, end, target), carry: end === 'end' ? fromStart : fromEnd };
}

/** From the start of an edge to its end. */
export function chordOf(edge: Edge): Point {
  return sub(endOf(edge.curve), startOf(edge.curve));
}
