// Finds where an outline runs along the rim of a thing that lies over the paper's edge (a weight, a hand, a ruler) instead of
// along the edge. Known by two signs: the rim goes on behind the corner where the outline turns onto it, and what lies between
// the outline and the way on which the edge would go on is neither paper nor table. With both, the edge is bridged; with
// one, or without a way to bridge it, it stays and is called unsure. Where neither shows, the paper was cut like that.
import type { PhotoPointPx, TablePointMm } from '../../base/points.ts';
import { pointInPolygon } from '../../geometry/polygon.ts';
import { distance } from '../../geometry/vector.ts';
import type { RgbImage } from '../image.ts';
import { CORNER_DEFAULTS, splitCorners } from '../stages/splitCorners.ts';
import { COVERED, type CoarseOutline, evenOutline, GAP } from './coarseOutline.ts';
import { flankIsEdge, foreignBetween, type PhotoSigns, photoSigns } from './coverSigns.ts';
import { type CleanFlank, cleanFlanks, flankOf, landing, WAY, wayBetween, wayOver } from './edgeWay.ts';
import type { LocalCurve } from './localFit.ts';
import { around, indexApart, withWays } from './ring.ts';

const COVER = {
  /** Corners of the raw outline, rounded by the segmentation. */
  gapMm: 1.5,
  cornerReachMm: 9,
  /** No cover takes more of the outline than this share. */
  mostShare: 0.5,
  /** A landing so near to a corner is that corner. */
  landApartMm: 5,
  /** Corners nearer together than this are the lips of a notch. */
  notchMm: 11,
  /** Edge beside a cover that is bridged with it. */
  besideMm: 3,
  /** A rim so clear makes its corner suspect without a partner; suspects nearer together than this are one. */
  clearRim: 1.5,
  aroundMm: 4,
  rimMm: 60,
  togetherMm: 40,
} as const;

export interface UncoveredOutline {
  /** With covered stretches bridged. */
  readonly coarse: CoarseOutline;
  /** Places of the outline that may belong to something else. */
  readonly doubtful: readonly TablePointMm[];
}

type ToPhoto = (point: TablePointMm) => PhotoPointPx;

export function uncovered(rgb: RgbImage, given: CoarseOutline, toPhoto: ToPhoto): UncoveredOutline {
  const outline = rebridged(evenOutline(given, WAY.stepMm));
  const even = evenOutline(outline, WAY.stepMm);
  const points = even.polygon;
  const n = points.length;
  const sharp = cornersOf(points);
  if (sharp.length === 0) return { coarse: outline, doubtful: [] };
  const photo = photoSigns(rgb, points, sharp, toPhoto);
  const corners = cornersAt(points, withLandings(points, sharp, photo), photo);
  const judged = corners.flatMap((from) => corners.flatMap((to) => judgedStretch(points, from, to, photo) ?? []));
  judged.sort((a, b) => b.rank - a.rank || (a.way === null ? a.count - b.count : b.count - a.count));
  const used = new Uint8Array(n);
  const chosen: Judged[] = [];
  for (const candidate of judged) {
    let free = true;
    for (let k = 1; k < candidate.count && free; k++) free = used[(candidate.start + k) % n] === 0;
    if (!free) continue;
    for (let k = 0; k <= candidate.count; k++) used[(candidate.start + k) % n] = 1;
    chosen.push(candidate);
  }
  const lone = corners.flatMap((corner): LoneRim[] => {
    const [hasBack, hasOn] = [corner.back > COVER.clearRim, corner.on > COVER.clearRim];
    if (used[corner.at] === 1 || !(hasBack || hasOn) || corner.isNotchLike) return [];
    const along = (roomMm: number, isRim: boolean): number =>
      Math.round((isRim ? Math.min(roomMm, COVER.rimMm) : COVER.aroundMm) / WAY.stepMm);
    return [{ at: corner.at, from: along(corner.roomBeforeMm, hasOn), to: along(corner.roomAfterMm, hasBack) }];
  });
  if (chosen.length + lone.length === 0) return { coarse: outline, doubtful: [] };
  return { coarse: bridgedOver(even, chosen), doubtful: suspectPlaces(even, chosen, lone) };
}

/**
 * What was found covered before, bridged by what the edges on either side say a little farther off: right beside the thing the
 * outline is bent by its shadow. A bridge without clean edges stays as it is.
 */
function rebridged(outline: CoarseOutline): CoarseOutline {
  const { polygon, state } = outline;
  const n = polygon.length;
  const chosen: Pick<Judged, 'start' | 'count' | 'way'>[] = [];
  for (let i = 0; i < n; i++) {
    if (state[i] !== COVERED || state[(i - 1 + n) % n] === COVERED) continue;
    let length = 1;
    while (length < n && state[(i + length) % n] === COVERED) length++;
    const found = nearestWay(cleanFlanks(outline, i - 1, -1), cleanFlanks(outline, i + length, 1));
    if (found === null) continue;
    const start = around(i - 1 - found.before.skipped, n);
    const count = found.before.skipped + 1 + length + found.after.skipped;
    chosen.push({ start, count, way: [polygon[start]!, ...found.way, polygon[(start + count) % n]!] });
  }
  return bridgedOver(outline, chosen);
}

/** The way between the nearest two flanks that have one. */
function nearestWay(befores: readonly CleanFlank[], afters: readonly CleanFlank[]) {
  const pairs = befores.flatMap((before) => afters.map((after) => ({ before, after })));
  pairs.sort((a, b) => a.before.skipped + a.after.skipped - b.before.skipped - b.after.skipped);
  for (const { before, after } of pairs) {
    const found = wayBetween(before.curve, after.curve);
    if (found !== null) return { before, after, way: found.way };
  }
  return null;
}

/** Doubted stretches and what lies around lone rims, with all between that are near together. */
function suspectPlaces(
  { polygon: points, state }: CoarseOutline,
  chosen: readonly Judged[],
  lone: readonly LoneRim[],
): TablePointMm[] {
  const n = points.length;
  const spans = [
    ...chosen.map(({ start, count, way }) => ({ start, count, isDoubted: way === null })),
    ...lone.map(({ at, from, to }) => ({ start: (at - from + n) % n, count: from + to, isDoubted: true })),
    // where nothing showed the edge already, the thing may be why
    ...points.flatMap((_, i) => (state[i] === GAP ? [{ start: i, count: 0, isDoubted: false }] : [])),
  ].sort((a, b) => a.start - b.start);
  const flags = new Uint8Array(n);
  const mark = (start: number, count: number): void => {
    for (let k = 0; k <= count; k++) flags[(start + k) % n] = 1;
  };
  spans.forEach((span, i) => {
    if (span.isDoubted) mark(span.start, span.count);
    const next = spans[(i + 1) % spans.length]!;
    const end = span.start + span.count;
    const gap = around(next.start - end, n);
    if (next === span || gap * WAY.stepMm > COVER.togetherMm || !(span.isDoubted || next.isDoubted)) return;
    mark(end, gap);
  });
  return points.filter((_, i) => flags[i] === 1);
}

/** A corner at a rim without a partner: what follows its rim and a little of the edge, in points before and after it. */
interface LoneRim {
  readonly at: number;
  readonly from: number;
  readonly to: number;
}

interface Judged {
  readonly start: number;
  readonly count: number;
  /** What takes the place of the stretch; null when it stays and is doubted. */
  readonly way: readonly TablePointMm[] | null;
  /** What goes first where two overlap; of equals the longer cover, the shorter doubt. */
  readonly rank: number;
}

function cornersOf(points: readonly TablePointMm[]): number[] {
  const options = { ...CORNER_DEFAULTS, gapMm: COVER.gapMm, reachMm: COVER.cornerReachMm };
  const found = splitCorners(points, options).map(({ alongMm }) => Math.round(alongMm / WAY.stepMm) % points.length);
  return [...new Set(found)].sort((a, b) => a - b);
}

interface Corner {
  /** Index in the outline. */
  readonly at: number;
  /** Length of the border before and after it, up to the next corner. */
  readonly roomBeforeMm: number;
  readonly roomAfterMm: number;
  /** Step behind it of the border after it followed back and of that before it followed on. */
  readonly back: number;
  readonly on: number;
  /** The edge on either side; null where it is too short or no clean line. */
  readonly before: LocalCurve | null;
  readonly after: LocalCurve | null;
  /** Whether another corner is as near as that on the other side of a notch: its lips look like rims to one another. */
  readonly isNotchLike: boolean;
}

function cornersAt(points: readonly TablePointMm[], indices: readonly number[], photo: PhotoSigns): Corner[] {
  const room = (c: number, step: 1 | -1): number => roomMm(points, indices, c, step);
  const back = indices.map((at, c) => photo.behind(at, 1, room(c, 1)));
  const on = indices.map((at, c) => photo.behind(at, -1, room(c, -1)));
  return indices.map((at, c) => ({
    at,
    roomBeforeMm: room(c, -1),
    roomAfterMm: room(c, 1),
    back: back[c]!,
    on: on[c]!,
    before: flankOf(points, at, -1, room(c, -1)),
    after: flankOf(points, at, 1, room(c, 1)),
    isNotchLike: indices.some((other, o) => o !== c && distance(points[other]!, points[at]!) < COVER.notchMm),
  }));
}

/** Length of the border beside a corner, up to the next. */
function roomMm(points: readonly TablePointMm[], corners: readonly number[], c: number, step: 1 | -1): number {
  const n = points.length;
  const next = corners[(c + step + corners.length) % corners.length]!;
  const count = around(step * (next - corners[c]!), n);
  return (count === 0 ? n : count) * WAY.stepMm;
}

/**
 * The corners, and where the edge that ends in one of them at a rim goes on beyond the thing: the outline need not turn
 * sharply there, when a shadow rounds the place.
 */
function withLandings(points: readonly TablePointMm[], corners: readonly number[], photo: PhotoSigns): number[] {
  const n = points.length;
  const found = [...corners];
  const apart = COVER.landApartMm / WAY.stepMm;
  const isNew = (at: number): boolean => found.every((c) => indexApart(at, c, n) > apart);
  corners.forEach((corner, c) => {
    for (const step of [1, -1] as const) {
      // the rim lies on one side of the corner, the edge on the other
      if (photo.behind(corner, step, roomMm(points, corners, c, step)) <= 1) continue;
      const other = step === 1 ? -1 : 1;
      const edge = flankOf(points, corner, other, roomMm(points, corners, c, other));
      const at = edge === null ? null : landing(points, corner, edge, step);
      if (at !== null && isNew(at)) found.push(at);
    }
  });
  return found.sort((a, b) => a - b);
}

/** What to do about the stretch between two corners; null when nothing speaks against its being the paper's own edge. */
function judgedStretch(points: readonly TablePointMm[], from: Corner, to: Corner, photo: PhotoSigns): Judged | null {
  const n = points.length;
  const start = from.at;
  const count = (to.at - start + n) % n;
  if (from === to || count * WAY.stepMm > Math.min(WAY.longestMm, COVER.mostShare * n * WAY.stepMm)) return null;
  if (distance(points[start]!, points[to.at]!) < WAY.leastWidthMm) return null;
  const stretch = Array.from({ length: count + 1 }, (_, j) => points[(start + j) % n]!);
  const seen = [from.back, to.on].filter((ratio) => ratio > 1).length;
  const found = wayOver(from.before, to.after, stretch);
  if (found === null) {
    const isSure = from.isNotchLike || to.isNotchLike;
    return seen === 2 && !isSure ? { start, count, way: null, rank: seen } : null;
  }
  const isBite = !pointInPolygon(found.way[found.way.length >> 1]!, points);
  const { isForeign, isColoured } = foreignBetween(stretch, found.way, isBite ? photo.table : photo.paper, photo);
  const isEdge = flankIsEdge(points, start, -1, photo) && flankIsEdge(points, to.at, 1, photo);
  const isProven = isEdge && (seen === 2 || (isForeign && seen === 1) || (isColoured && !found.isCorner));
  if (isProven) return { start, count, way: found.way, rank: PROVEN + seen };
  const isDoubtful = isForeign || seen === 2 || (seen === 1 && !found.isCorner);
  return isDoubtful ? { start, count, way: null, rank: seen } : null;
}

/** A proven cover goes before any doubt. */
const PROVEN = 10;

/** The outline with the ways in place of their stretches and of a little edge beside them. */
function bridgedOver(
  { polygon, state }: CoarseOutline,
  chosen: readonly Pick<Judged, 'start' | 'count' | 'way'>[],
): CoarseOutline {
  const n = polygon.length;
  // both ends of a stretch are in its way too
  const ways = chosen.flatMap(({ start, count, way }) =>
    way === null ? [] : [{ start, count: count + 1, points: way }],
  );
  if (ways.length === 0) return { polygon, state };
  const beside = Math.round(COVER.besideMm / WAY.stepMm);
  const isBeside = (i: number): boolean =>
    ways.some(({ start, count }) => Math.min(around(start - i, n), around(i - start - count + 1, n)) <= beside);
  const { points, from } = withWays(polygon, ways);
  return {
    polygon: points,
    state: Uint8Array.from(from, (i) => (i < 0 || isBeside(i) ? COVERED : state[i]!)),
  };
}
