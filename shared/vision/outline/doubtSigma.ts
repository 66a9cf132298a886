// How much surer or less sure an edge's length is for the unsure stretches of its outline. Where a stretch touches a corner the
// corner itself may lie elsewhere, and that goes into the length of both its edges in full.
import type { Point, TablePointMm } from '../../base/points.ts';
import { isUnseen, UNSURE_SIGMA_MM } from '../../base/unsure.ts';
import { flattenPath } from '../../geometry/flatten.ts';
import { distanceToSegment } from '../../geometry/polygon.ts';
import { add, cross, distance, dot, scale, sub, turnDeg } from '../../geometry/vector.ts';
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
/** Straight edges that meet over the stretch do so in a corner; so many are rounded (from judgement, no source). */
const ROUNDED_SHARE = 0.1;
/** Sides that turn by more and meet nowhere near hide a corner: the way round it is longer by up to this share of the gap. */
const HIDDEN_CORNER_DEG = 35;
const HIDDEN_CORNER_RATIO = 0.4;
const FLAT_MM = 1;
/** Edge on either side of a stretch that says where the corner inside it would be. */
const SIDE_POINTS = 25;
/**
 * What was measured where it was doubtful is the edge, or something near it: no such length is less sure than this.
 * On rendered scenes outlines that evenness alone found were right to a millimetre, or 7 to 41 mm off.
 */
const MISLED_MM = 15;
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
    const astrayMm = n - count < SIDE_POINTS ? MISLED_MM : astray(stretch, whole, reason);
    for (let k = 0; k <= count; k++) {
      const at = points[(fromIndex + k) % n]!;
      const e = nearestEdge(at);
      alongMm[e]! += distance(at, points[(fromIndex + k + 1) % n]!);
      strayMm[e] = Math.max(strayMm[e]!, astrayMm);
      edges.forEach(({ curve }, e) => {
        if (distance(curve[0]!, at) >= CORNER_REACH_MM) return;
        const bittenMm = whole === null ? 0 : BITTEN_RATIO * distance(curve[0]!, whole);
        const cornerMm = isUnseen(reason) ? bittenMm : Math.min(bittenMm, MISLED_MM);
        startSigma[e] = Math.max(startSigma[e]!, UNSURE_SIGMA_MM[reason], cornerMm);
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

/** Standard deviation of a stretch's length for the other ways on which the edge may go there. */
function astray(stretch: Stretch, corner: Point | null, reason: UnsureStretch['reason']): number {
  if (isUnseen(reason)) return bridgeSigma(stretch, corner);
  return Math.min(STRAY_RATIO * Math.abs(stretch.lengthMm - wayMm(stretch, corner)), MISLED_MM);
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

/**
 * Standard deviation of a bridge's length by the ways on which the edge may go on under it: root mean square of its difference
 * from them. Straight edges that meet over it have a corner there, seldom a rounded one; where one of them bends, they meet in
 * a corner straight ahead, in one where their bends lead, or lead into one another, each as likely.
 */
function bridgeSigma(stretch: Stretch, corner: Point | null): number {
  const { from, to, lengthMm, before, after } = stretch;
  if (corner === null || before === null || after === null)
    return STRAY_RATIO * Math.abs(lengthMm - wayMm(stretch, null));
  const [aheadMm, behindMm] = [distance(from, corner), distance(corner, to)];
  const away = (otherMm: number): number => Math.abs(lengthMm - otherMm);
  const straightMm = away(aheadMm + behindMm);
  if (before.bendPerMm === 0 && after.bendPerMm === 0) {
    const turnRad = (Math.abs(turnDeg(before.tangent, after.tangent)) * Math.PI) / 180;
    // the roundest arc that touches both edges between the stretch's ends
    const reachMm = Math.min(aheadMm, behindMm);
    const cutMm = reachMm * (2 - turnRad / Math.tan(turnRad / 2));
    const roundMm = away(aheadMm + behindMm - cutMm);
    return Math.hypot(Math.sqrt(1 - ROUNDED_SHARE) * straightMm, Math.sqrt(ROUNDED_SHARE) * roundMm);
  }
  const bentMm = bentMeeting(before, after, lengthMm) ?? aheadMm + behindMm;
  return Math.hypot(away(smoothMm(stretch)), straightMm, away(bentMm)) / Math.sqrt(3);
}

/** Way along both edges bent on as they are up to where they meet, looked for no farther than `farMm`; null when they do not. */
function bentMeeting(before: LocalCurve, after: LocalCurve, farMm: number): number | null {
  const [there, back] = [bentOn(before, 1, farMm), bentOn(after, -1, farMm)];
  for (let i = 1; i < there.length; i++)
    for (let k = 1; k < back.length; k++)
      if (segmentsCross(there[i - 1]!, there[i]!, back[k - 1]!, back[k]!)) return (i + k) * BENT_STEP_MM;
  return null;
}

const BENT_STEP_MM = 4;

/** Places along a curve carried on with its bend, ahead (1) or back (-1). */
function bentOn({ at, tangent, bendPerMm }: LocalCurve, step: 1 | -1, farMm: number): Point[] {
  const out: Point[] = [at];
  let [direction, here] = [scale(tangent, step), at];
  const [cos, sin] = [Math.cos(step * bendPerMm * BENT_STEP_MM), Math.sin(step * bendPerMm * BENT_STEP_MM)];
  for (let mm = 0; mm < farMm; mm += BENT_STEP_MM) {
    here = add(here, scale(direction, BENT_STEP_MM));
    out.push(here);
    direction = [cos * direction[0] - sin * direction[1], sin * direction[0] + cos * direction[1]];
  }
  return out;
}

function segmentsCross(a: Point, b: Point, c: Point, d: Point): boolean {
  const side = (from: Point, to: Point, p: Point): number => cross(sub(to, from), sub(p, from));
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

/** Length of the way on which the sure edge on either side would go on over a stretch. */
function wayMm(stretch: Stretch, corner: Point | null): number {
  const { from, to, before, after } = stretch;
  if (corner !== null) return distance(from, corner) + distance(corner, to);
  if (before === null || after === null) return distance(from, to);
  if (Math.abs(turnDeg(before.tangent, after.tangent)) > HIDDEN_CORNER_DEG)
    return distance(from, to) * (1 + HIDDEN_CORNER_RATIO);
  return smoothMm(stretch);
}

function smoothMm({ from, to, before, after }: Stretch): number {
  if (before === null || after === null) return distance(from, to);
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
