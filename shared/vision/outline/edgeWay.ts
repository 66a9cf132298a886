// How the edge of paper would go on where its outline does not show it: what it is like beside a place, where it comes back to
// its own line, and the way from one end of it to another. Reads the outline alone, never the photo.
import { type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import { distanceToSegment } from '../../geometry/polygon.ts';
import { cross, distance, dot, sub, turnDeg, unit } from '../../geometry/vector.ts';
import { hermite, overCorner } from '../segment/bridges.ts';
import { type CoarseOutline, SEEN } from './coarseOutline.ts';
import { type LocalCurve, localCurve, meeting } from './localFit.ts';
import { around } from './ring.ts';

export const WAY = {
  /** Between the points of the outlines that are asked about. */
  stepMm: 0.5,
  /** Edge on either side from which its direction is learnt, and what is left out beside the corner. */
  flankMm: 30,
  leastFlankMm: 6,
  flankShyMm: 2.5,
  cleanMm: 0.5,
  /** Narrower ones are notches. */
  leastWidthMm: 9,
  leastDepthMm: 2.5,
  /** Nothing lies over more of one outline than this, nor is more of an edge guessed. */
  longestMm: 330,
  mostBridgedMm: 130,
  /** An edge goes on smoothly when it turns less than this from either side to the straight way over... */
  smoothDeg: 14,
  /** ...or this, when it bends to the same side by much the same at both ends. */
  bentDeg: 30,
  bentApartDeg: 10,
  /** Two edges meet in a corner when they turn by as much; one that bends toward the other no farther ahead than this. */
  cornerDeg: 24,
  cornerFarMm: 45,
  /** The outline is back on the line of an edge when it stays this near to it, more with the distance, for so long. */
  landMm: 0.6,
  landRatio: 0.03,
  landRunMm: 8,
  landNearerMm: 0.1,
  /** Edge on either side of a bridge made before, how clean it must be, how much of it may be ragged, and lie past a corner. */
  besideBridgeMm: 20,
  cleanBridgeMm: 0.2,
  raggedMm: 18,
  pastCornerMm: 4,
} as const;

export interface WayOver {
  readonly way: readonly TablePointMm[];
  readonly isCorner: boolean;
}

/**
 * The edge beside a corner as it arrives there or leaves it; null when it is too short or no clean line.
 * @param roomMm length of the edge up to its next corner
 */
export function flankOf(
  points: readonly TablePointMm[],
  corner: number,
  step: 1 | -1,
  roomMm: number,
): LocalCurve | null {
  const n = points.length;
  const lastMm = Math.min(WAY.flankMm, roomMm - WAY.flankShyMm);
  if (lastMm - WAY.flankShyMm < WAY.leastFlankMm) return null;
  const near: Point[] = [];
  const s: number[] = [];
  for (let j = Math.ceil(WAY.flankShyMm / WAY.stepMm); j * WAY.stepMm <= lastMm; j++) {
    near.push(points[around(corner + step * j, n)]!);
    s.push(step * j * WAY.stepMm);
  }
  const curve = localCurve(near, s);
  return curve === null || curve.residualMm > WAY.cleanMm ? null : curve;
}

/** Edge beside a bridge as it goes on toward it, and how many points were passed over. */
export interface CleanFlank {
  readonly curve: LocalCurve;
  readonly skipped: number;
}

/**
 * Clean edge beside a bridge: the nearest, and what lies a little farther off, as the outline may have run past a corner before
 * it turned onto the thing. Empty where there is none.
 */
export function cleanFlanks({ polygon, state }: CoarseOutline, end: number, step: 1 | -1): CleanFlank[] {
  const n = polygon.length;
  const place = (k: number): number => around(end + step * k, n);
  const reach = Math.round(WAY.besideBridgeMm / WAY.stepMm);
  const most = Math.round(WAY.raggedMm / WAY.stepMm);
  const pastCorner = Math.round(WAY.pastCornerMm / WAY.stepMm);
  const found: CleanFlank[] = [];
  for (let skipped = 0; skipped <= most; skipped += 2) {
    const nearest = found[0]?.skipped ?? skipped;
    const indices = Array.from({ length: reach }, (_, k) => place(skipped + k));
    if (skipped - nearest > pastCorner || indices.some((index) => state[index] !== SEEN)) break;
    const curve = localCurve(
      indices.map((index) => polygon[index]!),
      indices.map((_, k) => step * k * WAY.stepMm),
    );
    if (curve !== null && curve.residualMm < WAY.cleanBridgeMm) found.push({ curve, skipped });
  }
  return found;
}

/**
 * Where the outline, followed from a corner by `step`, comes back to the line of the edge on the other side of the corner.
 * @param edge as it arrives at the corner or leaves it
 */
export function landing(
  points: readonly TablePointMm[],
  corner: number,
  edge: LocalCurve,
  step: 1 | -1,
): number | null {
  const n = points.length;
  const ahead: Point = [step * edge.tangent[0], step * edge.tangent[1]];
  let since: number | null = null;
  let nearestMm = 0;
  for (let k = Math.ceil(WAY.leastWidthMm / WAY.stepMm); k * WAY.stepMm < WAY.longestMm; k++) {
    const i = around(corner + step * k, n);
    const away = sub(points[i]!, edge.at);
    const alongMm = dot(away, ahead);
    const acrossMm = Math.abs(cross(ahead, away));
    if (alongMm < WAY.leastWidthMm || acrossMm > WAY.landMm + WAY.landRatio * alongMm) {
      since = null;
      continue;
    }
    if (since === null || acrossMm < nearestMm - WAY.landNearerMm) {
      since = k;
      nearestMm = acrossMm;
    }
    if ((k - since) * WAY.stepMm < WAY.landRunMm) continue;
    return around(corner + step * since, n);
  }
  return null;
}

/** How the edge would go on over a stretch; null when the sides do not meet, or when the stretch does not leave that way. */
export function wayOver(
  before: LocalCurve | null,
  after: LocalCurve | null,
  stretch: readonly TablePointMm[],
): WayOver | null {
  if (before === null || after === null) return null;
  const found = wayBetween(before, after);
  if (found === null) return null;
  const line = [stretch[0]!, ...found.way, stretch.at(-1)!];
  const awayMm = stretch.map((at) => Math.min(...line.slice(1).map((p, j) => distanceToSegment(at, line[j]!, p))));
  const depthMm = Math.max(...awayMm);
  // two things with the edge between them are not one
  if (longestRunMm(awayMm, (mm) => mm < WAY.landMm) > WAY.landRunMm) return null;
  return depthMm < WAY.leastDepthMm ? null : { way: line, isCorner: found.isCorner };
}

/** The way from the end of one edge to the start of another, both ends left out; null when neither leads to the other. */
export function wayBetween(before: LocalCurve, after: LocalCurve): WayOver | null {
  const from = tableMm(before.at[0], before.at[1]);
  const to = tableMm(after.at[0], after.at[1]);
  const gapMm = distance(from, to);
  const chord = unit(sub(to, from));
  const [leaving, arriving] = [turnDeg(before.tangent, chord), turnDeg(chord, after.tangent)];
  const isStraight = Math.max(Math.abs(leaving), Math.abs(arriving)) < WAY.smoothDeg;
  const isBent =
    Math.max(Math.abs(leaving), Math.abs(arriving)) < WAY.bentDeg && Math.abs(leaving - arriving) < WAY.bentApartDeg;
  if (isStraight || isBent) {
    if (gapMm > WAY.mostBridgedMm) return null;
    return { way: hermite(from, before.tangent, to, after.tangent), isCorner: false };
  }
  const met = meeting(before, after);
  const turn = turnDeg(before.tangent, after.tangent);
  if (met === null || Math.abs(turn) < WAY.cornerDeg) return null;
  // an edge that bends toward the other may reach it in a curve
  const farthestMm = ({ bendPerMm }: LocalCurve): number =>
    bendPerMm * turn > 0 ? WAY.cornerFarMm : WAY.mostBridgedMm;
  const ahead = dot(sub(met, from), before.tangent);
  const behind = dot(sub(to, met), after.tangent);
  if (Math.min(ahead, behind) < 0 || ahead > farthestMm(before) || behind > farthestMm(after)) return null;
  return { way: overCorner(from, met, to), isCorner: true };
}

function longestRunMm(values: readonly number[], holds: (value: number) => boolean): number {
  let [longest, run] = [0, 0];
  for (const value of values) {
    run = holds(value) ? run + 1 : 0;
    longest = Math.max(longest, run);
  }
  return longest * WAY.stepMm;
}
