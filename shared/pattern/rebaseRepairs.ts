// Corrections by hand carried from one trace of a piece to the next: the old outline is laid onto the new one, every
// correction moved with it and made again at the nearest place. What finds no place is set aside and reported, never lost.
import type { Point } from '../base/points.ts';
import { flattenRing } from '../geometry/flatten.ts';
import { polygonCentroid, resamplePolyline } from '../geometry/polygon.ts';
import { rigidFit } from '../geometry/rigidFit.ts';
import { segmentIndex } from '../geometry/segmentIndex.ts';
import { type Affine, apply, compose, rigid } from '../geometry/transform.ts';
import { distance } from '../geometry/vector.ts';
import type { Repair, RepairDeed, RepairMark, Shape } from './model.ts';
import { applyRepair } from './repairs.ts';

const ALIGN = {
  samples: 120,
  /** Turns of the old outline to start from; a new photo may show the piece any way round. */
  turns: 16,
  coarseRounds: 20,
  /** So many of the starts that settled best are followed to the end. */
  followed: 3,
  /** Points slide along straight edges slowly. */
  fineRounds: 100,
  /** The farthest of the points are left out: a redrawn stretch or a moved corner is no reason to shift the rest. */
  kept: 0.8,
  /** Outlines farther apart than this (median) are not traces of one piece. */
  samePieceMm: 3,
  reachMm: 40,
  chordMm: 0.2,
} as const;

export interface Rebased {
  readonly shape: Shape;
  /** Corrections that found no place in this trace. */
  readonly unfit: readonly Repair[];
  /** How the old outline lies on the new one; null when they are not traces of one piece. */
  readonly newFromOld: Affine | null;
}

/** The new trace with the old one's corrections made again, those that were set aside before tried again too. */
export function rebaseRepairs(old: Shape, traced: Shape): Rebased {
  const repairs = old.repairs ?? [];
  const aligned = alignShapes(old, traced);
  const newFromOld = aligned?.newFromOld ?? null;
  if (repairs.length === 0) return { shape: traced, unfit: [], newFromOld };
  let shape = traced;
  const kept: Repair[] = [];
  for (const repair of repairs) {
    const moved = aligned === null ? repair : movedRepair(repair, aligned.newFromOld);
    const made = aligned === null ? null : applyRepair(shape, moved);
    if (made?.ok) shape = made.value;
    kept.push({ ...moved, setAside: !(made?.ok ?? false) });
  }
  return { shape: { ...shape, repairs: kept }, unfit: kept.filter(({ setAside }) => setAside), newFromOld };
}

/** Lays the old outline onto the new one; null when they are not traces of one piece. */
export function alignShapes(old: Shape, traced: Shape): Aligned | null {
  const source = ringOf(old);
  const target = ringOf(traced);
  const sample = evenly(source);
  const coarse = evenly(target);
  const [from, to] = [polygonCentroid(source), polygonCentroid(target)];
  const starts = Array.from({ length: ALIGN.turns }, (_, k): Aligned => {
    const start = compose(rigid((360 * k) / ALIGN.turns, to), [1, 0, 0, 1, -from[0], -from[1]]);
    return settled(sample, start, ALIGN.coarseRounds, (at) => nearestOf(coarse, at));
  });
  const index = segmentIndex([{ points: target, closed: true }]);
  const fine = starts
    .toSorted((a, b) => a.medianMm - b.medianMm)
    .slice(0, ALIGN.followed)
    .map(({ newFromOld }) =>
      settled(sample, newFromOld, ALIGN.fineRounds, (at) => index.nearest(at, ALIGN.reachMm)?.point ?? null),
    )
    .toSorted((a, b) => a.medianMm - b.medianMm)[0]!;
  return fine.medianMm > ALIGN.samePieceMm ? null : fine;
}

export interface Aligned {
  readonly newFromOld: Affine;
  /** Median distance of the old outline, so laid, from the new one. */
  readonly medianMm: number;
}

/** Nearest points and the best rigid map in turn, until it has settled (Besl and McKay 1992, ICP). */
function settled(
  sample: readonly Point[],
  start: Affine,
  rounds: number,
  nearest: (at: Point) => Point | null,
): Aligned {
  let newFromOld = start;
  let medianMm = Number.POSITIVE_INFINITY;
  for (let round = 0; round < rounds; round++) {
    const pairs = sample
      .map((point) => {
        const at = apply(newFromOld, point);
        const near = nearest(at);
        return { point, near, awayMm: near === null ? Number.POSITIVE_INFINITY : distance(at, near) };
      })
      .toSorted((a, b) => a.awayMm - b.awayMm);
    medianMm = pairs[pairs.length >> 1]!.awayMm;
    const used = pairs
      .slice(0, Math.floor(ALIGN.kept * pairs.length))
      .flatMap(({ point, near }) => (near === null ? [] : [{ point, near }]));
    if (used.length < 2) break;
    newFromOld = rigidFit(
      used.map(({ point }) => point),
      used.map(({ near }) => near),
    );
  }
  return { newFromOld, medianMm };
}

function nearestOf(points: readonly Point[], at: Point): Point | null {
  let best: Point | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const point of points) {
    const away = (point[0] - at[0]) ** 2 + (point[1] - at[1]) ** 2;
    if (away >= least) continue;
    least = away;
    best = point;
  }
  return best;
}

function evenly(ring: readonly Point[]): Point[] {
  return resamplePolyline([...ring, ring[0]!], perimeterOf(ring) / ALIGN.samples).slice(0, -1);
}

function ringOf(shape: Shape): readonly Point[] {
  return flattenRing(
    shape.ring.map((edge) => edge.curve),
    ALIGN.chordMm,
  );
}

function perimeterOf(ring: readonly Point[]): number {
  return ring.reduce((sum, p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    return sum + Math.hypot(q[0] - p[0], q[1] - p[1]);
  }, 0);
}

function movedRepair(repair: Repair, map: Affine): Repair {
  return { ...movedDeed(repair, map), id: repair.id, setAside: repair.setAside };
}

function movedDeed(deed: RepairDeed, map: Affine): RepairDeed {
  switch (deed.kind) {
    case 'corner-moved':
      return { kind: deed.kind, from: apply(map, deed.from), to: apply(map, deed.to) };
    case 'stretch-redrawn':
      return { kind: deed.kind, curve: deed.curve.map((point) => apply(map, point)) };
    case 'edge-split':
    case 'edges-joined':
      return { kind: deed.kind, at: apply(map, deed.at) };
    case 'mark-added':
      return { kind: deed.kind, mark: movedMark(deed.mark, map) };
    case 'mark-moved':
      return { kind: deed.kind, from: apply(map, deed.from), mark: movedMark(deed.mark, map) };
    case 'mark-removed':
      return { kind: deed.kind, mark: deed.mark, at: apply(map, deed.at) };
  }
}

function movedMark(mark: RepairMark, map: Affine): RepairMark {
  switch (mark.kind) {
    case 'notch':
    case 'hole':
    case 'button':
      return { ...mark, at: apply(map, mark.at) };
    case 'dart':
      return { ...mark, legs: [apply(map, mark.legs[0]), apply(map, mark.legs[1])], apex: apply(map, mark.apex) };
    default:
      return { ...mark, from: apply(map, mark.from), to: apply(map, mark.to) };
  }
}
