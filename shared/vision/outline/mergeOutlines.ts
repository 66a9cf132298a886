// One outline from what several photos saw of it. Which way it runs follows from the union of the areas; where it lies, from
// the photos' own measured points there, weighed by how sure each is, and fading out toward the rim of each photo.
// Union of polygons: clipper2 (Vatti's algorithm).
import { FillRule, unionD } from 'clipper2-ts';
import { type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import { isClockwise, signedAreaMm2 } from '../../geometry/polygon.ts';
import { type IndexedLine, type SegmentIndex, segmentIndex } from '../../geometry/segmentIndex.ts';
import { distance, dot, lerp, sub, unit } from '../../geometry/vector.ts';
import type { UnsureStretch } from '../traced.ts';
import { around } from './ring.ts';

/** What one photo saw of a piece, in a table frame that all parts share. */
export interface OutlinePart {
  readonly shot: number;
  /** Closed, clockwise. */
  readonly points: readonly TablePointMm[];
  /** 1 where the points follow the photo's rim; empty when the piece is whole. */
  readonly atRim: Uint8Array;
  /** By index into `points`. */
  readonly unsure: readonly UnsureStretch[];
  /** Standard uncertainty of one measured point across the outline. */
  readonly pointSigmaMm: number;
  /** The same with what the plane brings in there: by this the photos are weighed against one another. */
  readonly sigmaMm: (at: TablePointMm) => number;
}

export interface MergedOutline {
  /** Closed, clockwise. */
  readonly points: readonly TablePointMm[];
  /** For each point, how much each shot says about it; weights sum to 1. */
  readonly shares: readonly (readonly { readonly shot: number; readonly weight: number }[])[];
  readonly unsure: readonly UnsureStretch[];
  /** Median standard uncertainty of one point. */
  readonly pointSigmaMm: number;
  /** Some stretch was seen by no photo: the piece is not whole. */
  readonly open: boolean;
}

const MERGE = {
  /** The same edge in two photos lies within a fixed part and so many sigmas... */
  sameMm: 1.5,
  sameSigmas: 3,
  /** ...for this share of the points that both should see, at least so many, this far apart. */
  sameRatio: 0.85,
  fewestPoints: 8,
  stepMm: 5,
  /** Measured points are looked for this far from the union's outline. */
  reachMm: 4,
  /** An edge counts only where it runs in the union's direction: the other side of a narrow strip does not. */
  sameWay: -0.2,
  /** A photo's say grows from nothing at the rim to all over this length. */
  fadeMm: 30,
  leastFade: 1e-3,
  /** An unsure point says little, and nothing against a sure one. */
  unsureFade: 1e-2,
  /** A side of the outline that no photo saw over more than this leaves the piece open; corners cut at a photo's rim are shorter. */
  widestGapMm: 20,
  /** Photos that differ by more than this leave the outline unsure. */
  disagreeMm: 1.2,
  /** Shorter doubts are spanned by their neighbours. */
  shortestUnsureMm: 4,
  /** Points closer than this are one. */
  coincidentMm: 0.02,
  /** Decimals kept by the union. */
  decimals: 4,
} as const;

/** Stretches of a part that were measured: the closed ring of a whole piece, or open runs between rims. */
export interface MeasuredRuns {
  readonly lines: readonly IndexedLine[];
  /** For every line, the index into the part's points of each of its points. */
  readonly origin: readonly (readonly number[])[];
}

export function measuredRuns({ points, atRim }: Pick<OutlinePart, 'points' | 'atRim'>): MeasuredRuns {
  const n = points.length;
  const first = atRim.indexOf(1);
  if (first < 0) return { lines: [{ points, closed: true }], origin: [points.map((_, i) => i)] };
  const runs: number[][] = [];
  let open: number[] = [];
  for (let k = 1; k <= n; k++) {
    const i = (first + k) % n;
    if (atRim[i] === 0) open.push(i);
    else if (open.length > 0) {
      if (open.length > 1) runs.push(open);
      open = [];
    }
  }
  return { lines: runs.map((run) => ({ points: run.map((i) => points[i]!), closed: false })), origin: runs };
}

/**
 * Whether two parts show the same piece: where both photos look, their measured stretches lie on one another.
 * @param sees whether a shot's photo shows a place of the table, well inside
 */
export function samePiece(a: OutlinePart, b: OutlinePart, sees: (shot: number, at: TablePointMm) => boolean): boolean {
  const one = agreement(a, b, sees);
  const other = agreement(b, a, sees);
  const seen = one.seen + other.seen;
  return seen >= 2 * MERGE.fewestPoints && one.agreeing + other.agreeing >= MERGE.sameRatio * seen;
}

function agreement(a: OutlinePart, b: OutlinePart, sees: (shot: number, at: TablePointMm) => boolean) {
  const index = segmentIndex(measuredRuns(b).lines);
  let seen = 0;
  let agreeing = 0;
  for (const { points } of measuredRuns(a).lines) {
    let last: Point | null = null;
    for (const point of points as readonly TablePointMm[]) {
      if (last !== null && distance(last, point) < MERGE.stepMm) continue;
      last = point;
      if (!sees(b.shot, point)) continue;
      seen++;
      const reachMm = MERGE.sameMm + MERGE.sameSigmas * Math.hypot(a.sigmaMm(point), b.sigmaMm(point));
      if (index.nearest(point, reachMm) !== null) agreeing++;
    }
  }
  return { seen, agreeing };
}

/** Null when the parts do not hang together. */
export function mergeOutlines(parts: readonly OutlinePart[]): MergedOutline | null {
  const seen = parts.map((part) => ({ part, ...measured(part) }));
  const rings = seen.map(({ runs }) => runs.lines.flatMap(({ points }) => points.map(([x, y]) => ({ x, y }))));
  const union = unionD(rings, [], FillRule.NonZero, MERGE.decimals)
    .map((path) => path.map(({ x, y }) => tableMm(x, y)))
    .toSorted((a, b) => Math.abs(signedAreaMm2(b)) - Math.abs(signedAreaMm2(a)));
  const outer = union[0];
  if (outer === undefined || parts.some(({ points }) => !nearAny(outer, points))) return null;
  const ring = isClockwise(outer) ? outer : outer.toReversed();
  const points: TablePointMm[] = [];
  const shares: { shot: number; weight: number }[][] = [];
  const doubts: (UnsureStretch['reason'] | null)[] = [];
  const sigmas: number[] = [];
  let open = spansUnseen(ring, seen);
  ring.forEach((at, i) => {
    const along = unit(sub(ring[(i + 1) % ring.length]!, ring[(i + ring.length - 1) % ring.length]!));
    const placed = placeOf(at, along, seen);
    if (placed === null) {
      open = true;
      return;
    }
    const last = points.at(-1);
    if (last !== undefined && distance(last, placed.at) < MERGE.coincidentMm) return;
    points.push(placed.at);
    shares.push(placed.shares);
    doubts.push(placed.doubt);
    sigmas.push(placed.sigmaMm);
  });
  if (points.length < 3) return null;
  const sorted = sigmas.toSorted((a, b) => a - b);
  const pointSigmaMm = sorted[sorted.length >> 1]!;
  return { points, shares, unsure: stretchesOf(points, doubts), pointSigmaMm, open };
}

/** Whether a side of the union's outline leads from one measured place to the next where no part measured anything: the rim of a photo beyond which nobody looked. */
function spansUnseen(ring: readonly TablePointMm[], seen: readonly Seen[]): boolean {
  return ring.some((from, i) => {
    const to = ring[(i + 1) % ring.length]!;
    const sideMm = distance(from, to);
    if (sideMm <= MERGE.widestGapMm) return false;
    const along = unit(sub(to, from));
    const steps = Math.ceil(sideMm / MERGE.stepMm);
    let unseenMm = 0;
    for (let k = 1; k < steps; k++) {
      const [x, y] = lerp(from, to, k / steps);
      unseenMm = placeOf(tableMm(x, y), along, seen) === null ? unseenMm + sideMm / steps : 0;
      if (unseenMm > MERGE.widestGapMm) return true;
    }
    return false;
  });
}

/** Whether the union's outline is the outline of this part too, not of another piece far away. */
function nearAny(outer: readonly Point[], points: readonly Point[]): boolean {
  const index = segmentIndex([{ points: outer, closed: true }]);
  return points.some((point) => index.nearest(point, MERGE.reachMm) !== null);
}

interface Seen {
  readonly part: OutlinePart;
  readonly runs: MeasuredRuns;
  readonly index: SegmentIndex;
  /** For every line the running length at each point. */
  readonly lengths: readonly (readonly number[])[];
  readonly doubtOf: ReadonlyMap<number, UnsureStretch['reason']>;
}

function measured(part: OutlinePart): Omit<Seen, 'part'> {
  const runs = measuredRuns(part);
  const lengths = runs.lines.map(({ points }) => {
    let along = 0;
    return points.map((point, i) => {
      if (i > 0) along += distance(points[i - 1]!, point);
      return along;
    });
  });
  const doubtOf = new Map<number, UnsureStretch['reason']>();
  const n = part.points.length;
  for (const { fromIndex, toIndex, reason } of part.unsure) {
    const count = around(toIndex - fromIndex, n);
    for (let k = 0; k <= count; k++) doubtOf.set((fromIndex + k) % n, reason);
  }
  return { runs, index: segmentIndex(runs.lines), lengths, doubtOf };
}

interface Placed {
  readonly at: TablePointMm;
  readonly shares: { shot: number; weight: number }[];
  readonly doubt: UnsureStretch['reason'] | null;
  readonly sigmaMm: number;
}

/** The weighed mean of the nearest measured place of every part; null when no part measured anything here. */
function placeOf(at: TablePointMm, along: Point, seen: readonly Seen[]): Placed | null {
  const feet = seen.flatMap(({ part, runs, index, lengths, doubtOf }) => {
    const near = index.nearest(at, MERGE.reachMm, (line, segment) => {
      const { points } = runs.lines[line]!;
      return dot(along, unit(sub(points[(segment + 1) % points.length]!, points[segment]!))) > MERGE.sameWay;
    });
    if (near === null) return [];
    const { closed } = runs.lines[near.line]!;
    const length = lengths[near.line]!;
    const fromEndMm = closed
      ? Number.POSITIVE_INFINITY
      : Math.min(length[near.segment]!, length.at(-1)! - length[near.segment + 1]!);
    const doubt = doubtOf.get(runs.origin[near.line]![near.segment]!) ?? null;
    const sigmaMm = part.sigmaMm(at);
    const fade = Math.max(MERGE.leastFade, Math.min(1, fromEndMm / MERGE.fadeMm));
    const weight = (fade * (doubt === null ? 1 : MERGE.unsureFade)) / sigmaMm ** 2;
    return [{ shot: part.shot, point: near.point, weight, doubt, pointSigmaMm: part.pointSigmaMm, fade }];
  });
  const total = feet.reduce((sum, { weight }) => sum + weight, 0);
  if (total === 0) return null;
  let [x, y, variance] = [0, 0, 0];
  for (const { point, weight, pointSigmaMm } of feet) {
    x += (weight * point[0]) / total;
    y += (weight * point[1]) / total;
    variance += ((weight / total) * pointSigmaMm) ** 2;
  }
  const sure = feet.filter(({ doubt }) => doubt === null);
  const full = sure.filter(({ fade }) => fade === 1);
  const apart = full.some((a) => full.some((b) => distance(a.point, b.point) > MERGE.disagreeMm));
  return {
    at: tableMm(x, y),
    shares: feet.map(({ shot, weight }) => ({ shot, weight: weight / total })),
    doubt: sure.length === 0 ? feet[0]!.doubt : apart ? 'gap' : null,
    sigmaMm: Math.sqrt(variance),
  };
}

function stretchesOf(
  points: readonly TablePointMm[],
  doubts: readonly (UnsureStretch['reason'] | null)[],
): UnsureStretch[] {
  const stretches: UnsureStretch[] = [];
  for (let i = 0; i < doubts.length; i++) {
    const reason = doubts[i]!;
    if (reason === null) continue;
    let end = i;
    let lengthMm = 0;
    while (end + 1 < doubts.length && doubts[end + 1] === reason) {
      lengthMm += distance(points[end]!, points[end + 1]!);
      end++;
    }
    if (lengthMm >= MERGE.shortestUnsureMm) stretches.push({ fromIndex: i, toIndex: end, reason });
    i = end;
  }
  return stretches;
}
