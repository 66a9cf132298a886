// Where nothing shows the paper's border, a traced contour strays: along the brim of a reflection, or through the middle of
// paper that lies on a check as white as itself. Such a run is known by this: it has no sharp step, and it leaves the way on
// which the sure edge on either side would go on to the other. It is replaced by that way and called a gap.
import type { TablePointMm } from '../../base/points.ts';
import { distanceToSegment } from '../../geometry/polygon.ts';
import { distance, sub, turnDeg, unit } from '../../geometry/vector.ts';
import { GAP, SEEN } from '../outline/coarseOutline.ts';
import { type LocalCurve, localCurve, meeting } from '../outline/localFit.ts';
import { around, sureEnd, type Way, withWays } from '../outline/ring.ts';
import { hermite, overCorner } from './bridges.ts';

const STRAY = {
  /** Soft stretches nearer together than this are one; shorter ones are let be. */
  joinMm: 8,
  shortestMm: 10,
  /** Edge beside the run that is not trusted, and the edge from which its direction is learnt. */
  shyMm: 3,
  directionMm: 18,
  /** The edge must be one clean line there: root mean square distance from the fitted curve. */
  cleanMm: 0.5,
  /** So much beside the run may be ragged. */
  raggedMm: 15,
  /** No guess is made over more than this, nor round a corner farther off than this. */
  longestMm: 120,
  cornerReachMm: 40,
  /** Directions that differ by more than this meet in a corner. */
  cornerDeg: 35,
  /** A smooth way turns off the straight line by less than this at either end. */
  smoothDeg: 50,
  /** The contour must leave the way by this much and this share of the gap: an edge may bend. */
  awayMm: 2.5,
  awayRatio: 0.1,
  /** So many runs may be parts of one, when they and the contour between are soft to this share and a detour. */
  chain: 6,
  softShare: 0.35,
  detourRatio: 1.5,
} as const;

export interface Straightened {
  readonly points: readonly TablePointMm[];
  readonly blocked: Uint8Array;
  /** SEEN or GAP for every point. */
  readonly state: Uint8Array;
}

/**
 * @param points closed contour, about `spacingMm` apart
 * @param blocked 1 where something lies over the edge
 * @param soft 1 where the contour has no sharp step
 */
export function straightened(
  points: readonly TablePointMm[],
  blocked: Uint8Array,
  soft: Uint8Array,
  spacingMm: number,
): Straightened {
  const n = points.length;
  const ways: Way[] = [];
  // covered, or already part of another way
  const taken = blocked.slice();
  const runs = softRuns(blocked, soft, spacingMm);
  for (let i = 0; i < runs.length; i++) {
    const { start } = runs[i]!;
    // the longest chain first: a brim has sharper places in between
    for (let j = Math.min(runs.length, i + STRAY.chain) - 1; j >= i; j--) {
      const count = ((runs[j]!.start - start + n) % n) + runs[j]!.count;
      if (j > i && !isMostly(soft, start, count)) continue;
      const way = wayOver(points, start, count, spacingMm);
      if (way === null || (j > i && way.count * spacingMm < STRAY.detourRatio * way.points.length)) continue;
      const whole = Array.from({ length: way.count }, (_, k) => (way.start + k) % n);
      if (whole.some((index) => taken[index] === 1)) continue;
      for (const index of whole) taken[index] = 1;
      ways.push(way);
      i = j;
      break;
    }
  }
  if (ways.length === 0) return { points, blocked, state: new Uint8Array(n).fill(SEEN) };
  const bridged = withWays(points, ways);
  return {
    points: bridged.points,
    blocked: Uint8Array.from(bridged.from, (i) => (i < 0 ? 0 : blocked[i]!)),
    state: Uint8Array.from(bridged.from, (i) => (i < 0 ? GAP : SEEN)),
  };
}

/** Runs of soft contour, widened by what is not trusted beside them, that touch nothing blocked. */
function softRuns(blocked: Uint8Array, soft: Uint8Array, spacingMm: number): { start: number; count: number }[] {
  const n = soft.length;
  const join = Math.round(STRAY.joinMm / spacingMm);
  const shy = Math.round(STRAY.shyMm / spacingMm);
  const shortest = STRAY.shortestMm / spacingMm;
  const runs: { start: number; count: number }[] = [];
  const free = sureEnd(n, (i) => soft[i] === 0, join);
  if (free < 0) return [];
  for (let k = 0; k < n; k++) {
    if (soft[(free + k) % n] === 0) continue;
    let last = k;
    for (let j = k + 1; j < n && j - last <= join; j++) if (soft[(free + j) % n] === 1) last = j;
    const count = last - k + 1;
    let covered = false;
    for (let j = k - shy; j <= last + shy; j++) covered ||= blocked[(free + j + n) % n] === 1;
    if (count >= shortest && !covered) runs.push({ start: (free + k - shy + n) % n, count: count + 2 * shy });
    k = last;
  }
  return runs;
}

/** True when a stretch is soft by the share that a chain of runs needs. */
function isMostly(soft: Uint8Array, start: number, count: number): boolean {
  let many = 0;
  for (let k = 0; k < count; k++) {
    many += soft[(start + k) % soft.length]!;
  }
  return many > STRAY.softShare * count;
}

interface End extends LocalCurve {
  readonly index: number;
}

/** The way over a run, or null when the contour does not leave it or there is none. */
function wayOver(points: readonly TablePointMm[], start: number, count: number, spacingMm: number): Way | null {
  const n = points.length;
  const reach = Math.round(STRAY.directionMm / spacingMm);
  const most = Math.round(STRAY.raggedMm / spacingMm);
  const before = cleanEnd(points, start - 1, -1, { reach, most, spacingMm });
  const after = cleanEnd(points, start + count, 1, { reach, most, spacingMm });
  if (before === null || after === null) return null;
  const from = points[before.index]!;
  const to = points[after.index]!;
  const gapMm = distance(from, to);
  if (gapMm > STRAY.longestMm || gapMm < 1) return null;
  const chord = unit(sub(to, from));
  let way: TablePointMm[] | null = null;
  const turn = Math.abs(turnDeg(before.tangent, after.tangent));
  const met = turn > STRAY.cornerDeg ? meeting(before, after) : null;
  if (met !== null && Math.max(distance(met, from), distance(met, to)) <= STRAY.cornerReachMm) {
    const ahead = (met[0] - from[0]) * before.tangent[0] + (met[1] - from[1]) * before.tangent[1];
    const behind = (to[0] - met[0]) * after.tangent[0] + (to[1] - met[1]) * after.tangent[1];
    if (Math.min(ahead, behind) < -STRAY.awayMm) return null;
    way = overCorner(from, met, to);
  } else {
    const off = Math.max(Math.abs(turnDeg(before.tangent, chord)), Math.abs(turnDeg(chord, after.tangent)));
    if (off > STRAY.smoothDeg) return null;
    way = hermite(from, before.tangent, to, after.tangent);
  }
  const line = [from, ...way, to];
  let awayMm = 0;
  for (let k = 0; k < count; k++) {
    const at = points[(start + k) % n]!;
    let least = Number.POSITIVE_INFINITY;
    for (let j = 0; j + 1 < line.length; j++) least = Math.min(least, distanceToSegment(at, line[j]!, line[j + 1]!));
    awayMm = Math.max(awayMm, least);
  }
  return awayMm > Math.max(STRAY.awayMm, STRAY.awayRatio * gapMm)
    ? { start: (before.index + 1) % n, count: (after.index - before.index - 1 + n) % n, points: way }
    : null;
}

/** The end of the clean edge beside a run and how it goes on there; the first bit of it may be ragged. */
function cleanEnd(
  points: readonly TablePointMm[],
  end: number,
  step: 1 | -1,
  { reach, most, spacingMm }: { readonly reach: number; readonly most: number; readonly spacingMm: number },
): End | null {
  const n = points.length;
  const place = (k: number): number => around(end + step * k, n);
  const s = Array.from({ length: reach }, (_, k) => step * k * spacingMm);
  for (let skipped = 0; skipped <= most; skipped += 3) {
    const curve = localCurve(
      s.map((_, k) => points[place(skipped + k)]!),
      s,
    );
    if (curve !== null && curve.residualMm < STRAY.cleanMm) return { ...curve, index: place(skipped) };
  }
  return null;
}
