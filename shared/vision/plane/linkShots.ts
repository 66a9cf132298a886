// Which photos show the same cards lying in the same places. Two cards that keep their distance and their turn are proof;
// a single one is only believed when the outlines that both photos see fall onto one another as well.
import { type PhotoPointPx, type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import { rigidFit } from '../../geometry/rigidFit.ts';
import { type Affine, apply } from '../../geometry/transform.ts';
import { distance } from '../../geometry/vector.ts';
import { type ErrorModes, errorModes, FLAT_PAPER, lengthUncertainty } from './lengthUncertainty.ts';
import { type PlaneSolution, photoFromTable, tableFromPhoto } from './planeSolution.ts';

/** One photo as far as linking needs it. */
export interface LinkShot {
  readonly solution: PlaneSolution;
  /** The corners used of each card, by its name; names seen twice in one photo are left out. */
  readonly corners: ReadonlyMap<string, ReadonlyMap<string, PhotoPointPx>>;
  /** Stretches of outline measured in this photo, its own table frame. */
  readonly outlines: readonly (readonly TablePointMm[])[];
}

export type Link =
  | { readonly kind: 'joined'; readonly aFromB: Affine }
  /** They share cards that lie elsewhere. */
  | { readonly kind: 'moved' }
  /** They share one card and nothing that proves it was not moved. */
  | { readonly kind: 'unproven' }
  | { readonly kind: 'none' };

const LINK = {
  /** Agreement asked of two cards' places: this many sigmas, a fixed part, and a part of their distance (rough tilts). */
  sigmas: 4,
  fixedMm: 1,
  distanceRatio: 0.01,
  turnRad: 0.02,
  /** Agreement asked of outlines: a fixed part and a part of the distance from the one shared card. */
  outlineMm: 3,
  outlineRatio: 0.015,
  /** Outline points are compared at this distance from one another... */
  outlineStepMm: 5,
  /** ...at least so many of them... */
  fewestPoints: 8,
  /** ...and so large a share must agree. */
  agreeingRatio: 0.8,
  /** Points nearer to a photo's rim are not expected in it. */
  rimPx: 40,
} as const;

export function linkOf(a: LinkShot, b: LinkShot): Link {
  const shared = [...a.corners.keys()].filter((id) => b.corners.has(id));
  if (shared.length === 0) return { kind: 'none' };
  const [ours, theirs] = pairedCorners(a, b, shared);
  if (ours.length < 2) return { kind: 'none' };
  const aFromB = rigidFit(theirs, ours);
  if (shared.length >= 2) return keepPlaces(a, b, shared) ? { kind: 'joined', aFromB } : { kind: 'moved' };
  const agreement = outlinesAgree(a, b, aFromB, ours[0]!);
  if (agreement === null) return { kind: 'unproven' };
  return agreement ? { kind: 'joined', aFromB } : { kind: 'moved' };
}

/** The corners that both photos see, on the table of each. */
function pairedCorners(a: LinkShot, b: LinkShot, shared: readonly string[]): [Point[], Point[]] {
  const ours: Point[] = [];
  const theirs: Point[] = [];
  for (const id of shared)
    for (const [key, photo] of a.corners.get(id)!) {
      const other = b.corners.get(id)!.get(key);
      if (other === undefined) continue;
      ours.push(tableFromPhoto(a.solution, photo));
      theirs.push(tableFromPhoto(b.solution, other));
    }
  return [ours, theirs];
}

/** Whether every shared card lies the same way as seen from every other one. */
function keepPlaces(a: LinkShot, b: LinkShot, shared: readonly string[]): boolean {
  const [inA, inB] = [a, b].map((shot) => placesOf(shot, shared)) as [SharedPlaces, SharedPlaces];
  for (let i = 0; i < shared.length; i++)
    for (let j = 0; j < shared.length; j++) {
      if (i === j) continue;
      const turns = inA.turns[j]! - inA.turns[i]! - inB.turns[j]! + inB.turns[i]!;
      if (Math.abs(Math.atan2(Math.sin(turns), Math.cos(turns))) > LINK.turnRad) return false;
      const [fromA, sigmaA] = inA.across(i, j);
      const [fromB, sigmaB] = inB.across(i, j);
      const allowed =
        LINK.fixedMm + LINK.sigmas * Math.hypot(sigmaA, sigmaB) + LINK.distanceRatio * Math.hypot(...fromA);
      if (distance(fromA, fromB) > allowed) return false;
    }
  return true;
}

interface SharedPlaces {
  readonly turns: readonly number[];
  /** Where card j lies as seen from card i (in its axes), and how sure the distance is. */
  readonly across: (i: number, j: number) => [Point, number];
}

function placesOf({ solution, corners }: LinkShot, shared: readonly string[]): SharedPlaces {
  const errors: ErrorModes = errorModes(solution, FLAT_PAPER);
  const turns = shared.map((id) => solution.cards.find((card) => card.id === id)!.turnRad);
  // The same corner of a card in both photos: its first by name, which every whole card has.
  const places = shared.map((id) => [...corners.get(id)!.entries()].toSorted(([p], [q]) => p.localeCompare(q))[0]![1]);
  return {
    turns,
    across: (i, j) => {
      const from = tableFromPhoto(solution, places[i]!);
      const to = tableFromPhoto(solution, places[j]!);
      const [cos, sin] = [Math.cos(turns[i]!), Math.sin(turns[i]!)];
      const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
      const { sigmaMm } = lengthUncertainty(errors, [places[i]!, places[j]!]);
      return [[cos * dx + sin * dy, -sin * dx + cos * dy], sigmaMm];
    },
  };
}

/** Null when the photos see no stretch of outline together. */
function outlinesAgree(a: LinkShot, b: LinkShot, aFromB: Affine, cardMm: Point): boolean | null {
  const ours = thinned(a.outlines.flat());
  let seen = 0;
  let agreeing = 0;
  for (const outline of b.outlines)
    for (const point of thinned(outline)) {
      const moved = apply(aFromB, point);
      if (!isIn(a.solution, moved)) continue;
      seen++;
      const tolerance = LINK.outlineMm + LINK.outlineRatio * distance(moved, cardMm) + LINK.outlineStepMm / 2;
      if (ours.some((p) => distance(p, moved) <= tolerance)) agreeing++;
    }
  return seen < LINK.fewestPoints ? null : agreeing >= LINK.agreeingRatio * seen;
}

function isIn(solution: PlaneSolution, point: Point): boolean {
  const [x, y] = photoFromTable(solution, tableMm(point[0], point[1]));
  const { widthPx, heightPx } = solution.camera;
  return x > LINK.rimPx && y > LINK.rimPx && x < widthPx - LINK.rimPx && y < heightPx - LINK.rimPx;
}

function thinned(points: readonly TablePointMm[]): TablePointMm[] {
  const kept: TablePointMm[] = [];
  for (const point of points) {
    const last = kept.at(-1);
    if (last === undefined || distance(last, point) >= LINK.outlineStepMm) kept.push(point);
  }
  return kept;
}
