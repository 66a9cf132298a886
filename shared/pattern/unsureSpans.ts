// Where on its edges a shape's line is unsure: stretches that were bridged or badly seen, found by their places, so that
// they survive renamed, split and joined edges and end where the line was drawn anew.
import { memoised } from '../base/memoised.ts';
import type { Point } from '../base/points.ts';
import { pathLengthMm } from '../geometry/arcLength.ts';
import { nearestOnPath } from '../geometry/nearest.ts';
import { distance } from '../geometry/vector.ts';
import type { Edge, Shape, UnsureLine, UnsureReason } from './model.ts';
import { withSettledSigma } from './settledSigma.ts';

/** A line that lies farther from where it was traced has been corrected there. */
const STILL_THERE_MM = 1;

/** Places along an edge are one stretch as long as they do not jump by more than this many times their own distance... */
const JUMP_RATIO = 3;
/** ...and this. */
const JUMP_MM = 5;

/** Millimetres along the traced line of the edge, fromMm < toMm. */
export interface UnsureSpan {
  readonly edge: string;
  readonly fromMm: number;
  readonly toMm: number;
  readonly reason: UnsureReason;
}

const known = new WeakMap<Shape, readonly UnsureSpan[]>();

/**
 * In the order of the shape's list; one stretch over a corner gives one span for each of its edges. Worked out once for each
 * shape, which never changes.
 */
export function unsureSpans(shape: Shape): readonly UnsureSpan[] {
  return memoised(known, shape, () => (shape.unsure ?? []).flatMap((line) => spansOf(shape.ring, line)));
}

interface Run {
  readonly edge: string;
  readonly reason: UnsureReason;
  fromMm: number;
  toMm: number;
  lastMm: number;
}

function spansOf(ring: readonly Edge[], { reason, points }: UnsureLine): UnsureSpan[] {
  const runs: Run[] = [];
  let open: Run | null = null;
  points.forEach((at, i) => {
    const place = placeOf(ring, at);
    if (place === null) {
      open = null;
      return;
    }
    const stepMm = i === 0 ? 0 : distance(points[i - 1]!, at);
    const goesOn =
      open !== null &&
      open.edge === place.edge &&
      Math.abs(open.lastMm - place.atMm) <= Math.max(JUMP_MM, JUMP_RATIO * stepMm);
    if (open === null || !goesOn) {
      open = { edge: place.edge, reason, fromMm: place.atMm, toMm: place.atMm, lastMm: place.atMm };
      runs.push(open);
      return;
    }
    open.fromMm = Math.min(open.fromMm, place.atMm);
    open.toMm = Math.max(open.toMm, place.atMm);
    open.lastMm = place.atMm;
  });
  return runs
    .filter(({ fromMm, toMm }) => toMm > fromMm)
    .map(({ edge, fromMm, toMm }) => ({ edge, fromMm, toMm, reason }));
}

function placeOf(ring: readonly Edge[], at: Point): { readonly edge: string; readonly atMm: number } | null {
  let best: { edge: string; atMm: number; distanceMm: number } | null = null;
  for (const { id, curve } of ring) {
    const { atMm, distanceMm } = nearestOnPath(curve, at);
    if (best === null || distanceMm < best.distanceMm) best = { edge: id, atMm, distanceMm };
  }
  return best === null || best.distanceMm > STILL_THERE_MM ? null : best;
}

/** The shape without doubt about a part of an edge, in its edges' sigma too: somebody looked, or drew it anew. */
export function withoutUnsure(shape: Shape, edgeId: string, fromMm: number, toMm: number): Shape {
  const edge = shape.ring.find(({ id }) => id === edgeId);
  if (edge === undefined || shape.unsure === undefined) return shape;
  const isSettled = (at: Point): boolean => {
    const place = placeOf(shape.ring, at);
    return place !== null && place.edge === edgeId && place.atMm >= fromMm && place.atMm <= toMm;
  };
  const { unsure: before, ...rest } = shape;
  const unsure = before.flatMap(({ reason, points }) =>
    runsWithout(points, isSettled).map((run) => ({ reason, points: run })),
  );
  const after = unsure.length === 0 ? rest : { ...rest, unsure };
  return withSettledSigma(shape, after, (at) => placeOf(shape.ring, at)?.edge ?? null);
}

/** The whole edge. */
export function withoutUnsureEdge(shape: Shape, edgeId: string): Shape {
  const edge = shape.ring.find(({ id }) => id === edgeId);
  return edge === undefined ? shape : withoutUnsure(shape, edgeId, 0, pathLengthMm(edge.curve));
}

/** Runs of at least two points between those that are left out. */
function runsWithout(points: readonly Point[], isOut: (at: Point) => boolean): Point[][] {
  const runs: Point[][] = [[]];
  for (const at of points) {
    if (isOut(at)) runs.push([]);
    else runs.at(-1)!.push(at);
  }
  return runs.filter(({ length }) => length > 1);
}
