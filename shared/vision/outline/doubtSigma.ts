// How much surer or less sure an edge's length is for the unsure stretches of its outline. Where a stretch touches a corner the
// corner itself may lie elsewhere, and that goes into the length of both its edges in full.
import type { Point, TablePointMm } from '../../base/points.ts';
import { UNSURE_SIGMA_MM } from '../../base/unsure.ts';
import { flattenPath } from '../../geometry/flatten.ts';
import { distanceToSegment } from '../../geometry/polygon.ts';
import { distance, dot, sub, turnDeg } from '../../geometry/vector.ts';
import { hermite } from '../segment/bridges.ts';
import type { TracedEdge, UnsureStretch } from '../traced.ts';
import { type LocalCurve, localCurve, meeting } from './localFit.ts';
import { around } from './ring.ts';

/** A corner is set by about this much of the edges on either side. */
const CORNER_REACH_MM = 9;
/** A wavering or straightened stretch changes the length by about this share of itself, and hardly by more than this... */
const ALONG_RATIO = 0.02;
const MOST_ALONG_MM = 1.5;
/** ...unless it leaves the way on which the edge would go on: then either way may be the true one. Share of the difference. */
const STRAY_RATIO = 0.6;
/** Sides that turn by more and meet nowhere near hide a corner: the way round it is longer by up to this share of the gap. */
const HIDDEN_CORNER_DEG = 35;
const HIDDEN_CORNER_RATIO = 0.4;
const FLAT_MM = 1;
/** Edge on either side of a stretch that says where the corner inside it would be. */
const SIDE_POINTS = 25;
/** Standard deviation of a corner as a share of its distance from there: a bitten-off corner is wrong by all of it. */
const BITTEN_RATIO = 0.6;

/**
 * The edges with the doubt of their stretches in sigmaMm and localSigmaMm; edges without any come back as they are.
 * @param points measured outline that `unsure` counts in
 */
export function edgesWithDoubt(
  edges: readonly TracedEdge[],
  points: readonly TablePointMm[],
  unsure: readonly UnsureStretch[],
): TracedEdge[] {
  if (unsure.length === 0) return [...edges];
  const flat = edges.map(({ curve }) => flattenPath(curve, FLAT_MM));
  const nearestEdge = (at: TablePointMm): number => {
    const away = flat.map((line) => Math.min(...line.map((p, i) => distanceToSegment(at, p, line[i + 1] ?? p))));
    return away.indexOf(Math.min(...away));
  };
  const alongMm = edges.map(() => 0);
  const strayMm = edges.map(() => 0);
  const startSigma = edges.map(() => 0);
  for (const { fromIndex, toIndex, reason } of unsure) {
    const n = points.length;
    const count = around(toIndex - fromIndex, n);
    const stretch = stretchOf(points, fromIndex, count);
    const whole = meetingOver(stretch);
    const astrayMm = STRAY_RATIO * Math.abs(stretch.lengthMm - wayMm(stretch, whole));
    for (let k = 0; k <= count; k++) {
      const at = points[(fromIndex + k) % n]!;
      const e = nearestEdge(at);
      alongMm[e]! += distance(at, points[(fromIndex + k + 1) % n]!);
      strayMm[e] = Math.max(strayMm[e]!, astrayMm);
      edges.forEach(({ curve }, e) => {
        if (distance(curve[0]!, at) >= CORNER_REACH_MM) return;
        const bitten = whole === null ? 0 : BITTEN_RATIO * distance(curve[0]!, whole);
        startSigma[e] = Math.max(startSigma[e]!, UNSURE_SIGMA_MM[reason], bitten);
      });
    }
  }
  return edges.map((edge, e) => {
    const doubtMm = Math.hypot(
      Math.max(Math.min(ALONG_RATIO * alongMm[e]!, MOST_ALONG_MM), strayMm[e]!),
      startSigma[e]!,
      startSigma[(e + 1) % edges.length]!,
    );
    if (doubtMm === 0) return edge;
    return {
      ...edge,
      sigmaMm: Math.hypot(edge.sigmaMm, doubtMm),
      localSigmaMm: Math.hypot(edge.localSigmaMm, doubtMm),
    };
  });
}

/** An unsure stretch: its ends, its length along the outline, and the edge on either side as it goes on there. */
interface Stretch {
  readonly from: TablePointMm;
  readonly to: TablePointMm;
  readonly lengthMm: number;
  readonly before: LocalCurve | null;
  readonly after: LocalCurve | null;
}

function stretchOf(points: readonly TablePointMm[], fromIndex: number, count: number): Stretch {
  const n = points.length;
  let lengthMm = 0;
  for (let k = 0; k < count; k++) lengthMm += distance(points[(fromIndex + k) % n]!, points[(fromIndex + k + 1) % n]!);
  return {
    from: points[fromIndex % n]!,
    to: points[(fromIndex + count) % n]!,
    lengthMm,
    before: sideCurve(points, fromIndex, -1),
    after: sideCurve(points, fromIndex + count, 1),
  };
}

/**
 * Where the sure edge before an unsure stretch and that after it would meet: a corner that was bitten off lay there. Null
 * when they do not meet over the stretch: then it is one edge, or a whole one between its two corners.
 */
function meetingOver({ from, to, lengthMm, before, after }: Stretch): Point | null {
  if (before === null || after === null) return null;
  const met = meeting(before, after);
  if (met === null) return null;
  const aheadMm = dot(sub(met, from), before.tangent);
  const behindMm = dot(sub(to, met), after.tangent);
  return Math.min(aheadMm, behindMm) > 0 && Math.max(aheadMm, behindMm) < lengthMm ? met : null;
}

/** Length of the way on which the sure edge on either side would go on over a stretch. */
function wayMm({ from, to, before, after }: Stretch, corner: Point | null): number {
  if (corner !== null) return distance(from, corner) + distance(corner, to);
  if (before === null || after === null) return distance(from, to);
  const gapMm = distance(from, to);
  if (Math.abs(turnDeg(before.tangent, after.tangent)) > HIDDEN_CORNER_DEG) return gapMm * (1 + HIDDEN_CORNER_RATIO);
  const way = [from, ...hermite(from, before.tangent, to, after.tangent), to];
  return way.slice(1).reduce((sum, at, i) => sum + distance(way[i]!, at), 0);
}

/** The edge beside a stretch, as it goes on at the stretch's end. */
function sideCurve(points: readonly TablePointMm[], end: number, step: 1 | -1): LocalCurve | null {
  const n = points.length;
  const near: TablePointMm[] = [];
  const s: number[] = [];
  let alongMm = 0;
  for (let k = 0; k < Math.min(SIDE_POINTS, n); k++) {
    const at = points[around(end + step * k, n)]!;
    alongMm += k === 0 ? 0 : distance(near[k - 1]!, at);
    near.push(at);
    s.push(step * alongMm);
  }
  return localCurve(near, s);
}
