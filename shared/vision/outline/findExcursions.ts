// Finds where an outline leaves its line for a few millimetres and comes back to it: the dents and bumps of notches.
// They are no corners: the edge goes on behind them in the direction it had before. Groups that stand close together
// (double and triple notches) are found as one stretch with several tips.
import { type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import { angleDeg, cross, distance, dot, sub, turnDeg, unit } from '../../geometry/vector.ts';
import { COVERED, type CoarseOutline, evenOutline, NOTCH } from './coarseOutline.ts';

export interface ExcursionTip {
  /** Foot of the notch on the edge. */
  readonly at: TablePointMm;
  readonly tip: TablePointMm;
  readonly depthMm: number;
  /** Width at half depth. */
  readonly widthMm: number;
  readonly shape: 'snip' | 'triangle-out' | 'triangle-in';
}

export interface Excursion {
  /** Where the outline leaves its line and where it is back on it. */
  readonly from: TablePointMm;
  readonly to: TablePointMm;
  readonly tips: readonly ExcursionTip[];
}

export interface BridgedOutline {
  readonly coarse: CoarseOutline;
  readonly excursions: readonly Excursion[];
}

const STEP_MM = 0.5;
/** A single notch is at most this wide; a wider stretch must hold several tips. */
const MAX_SINGLE_MM = 11;
/** Three triangles of 7 mm, 13.5 mm apart. */
const MAX_GROUP_MM = 34;
const MIN_WIDTH_MM = 0.8;
const MIN_DEPTH_MM = 1;
const MAX_DEPTH_MM = 9;
/** Way along the outline over the straight way: a bend stays below, a notch lies far above. */
const MIN_DETOUR_RATIO = 1.12;
/** Edge on each side from which its direction is taken. */
const FLANK_MM = 7;
const MAX_FLANK_TURN_DEG = 22;
const MAX_FLANK_RESIDUAL_MM = 0.35;
/** A dent narrower than this at half its depth was snipped, not cut as a triangle. */
const SNIP_WIDTH_MM = 1.8;
/** Edge beside a notch that is not measured either: the scissors pull it. */
const NOTCH_SHY_MM = 1;
const TIP_SEPARATION_RATIO = 0.55;

/** Excursions of the outline and the outline with all of them bridged along the edge. */
export function findExcursions(outline: CoarseOutline): BridgedOutline {
  const { polygon: points, state } = evenOutline(outline, STEP_MM);
  const n = points.length;
  const candidates = allCandidates(points, state);
  candidates.sort((a, b) => b.score - a.score);
  const used = new Uint8Array(n);
  const chosen: Candidate[] = [];
  for (const candidate of candidates) {
    let free = true;
    for (let k = 0; k <= candidate.length && free; k++) free = used[(candidate.start + k) % n] === 0;
    if (!free) continue;
    for (let k = 0; k <= candidate.length; k++) used[(candidate.start + k) % n] = 1;
    chosen.push(candidate);
  }
  chosen.sort((a, b) => a.start - b.start);
  return { coarse: bridgedOver(points, state, chosen), excursions: chosen.map((c) => excursionOf(points, c)) };
}

interface Candidate {
  readonly start: number;
  readonly length: number;
  readonly score: number;
}

function allCandidates(points: readonly Point[], state: Uint8Array): Candidate[] {
  const n = points.length;
  const found: Candidate[] = [];
  const flank = Math.round(FLANK_MM / STEP_MM);
  const longest = Math.min(Math.floor((MAX_GROUP_MM * 2.2) / STEP_MM), Math.floor(n / 3));
  for (let i = 0; i < n; i++) {
    const before = flankOf(points, i, flank, -1);
    if (before === null) continue;
    for (let length = 3; length <= longest; length++) {
      const j = (i + length) % n;
      const width = distance(points[i]!, points[j]!);
      if (width > MAX_GROUP_MM || width < MIN_WIDTH_MM) continue;
      if (length * STEP_MM < width * MIN_DETOUR_RATIO) continue;
      const chord = unit(sub(points[j]!, points[i]!));
      const bendBefore = Math.abs(turnDeg(before, chord));
      if (bendBefore > MAX_FLANK_TURN_DEG) continue;
      const after = flankOf(points, j, flank, 1);
      if (after === null) continue;
      const bendAfter = Math.abs(turnDeg(chord, after));
      if (bendAfter > MAX_FLANK_TURN_DEG || Math.abs(turnDeg(before, after)) > MAX_FLANK_TURN_DEG) continue;
      const depths = signedDepths(points, i, length, chord);
      const depth = Math.max(...depths.map(Math.abs));
      if (depth < MIN_DEPTH_MM || depth > MAX_DEPTH_MM) continue;
      if (width > MAX_SINGLE_MM && peaksOf(depths).length < 2) continue;
      if (state[i] === COVERED || state[j] === COVERED) continue;
      // the whole notch and nothing more: deep, as narrow as can be, and the edge running straight on
      found.push({
        start: i,
        length,
        score: 2 * depth - 0.15 * width - 0.06 * (bendBefore + bendAfter) + 0.6 * peaksOf(depths).length,
      });
    }
  }
  return found;
}

/** Direction of travel of the edge on one side, or null when it is no clean line there. */
function flankOf(points: readonly Point[], at: number, count: number, side: 1 | -1): Point | null {
  const n = points.length;
  const far = points[(at + side * count + n) % n]!;
  const near = points[at]!;
  const along = unit(side === 1 ? sub(far, near) : sub(near, far));
  let squares = 0;
  for (let k = 1; k < count; k++) squares += cross(along, sub(points[(at + side * k + n) % n]!, near)) ** 2;
  return Math.sqrt(squares / count) > MAX_FLANK_RESIDUAL_MM ? null : along;
}

/** Distances from the chord, positive to the inside (right of travel), for the points of a stretch. */
function signedDepths(points: readonly Point[], start: number, length: number, chord: Point): number[] {
  const n = points.length;
  const origin = points[start]!;
  return Array.from({ length: length + 1 }, (_, k) => cross(chord, sub(points[(start + k) % n]!, origin)));
}

/** Indices of separate tips: extremes with a return to under about half depth between them. */
function peaksOf(depths: readonly number[]): number[] {
  const deepest = Math.max(...depths.map(Math.abs));
  const peaks: number[] = [];
  let best = -1;
  for (let k = 0; k < depths.length; k++) {
    const depth = Math.abs(depths[k]!);
    if (depth >= deepest * TIP_SEPARATION_RATIO) {
      if (best < 0 || depth > Math.abs(depths[best]!)) best = k;
    } else if (best >= 0) {
      peaks.push(best);
      best = -1;
    }
  }
  if (best >= 0) peaks.push(best);
  return peaks;
}

function excursionOf(points: readonly Point[], candidate: Candidate): Excursion {
  const n = points.length;
  const from = points[candidate.start]!;
  const to = points[(candidate.start + candidate.length) % n]!;
  const chord = unit(sub(to, from));
  const depths = signedDepths(points, candidate.start, candidate.length, chord);
  const places = depths.map((_, k) => dot(chord, sub(points[(candidate.start + k) % n]!, from)));
  const tips = peaksOf(depths).map((peak): ExcursionTip => {
    const sign = Math.sign(depths[peak]!);
    const depthMm = Math.abs(depths[peak]!);
    const deep = (k: number): boolean => sign * depths[k]! >= depthMm / 2;
    let left = peak;
    while (left > 0 && deep(left - 1)) left--;
    let right = peak;
    while (right < depths.length - 1 && deep(right + 1)) right++;
    const edge = (inner: number, outer: number): number => {
      const a = sign * depths[inner]! - depthMm / 2;
      const b = sign * (depths[outer] ?? 0) - depthMm / 2;
      const ratio = a === b ? 0 : a / (a - b);
      return places[inner]! + ((places[outer] ?? places[inner]!) - places[inner]!) * ratio;
    };
    const leftMm = edge(left, left - 1);
    const rightMm = edge(right, right + 1);
    const widthMm = Math.abs(rightMm - leftMm);
    const footMm = (leftMm + rightMm) / 2;
    const tip = points[(candidate.start + peak) % n]!;
    return {
      at: tableMm(from[0] + chord[0] * footMm, from[1] + chord[1] * footMm),
      tip: tableMm(tip[0], tip[1]),
      depthMm,
      widthMm,
      shape: sign < 0 ? 'triangle-out' : widthMm < SNIP_WIDTH_MM ? 'snip' : 'triangle-in',
    };
  });
  return { from: tableMm(from[0], from[1]), to: tableMm(to[0], to[1]), tips };
}

function bridgedOver(points: readonly TablePointMm[], state: Uint8Array, chosen: readonly Candidate[]): CoarseOutline {
  const n = points.length;
  const replaced = new Map<number, TablePointMm>();
  for (const { start, length } of chosen) {
    const a = points[start]!;
    const b = points[(start + length) % n]!;
    const before = unit(sub(a, points[(start - Math.round(FLANK_MM / STEP_MM) + n) % n]!));
    const after = unit(sub(points[(start + length + Math.round(FLANK_MM / STEP_MM)) % n]!, b));
    const gap = distance(a, b);
    // half the change of direction is made up by a shallow arc, so that a bent edge stays bent under the notch
    const bow = (gap / 8) * ((angleDelta(before, after) * Math.PI) / 180);
    const chord = unit(sub(b, a));
    for (let k = 1; k < length; k++) {
      const t = k / length;
      const rise = -4 * t * (1 - t) * bow;
      replaced.set(
        (start + k) % n,
        tableMm(a[0] + (b[0] - a[0]) * t - chord[1] * rise, a[1] + (b[1] - a[1]) * t + chord[0] * rise),
      );
    }
  }
  const marked = state.slice();
  const shy = Math.round(NOTCH_SHY_MM / STEP_MM);
  for (const { start, length } of chosen) {
    for (let k = -shy; k <= length + shy; k++) marked[(start + k + n) % n] = NOTCH;
  }
  return { polygon: points.map((point, i) => replaced.get(i) ?? point), state: marked };
}

function angleDelta(a: Point, b: Point): number {
  const turn = angleDeg(b) - angleDeg(a);
  return turn > 180 ? turn - 360 : turn < -180 ? turn + 360 : turn;
}
