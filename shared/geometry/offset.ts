// Parallel curves: of one path, and of a whole ring of edges with mitred corners, which is how a seamline comes from a
// cutting line. Positive distances lie to the left of travel as seen on the screen (y down): outside a clockwise ring.
// A seamline inside a clockwise cutting line therefore has distance −allowance.
import { lengthToParameter, pathLengthMm } from './arcLength.ts';
import {
  type CubicPath,
  endOf,
  endTangent,
  joinPaths,
  pointAt,
  pointPath,
  polylinePath,
  segmentCount,
  slicePath,
  splitAt,
  startOf,
  tangentAt,
} from './cubicPath.ts';
import { intersectPaths } from './intersect.ts';
import { offsetCurve } from './offsetCurve.ts';
import { signedAreaMm2 } from './polygon.ts';
import { trimLoops } from './trimLoops.ts';
import { add, distance, norm, scale, sub, turnDeg } from './vector.ts';

/** One edge of a ring and how far to its left (outside, on a clockwise ring) its parallel runs. */
export interface OffsetEdge {
  readonly path: CubicPath;
  readonly distanceMm: number;
}

/**
 * The parallel of a path at distanceMm to the left of travel (negative: to the right), within toleranceMm of the exact one.
 * Loops that arise where the path bends tighter than the distance are cut away; kinks inside the path are mitred. A path
 * that bends tighter than the distance all along has no parallel there: it shrinks to one point (length 0).
 */
export function offsetPath(path: CubicPath, distanceMm: number, toleranceMm: number): CubicPath {
  return offsetOrNothing(path, distanceMm, toleranceMm) ?? pointPath(pointAt(path, segmentCount(path) / 2));
}

/**
 * The parallels of a closed ring of edges, one for each edge, in order, meeting in mitred corners: neighbours are lengthened
 * along their end tangents or cut where they cross. Each edge has its own distance.
 *
 * Where a corner cannot be mitred (nearly straight on with different distances, a needle point) both parallels end square
 * to their own edge and a step remains between them. An edge that its neighbours swallow becomes one point (length 0).
 */
export function offsetRing(edges: readonly OffsetEdge[], toleranceMm: number): CubicPath[] {
  const only = edges[0];
  if (edges.length === 1 && only !== undefined) return [offsetClosedEdge(only, toleranceMm)];
  const stretched = edges.map((edge, i) => {
    const raw = offsetOrNothing(edge.path, edge.distanceMm, toleranceMm);
    const before = edges[(i + edges.length - 1) % edges.length]!;
    const after = edges[(i + 1) % edges.length]!;
    const widestMm = Math.max(Math.abs(edge.distanceMm), Math.abs(before.distanceMm), Math.abs(after.distanceMm));
    return raw === null ? null : stretch(edge, raw, widestMm * MITRE_REACH_RATIO);
  });
  let live = stretched.filter((edge) => edge !== null);
  for (;;) {
    const cuts = cutsOf(live, toleranceMm);
    const swallowed = mostSwallowed(live, cuts);
    if (swallowed !== null) {
      live = live.filter((_, i) => i !== swallowed);
      continue;
    }
    const shaped = closeCorners(
      live.map((edge, i) => slicePath(edge.path, cuts[i]!.fromT, cuts[i]!.toT)),
      toleranceMm,
    );
    return placeSwallowed(edges, stretched, isTurnedInsideOut(edges, live, shaped) ? [] : live, shaped);
  }
}

/** A mitre may reach this many times the widest allowance beyond its corner: a point of about 19° of cloth. */
const MITRE_REACH_RATIO = 6;
/** Below this turn two edges with different distances are stepped: a mitre would run far along the seam. */
const STEP_TURN_DEG = 15;

/** A parallel with straight extensions at both ends: its own parameters run from 1 to segmentCount − 1. */
interface Stretched {
  readonly edge: OffsetEdge;
  readonly path: CubicPath;
}

interface Cut {
  fromT: number;
  toT: number;
}

function offsetOrNothing(path: CubicPath, distanceMm: number, toleranceMm: number): CubicPath | null {
  if (distanceMm === 0) return path;
  const parts = smoothParts(path, Math.abs(distanceMm), toleranceMm)
    .map((part) => forwardPart(part, distanceMm, toleranceMm))
    .filter((part) => part !== null);
  const first = parts[0];
  if (first === undefined) return null;
  let joined = first;
  for (const next of parts.slice(1)) joined = mitreJoin(joined, next, Math.abs(distanceMm), toleranceMm);
  return trimLoops(joined, path, Math.abs(distanceMm), toleranceMm);
}

/** The path cut at its kinks: joints where the parallels of both sides would not meet. */
function smoothParts(path: CubicPath, distanceMm: number, toleranceMm: number): CubicPath[] {
  const parts: CubicPath[] = [];
  let from = 0;
  for (let joint = 1; joint < segmentCount(path); joint++) {
    const arriving = endTangent(path.slice(3 * (joint - 1), 3 * joint + 1));
    const gapMm = distanceMm * distance(arriving, tangentAt(path, joint));
    if (gapMm <= toleranceMm) continue;
    parts.push(path.slice(3 * from, 3 * joint + 1));
    from = joint;
  }
  return [...parts, path.slice(3 * from)];
}

/** The raw parallel without the ends that run backwards; null when all of it does. */
function forwardPart(path: CubicPath, distanceMm: number, toleranceMm: number): CubicPath | null {
  const runs = offsetCurve(path, distanceMm, toleranceMm);
  const first = runs.findIndex((run) => run.forward);
  const last = runs.findLastIndex((run) => run.forward);
  return first < 0 ? null : joinPaths(runs.slice(first, last + 1).map((run) => run.path));
}

function mitreJoin(before: CubicPath, after: CubicPath, distanceMm: number, toleranceMm: number): CubicPath {
  if (distance(endOf(before), startOf(after)) <= toleranceMm) return joinPaths([before, after]);
  const reachMm = MITRE_REACH_RATIO * distanceMm;
  const a = extended(before, reachMm);
  const b = extended(after, reachMm);
  const hit = nearestCrossing(a, b);
  if (hit === null) return joinPaths([before, polylinePath([endOf(before), startOf(after)]), after]);
  // Keep the untouched outer ends: only the extensions at the joint are wanted.
  const head = slicePath(a, 1, hit.tA);
  const tail = slicePath(b, hit.tB, segmentCount(b) - 1);
  return joinPaths([head, tail]);
}

function extended(path: CubicPath, reachMm: number): CubicPath {
  const start = startOf(path);
  const end = endOf(path);
  const before = polylinePath([add(start, scale(tangentAt(path, 0), -reachMm)), start]);
  const after = polylinePath([end, add(end, scale(endTangent(path), reachMm))]);
  return joinPaths([before, path, after]);
}

/** Of the crossings of two extended parallels the one nearest to the corner they share. */
function nearestCrossing(a: CubicPath, b: CubicPath): { readonly tA: number; readonly tB: number } | null {
  const nominalEnd = pointAt(a, segmentCount(a) - 1);
  const nominalStart = pointAt(b, 1);
  let best: { tA: number; tB: number } | null = null;
  let bestMm = Number.POSITIVE_INFINITY;
  for (const { point, tA, tB } of intersectPaths(a, b)) {
    const awayMm = Math.max(distance(point, nominalEnd), distance(point, nominalStart));
    if (awayMm >= bestMm) continue;
    bestMm = awayMm;
    best = { tA, tB };
  }
  return best;
}

function stretch(edge: OffsetEdge, raw: CubicPath, reachMm: number): Stretched {
  return { edge, path: extended(raw, reachMm > 0 ? reachMm : norm(sub(startOf(raw), endOf(raw)))) };
}

/** Where each parallel starts and ends once it has met its neighbours. */
function cutsOf(live: readonly Stretched[], toleranceMm: number): Cut[] {
  const cuts: Cut[] = live.map(({ path }) => ({ fromT: 1, toT: segmentCount(path) - 1 }));
  if (live.length < 2) return cuts;
  live.forEach((a, i) => {
    const next = (i + 1) % live.length;
    const b = live[next]!;
    const gapMm = distance(pointAt(a.path, segmentCount(a.path) - 1), pointAt(b.path, 1));
    if (gapMm <= toleranceMm) return;
    const turn = Math.abs(turnDeg(endTangent(a.edge.path), tangentAt(b.edge.path, 0)));
    const uneven = Math.abs(a.edge.distanceMm - b.edge.distanceMm) > toleranceMm;
    if (turn < STEP_TURN_DEG && uneven) return;
    const hit = nearestCrossing(a.path, b.path);
    if (hit === null) return;
    cuts[i]!.toT = hit.tA;
    cuts[next]!.fromT = hit.tB;
  });
  return cuts;
}

/** The edge whose start lies farthest behind its end, or null when every edge still has a length. */
function mostSwallowed(live: readonly Stretched[], cuts: readonly Cut[]): number | null {
  let worst: number | null = null;
  let worstMm = 0;
  live.forEach(({ path }, i) => {
    const { fromT, toT } = cuts[i]!;
    if (fromT < toT) return;
    const overlapMm = lengthToParameter(path, fromT) - lengthToParameter(path, toT);
    if (worst === null || overlapMm > worstMm) {
      worst = i;
      worstMm = overlapMm;
    }
  });
  return worst;
}

/** Ends that agree within the tolerance are made to agree exactly: each path starts at the end of the one before. */
function closeCorners(paths: readonly CubicPath[], toleranceMm: number): CubicPath[] {
  return paths.map((path, i) => {
    const end = endOf(paths[(i + paths.length - 1) % paths.length]!);
    return distance(end, startOf(path)) <= toleranceMm ? [end, ...path.slice(1)] : path;
  });
}

/** True when some edges were swallowed and what is left runs round the other way: the ring has no inside left. */
function isTurnedInsideOut(
  edges: readonly OffsetEdge[],
  live: readonly Stretched[],
  shaped: readonly CubicPath[],
): boolean {
  if (live.length === edges.length) return false;
  const before = signedAreaMm2(edges.flatMap(({ path }) => path.slice(1)));
  const after = signedAreaMm2(shaped.flatMap((path) => path.slice(1)));
  return before * after <= 0;
}

/** Back to one path for each edge given: a swallowed one is the point where its neighbours met. */
function placeSwallowed(
  edges: readonly OffsetEdge[],
  stretched: readonly (Stretched | null)[],
  live: readonly Stretched[],
  shaped: readonly CubicPath[],
): CubicPath[] {
  return edges.map((edge, i) => {
    const own = stretched[i];
    const at = own ? live.indexOf(own) : -1;
    if (at >= 0) return shaped[at]!;
    for (let back = 1; back < edges.length; back++) {
      const neighbour = stretched[(i + edges.length - back) % edges.length];
      const neighbourAt = neighbour ? live.indexOf(neighbour) : -1;
      if (neighbourAt >= 0) return pointPath(endOf(shaped[neighbourAt]!));
    }
    return pointPath(pointAt(edge.path, segmentCount(edge.path) / 2));
  });
}

/** A ring of one edge: halved, so that its own corner has two sides, and put together again. */
function offsetClosedEdge(edge: OffsetEdge, toleranceMm: number): CubicPath {
  if (pathLengthMm(edge.path) === 0) return edge.path;
  const halves = splitAt(edge.path, segmentCount(edge.path) / 2);
  return joinPaths(
    offsetRing(
      halves.map((path) => ({ path, distanceMm: edge.distanceMm })),
      toleranceMm,
    ),
  );
}
