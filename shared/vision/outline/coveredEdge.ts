// Finds where an outline runs along the rim of a thing that lies over the paper's edge (a weight, a hand, a ruler) instead of
// along the edge. Known by two signs: the rim goes on behind the corner where the outline turns onto it, and what lies between
// the outline and the way on which the edge would go on is neither paper nor table. With both, the edge is bridged; with
// one, or without a way to bridge it, it stays and is called unsure. Where neither shows, the paper was cut like that.
import type { PhotoPointPx, Point, TablePointMm } from '../../base/points.ts';
import { tableMm } from '../../base/points.ts';
import { distanceToSegment, pointInPolygon, signedAreaMm2 } from '../../geometry/polygon.ts';
import { angleDeg, cross, distance, dot, sub, turnDeg, unit } from '../../geometry/vector.ts';
import type { RgbImage } from '../image.ts';
import { hermite, overCorner } from '../segment/bridges.ts';
import { CORNER_DEFAULTS, splitCorners } from '../stages/splitCorners.ts';
import { COVERED, type CoarseOutline, evenOutline, GAP, SEEN } from './coarseOutline.ts';
import { colourPart, type Light, lightMinus, meanLight, patchLight } from './lightAt.ts';
import { type LocalCurve, localCurve, meeting } from './localFit.ts';
import { type Extension, extensionOver, stepAlong, straightExtension } from './rimBeyond.ts';
import { around, indexApart, withWays } from './ring.ts';

const COVER = {
  stepMm: 0.5,
  /** Corners of the raw outline, rounded by the segmentation. */
  gapMm: 1.5,
  cornerReachMm: 9,
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
  /** Two edges meet in a corner when they turn by as much, no farther ahead than this. */
  cornerDeg: 24,
  cornerFarMm: 45,
  /** The outline is back on the line of an edge when it stays this near to it, more with the distance, for so long. */
  landMm: 0.6,
  landRatio: 0.03,
  landRunMm: 8,
  landNearerMm: 0.1,
  landApartMm: 5,
  /** Edge beside a cover that is bridged with it. */
  besideMm: 3,
  /** Edge on either side of a bridge made before, how clean it must be, and how much of it may be ragged. */
  besideBridgeMm: 20,
  cleanBridgeMm: 0.2,
  raggedMm: 18,
} as const;

const SIGN = {
  /** A step of light that could be a rim, in logarithms... */
  leastStep: 0.08,
  /** ...and in steps that are there by chance: this share of places shows less, times this. */
  chanceShare: 0.85,
  chanceTimes: 1.6,
  chancePlaces: 24,
  /** Behind a corner, so near to the outline around it, goes on the outline and no rim. */
  onOutlineMm: 1.6,
  nearByMm: 30,
  notchMm: 11,
  chanceTurnDeg: 15,
  chanceAwayMm: [7, 13],
  chanceBesideMm: 3.5,
  /** Differences of one material from place to place: of colour, and of brightness alone. */
  colour: 0.09,
  brightness: 0.3,
  patchMm: 0.6,
  patchStepMm: 1.6,
  /** Between the outline and the way over, so far from either. */
  clearMm: 1.3,
  fewestPatches: 8,
  /** More say no more. */
  enoughPatches: 150,
  /** Share of the patches that must be of another material. */
  foreignShare: 0.6,
  /** What lies beside the outline is learnt this far from it. */
  learnMm: [3, 6, 9],
  learnEveryMm: 6,
  /** A look counts as paper's or table's when it is seen so far off too, in this share of the places. */
  elsewhereMm: 60,
  typicalShare: 0.03,
  /** Edge beside a stretch that must part paper from table. */
  flankFromMm: 4,
  flankToMm: 16,
  directionPoints: 4,
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
  const outline = rebridged(evenOutline(given, COVER.stepMm));
  const even = evenOutline(outline, COVER.stepMm);
  const points = even.polygon;
  const n = points.length;
  const sharp = cornersOf(points);
  if (sharp.length === 0) return { coarse: outline, doubtful: [] };
  const photo = photoSigns(rgb, points, sharp, toPhoto);
  const corners = withLandings(points, sharp, photo);
  const signs = signsOf(corners, photo);
  const judged = corners.flatMap((_, i) =>
    corners.flatMap((__, k) => judgedStretch(points, corners, i, k, signs) ?? []),
  );
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
  const lone = corners.flatMap((at, c): LoneRim[] => {
    const [hasBack, hasOn] = [signs.back[c]! > SIGN.clearRim, signs.on[c]! > SIGN.clearRim];
    if (used[at] === 1 || !(hasBack || hasOn) || isNotchLike(points, corners, c)) return [];
    const along = (step: 1 | -1, isRim: boolean): number =>
      Math.round((isRim ? Math.min(roomMm(points, corners, c, step), SIGN.rimMm) : SIGN.aroundMm) / COVER.stepMm);
    return [{ at, from: along(-1, hasOn), to: along(1, hasBack) }];
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
    const before = cleanFlank(outline, i - 1, -1);
    const after = cleanFlank(outline, i + length, 1);
    if (before === null || after === null) continue;
    const found = wayBetween(before.curve, after.curve);
    if (found === null) continue;
    const start = around(i - 1 - before.skipped, n);
    const count = before.skipped + 1 + length + after.skipped;
    const way = [polygon[start]!, ...found.way, polygon[(start + count) % n]!];
    chosen.push({ start, count, way });
  }
  return bridgedOver(outline, chosen);
}

/** The nearest clean edge beside a bridge, as it goes on toward it, and how many points were passed over. */
function cleanFlank(
  { polygon, state }: CoarseOutline,
  end: number,
  step: 1 | -1,
): { readonly curve: LocalCurve; readonly skipped: number } | null {
  const n = polygon.length;
  const place = (k: number): number => around(end + step * k, n);
  const reach = Math.round(COVER.besideBridgeMm / COVER.stepMm);
  const most = Math.round(COVER.raggedMm / COVER.stepMm);
  for (let skipped = 0; skipped <= most; skipped += 2) {
    const indices = Array.from({ length: reach }, (_, k) => place(skipped + k));
    if (indices.some((index) => state[index] !== SEEN)) return null;
    const curve = localCurve(
      indices.map((index) => polygon[index]!),
      indices.map((_, k) => step * k * COVER.stepMm),
    );
    if (curve !== null && curve.residualMm < COVER.cleanBridgeMm) return { curve, skipped };
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
    if (next === span || gap * COVER.stepMm > SIGN.togetherMm || !(span.isDoubted || next.isDoubted)) return;
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
  const found = splitCorners(points, options).map(({ alongMm }) => Math.round(alongMm / COVER.stepMm) % points.length);
  return [...new Set(found)].sort((a, b) => a - b);
}

/** What the photo says about an outline and what lies beside it. */
interface PhotoSigns {
  /** Step behind a corner over what is there by chance: of the border after it followed back (1) or of that before it followed on (-1). */
  readonly behind: (corners: readonly number[], c: number, step: 1 | -1) => number;
  readonly table: readonly Light[];
  readonly paper: readonly Light[];
  readonly lightAt: (at: Point) => Light;
}

interface Signs extends PhotoSigns {
  readonly back: readonly number[];
  readonly on: readonly number[];
}

function signsOf(corners: readonly number[], photo: PhotoSigns): Signs {
  return {
    ...photo,
    back: corners.map((_, c) => photo.behind(corners, c, 1)),
    on: corners.map((_, c) => photo.behind(corners, c, -1)),
  };
}

function photoSigns(
  rgb: RgbImage,
  points: readonly TablePointMm[],
  corners: readonly number[],
  toPhoto: ToPhoto,
): PhotoSigns {
  const n = points.length;
  const first = points[0]!;
  const halfPx = SIGN.patchMm * distance(toPhoto(first), toPhoto(tableMm(first[0] + 1, first[1])));
  const lightAt = ([x, y]: Point): Light => patchLight(rgb, toPhoto(tableMm(x, y)), halfPx);
  const nearCorner = (i: number): boolean =>
    corners.some((c) => indexApart(i, c, n) * COVER.stepMm < 2 * SIGN.learnMm[0]);
  const beside = (side: 1 | -1): Light[] => {
    const out: { light: Light; alongMm: number }[] = [];
    for (let i = 0; i < n; i += Math.round(SIGN.learnEveryMm / COVER.stepMm)) {
      if (nearCorner(i)) continue;
      const [dx, dy] = inwardAt(points, i);
      for (const d of SIGN.learnMm) {
        const light = lightAt([points[i]![0] + side * d * dx, points[i]![1] + side * d * dy]);
        out.push({ light, alongMm: i * COVER.stepMm });
      }
    }
    return typical(out, n * COVER.stepMm);
  };
  const knownChance = new Map<string, number>();
  /** Steps that are there by chance in a direction: grain and printed lines run one way. */
  const chance = (side: 1 | -1, direction: Point): number => {
    const turn = Math.round(angleDeg(direction) / SIGN.chanceTurnDeg);
    const key = `${side} ${turn % Math.round(180 / SIGN.chanceTurnDeg)}`;
    const before = knownChance.get(key);
    if (before !== undefined) return before;
    const steps: number[] = [];
    for (let k = 0; k < SIGN.chancePlaces; k++) {
      const i = Math.round((k * n) / SIGN.chancePlaces) % n;
      if (nearCorner(i)) continue;
      const [dx, dy] = inwardAt(points, i);
      for (const mm of SIGN.chanceAwayMm) {
        const away = side * mm;
        const way = straightExtension([points[i]![0] + away * dx, points[i]![1] + away * dy], direction);
        if (isClear(way, side)) steps.push(stepAlong(rgb, toPhoto, way));
      }
    }
    steps.sort((a, b) => a - b);
    const known = SIGN.chanceTimes * (steps[Math.floor(SIGN.chanceShare * steps.length)] ?? 0);
    knownChance.set(key, known);
    return known;
  };
  /** Whether a way and what is compared on its two sides lies on one side of the outline. */
  const isClear = (way: Extension, side: 1 | -1): boolean =>
    [way[0]!, way.at(-1)!].every(({ at, tangent }) =>
      [-SIGN.chanceBesideMm, SIGN.chanceBesideMm].every(
        (o) => pointInPolygon([at[0] - o * tangent[1], at[1] + o * tangent[0]], points) === (side === 1),
      ),
    );
  const behind = (all: readonly number[], c: number, step: 1 | -1): number => {
    const corner = all[c]!;
    const way = extensionOver(points, corner, step, roomMm(points, all, c, step), COVER.stepMm);
    if (way === null) return 0;
    const seen = stepAlong(rgb, toPhoto, way);
    const middle = way[way.length >> 1]!;
    if (way.slice(way.length >> 1).some(({ at }) => liesOn(points, corner, at))) return 0;
    const side = pointInPolygon(middle.at, points) ? 1 : -1;
    return seen < SIGN.leastStep
      ? seen / SIGN.leastStep
      : seen / Math.max(SIGN.leastStep, chance(side, middle.tangent));
  };
  return { behind, table: beside(-1), paper: beside(1), lightAt };
}

/** Without what is seen in one place only: that may be the thing lying over the edge itself. */
function typical(seen: readonly { readonly light: Light; readonly alongMm: number }[], wholeMm: number): Light[] {
  const alike = (a: Light, b: Light): boolean => differenceOf(a, b).whole < 1;
  return seen
    .filter(({ light, alongMm }) => {
      const elsewhere = seen.filter((other) => {
        const apart = Math.abs(other.alongMm - alongMm);
        return Math.min(apart, wholeMm - apart) > SIGN.elsewhereMm && alike(light, other.light);
      });
      return elsewhere.length >= SIGN.typicalShare * seen.length;
    })
    .map(({ light }) => light);
}

/** Two looks as multiples of what one material differs by: in colour alone, and in colour and brightness. */
function differenceOf(a: Light, b: Light): { readonly colour: number; readonly whole: number } {
  const difference = lightMinus(a, b);
  const colour = Math.hypot(...colourPart(difference)) / SIGN.colour;
  return { colour, whole: Math.hypot(colour, meanLight(difference) / SIGN.brightness) };
}

/** Whether the outline beside a stretch parts this paper from this table, be it in the shade: only such an edge is carried on. */
function flankIsEdge(points: readonly TablePointMm[], end: number, step: 1 | -1, signs: Signs): boolean {
  const n = points.length;
  let [count, known] = [0, 0];
  for (let mm = SIGN.flankFromMm; mm <= SIGN.flankToMm; mm += SIGN.patchStepMm) {
    const i = around(end + step * Math.round(mm / COVER.stepMm), n);
    const [dx, dy] = inwardAt(points, i);
    for (const [side, looks] of [
      [-1, signs.table],
      [1, signs.paper],
    ] as const) {
      const d = side * SIGN.learnMm[0];
      const light = signs.lightAt([points[i]![0] + d * dx, points[i]![1] + d * dy]);
      count++;
      if (
        looks.some(
          (look) => differenceOf(light, look).colour < 1 && meanLight(lightMinus(light, look)) < SIGN.brightness,
        )
      )
        known++;
    }
  }
  return known > SIGN.foreignShare * count;
}

function inwardAt(points: readonly TablePointMm[], i: number): Point {
  const n = points.length;
  const reach = SIGN.directionPoints;
  const along = unit(sub(points[(i + reach) % n]!, points[(i - reach + n) % n]!));
  return [-along[1], along[0]];
}

/** Whether a place lies on the outline itself not far from a corner: beyond a notch the edge goes on, and is no rim. */
function liesOn(points: readonly TablePointMm[], corner: number, at: Point): boolean {
  const n = points.length;
  const reach = Math.round(SIGN.nearByMm / COVER.stepMm);
  for (let k = -reach; k <= reach; k++)
    if (distance(points[around(corner + k, n)]!, at) < SIGN.onOutlineMm) return true;
  return false;
}

/** Whether another corner is as near as that on the other side of a notch: its lips look like rims to one another. */
function isNotchLike(points: readonly TablePointMm[], corners: readonly number[], c: number): boolean {
  return corners.some((at, other) => other !== c && distance(points[at]!, points[corners[c]!]!) < SIGN.notchMm);
}

/** Length of the border beside a corner, up to the next. */
function roomMm(points: readonly TablePointMm[], corners: readonly number[], c: number, step: 1 | -1): number {
  const n = points.length;
  const next = corners[(c + step + corners.length) % corners.length]!;
  const count = around(step * (next - corners[c]!), n);
  return (count === 0 ? n : count) * COVER.stepMm;
}

/**
 * The corners, and where the edge that ends in one of them at a rim goes on beyond the thing: the outline need not turn
 * sharply there, when a shadow rounds the place.
 */
function withLandings(points: readonly TablePointMm[], corners: readonly number[], photo: PhotoSigns): number[] {
  const n = points.length;
  const found = [...corners];
  const apart = COVER.landApartMm / COVER.stepMm;
  const isNew = (at: number): boolean => found.every((c) => indexApart(at, c, n) > apart);
  corners.forEach((_, c) => {
    for (const step of [1, -1] as const) {
      // the rim lies on one side of the corner, the edge on the other
      if (photo.behind(corners, c, step) <= 1) continue;
      const at = landing(points, corners, c, step);
      if (at !== null && isNew(at)) found.push(at);
    }
  });
  return found.sort((a, b) => a - b);
}

/** Where the outline, followed from a corner by `step`, comes back to the line of the edge on the other side of the corner. */
function landing(points: readonly TablePointMm[], corners: readonly number[], c: number, step: 1 | -1): number | null {
  const n = points.length;
  const edge = flankOf(points, corners, c, step === 1 ? -1 : 1);
  if (edge === null) return null;
  const ahead: Point = [step * edge.tangent[0], step * edge.tangent[1]];
  let since: number | null = null;
  let nearestMm = 0;
  for (let k = Math.ceil(COVER.leastWidthMm / COVER.stepMm); k * COVER.stepMm < COVER.longestMm; k++) {
    const i = around(corners[c]! + step * k, n);
    const away = sub(points[i]!, edge.at);
    const alongMm = dot(away, ahead);
    const acrossMm = Math.abs(cross(ahead, away));
    if (alongMm < COVER.leastWidthMm || acrossMm > COVER.landMm + COVER.landRatio * alongMm) {
      since = null;
      continue;
    }
    if (since === null || acrossMm < nearestMm - COVER.landNearerMm) {
      since = k;
      nearestMm = acrossMm;
    }
    if ((k - since) * COVER.stepMm < COVER.landRunMm) continue;
    return around(corners[c]! + step * since, n);
  }
  return null;
}

/** Share of the patches between an outline's stretch and the way over it that are of another material than what lies there elsewhere. */
interface Foreign {
  /** In colour or brightness, and in colour alone. */
  readonly share: number;
  readonly colourShare: number;
}

function foreignBetween(
  stretch: readonly Point[],
  way: readonly Point[],
  side: readonly Light[],
  signs: Signs,
): Foreign {
  const ring = [...stretch, ...way.toReversed()];
  const [x0, x1] = [Math.min(...ring.map(([x]) => x)), Math.max(...ring.map(([x]) => x))];
  const [y0, y1] = [Math.min(...ring.map(([, y]) => y)), Math.max(...ring.map(([, y]) => y))];
  const stepMm = Math.max(SIGN.patchStepMm, Math.sqrt(Math.abs(signedAreaMm2(ring)) / SIGN.enoughPatches));
  let [count, foreign, coloured] = [0, 0, 0];
  for (let x = x0; x <= x1; x += stepMm)
    for (let y = y0; y <= y1; y += stepMm) {
      const at: Point = [x, y];
      if (!pointInPolygon(at, ring)) continue;
      if (ring.some((p, i) => distanceToSegment(at, p, ring[(i + 1) % ring.length]!) < SIGN.clearMm)) continue;
      const light = signs.lightAt(at);
      let [least, leastColour] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
      for (const known of side) {
        const { colour, whole } = differenceOf(light, known);
        leastColour = Math.min(leastColour, colour);
        least = Math.min(least, whole);
      }
      count++;
      if (least > 1) foreign++;
      if (leastColour > 1) coloured++;
    }
  if (count < SIGN.fewestPatches) return { share: 0, colourShare: 0 };
  return { share: foreign / count, colourShare: coloured / count };
}

/** What to do about the stretch between two corners; null when nothing speaks against its being the paper's own edge. */
function judgedStretch(
  points: readonly TablePointMm[],
  corners: readonly number[],
  i: number,
  k: number,
  signs: Signs,
): Judged | null {
  const n = points.length;
  const start = corners[i]!;
  const count = (corners[k]! - start + n) % n;
  const lengthMm = count * COVER.stepMm;
  if (i === k || lengthMm > Math.min(COVER.longestMm, 0.5 * n * COVER.stepMm)) return null;
  if (distance(points[start]!, points[(start + count) % n]!) < COVER.leastWidthMm) return null;
  const stretch = Array.from({ length: count + 1 }, (_, j) => points[(start + j) % n]!);
  const rims = [signs.back[i]!, signs.on[k]!];
  const seen = rims.filter((ratio) => ratio > 1).length;
  const found = wayOver(points, corners, i, k, stretch);
  if (found === null) {
    const isSure = isNotchLike(points, corners, i) || isNotchLike(points, corners, k);
    return seen === 2 && !isSure ? { start, count, way: null, rank: seen } : null;
  }
  const isBite = !pointInPolygon(found.way[found.way.length >> 1]!, points);
  const foreign = foreignBetween(stretch, found.way, isBite ? signs.table : signs.paper, signs);
  const isForeign = foreign.share > SIGN.foreignShare;
  const isColoured = foreign.colourShare > SIGN.foreignShare;
  const isEdge = flankIsEdge(points, start, -1, signs) && flankIsEdge(points, start + count, 1, signs);
  const isProven = isEdge && (seen === 2 || (isForeign && seen === 1) || (isColoured && !found.isCorner));
  if (isProven) return { start, count, way: found.way, rank: PROVEN + seen };
  const isDoubtful = isForeign || seen === 2 || (seen === 1 && !found.isCorner);
  return isDoubtful ? { start, count, way: null, rank: seen } : null;
}

/** A proven cover goes before any doubt. */
const PROVEN = 10;

interface WayOver {
  readonly way: readonly TablePointMm[];
  readonly isCorner: boolean;
}

/** How the edge would go on over a stretch; null when the sides do not meet, or when the stretch does not leave that way. */
function wayOver(
  points: readonly TablePointMm[],
  corners: readonly number[],
  i: number,
  k: number,
  stretch: readonly TablePointMm[],
): WayOver | null {
  const before = flankOf(points, corners, i, -1);
  const after = flankOf(points, corners, k, 1);
  if (before === null || after === null) return null;
  const found = wayBetween(before, after);
  if (found === null) return null;
  const line = [stretch[0]!, ...found.way, stretch.at(-1)!];
  const awayMm = stretch.map((at) => Math.min(...line.slice(1).map((p, j) => distanceToSegment(at, line[j]!, p))));
  const depthMm = Math.max(...awayMm);
  // two things with the edge between them are not one
  if (longestRunMm(awayMm, (mm) => mm < COVER.landMm) > COVER.landRunMm) return null;
  return depthMm < COVER.leastDepthMm ? null : { way: line, isCorner: found.isCorner };
}

/** The way from the end of one edge to the start of another, both ends left out; null when neither leads to the other. */
function wayBetween(before: LocalCurve, after: LocalCurve): WayOver | null {
  const from = tableMm(before.at[0], before.at[1]);
  const to = tableMm(after.at[0], after.at[1]);
  const gapMm = distance(from, to);
  const chord = unit(sub(to, from));
  const [leaving, arriving] = [turnDeg(before.tangent, chord), turnDeg(chord, after.tangent)];
  const isStraight = Math.max(Math.abs(leaving), Math.abs(arriving)) < COVER.smoothDeg;
  const isBent =
    Math.max(Math.abs(leaving), Math.abs(arriving)) < COVER.bentDeg &&
    Math.abs(leaving - arriving) < COVER.bentApartDeg;
  if (isStraight || isBent) {
    if (gapMm > COVER.mostBridgedMm) return null;
    return { way: hermite(from, before.tangent, to, after.tangent), isCorner: false };
  }
  const met = meeting(before, after);
  if (met === null || Math.abs(turnDeg(before.tangent, after.tangent)) < COVER.cornerDeg) return null;
  const ahead = dot(sub(met, from), before.tangent);
  const behind = dot(sub(to, met), after.tangent);
  if (Math.min(ahead, behind) < 0 || Math.max(ahead, behind) > COVER.cornerFarMm) return null;
  return { way: overCorner(from, met, to), isCorner: true };
}

function longestRunMm(values: readonly number[], holds: (value: number) => boolean): number {
  let [longest, run] = [0, 0];
  for (const value of values) {
    run = holds(value) ? run + 1 : 0;
    longest = Math.max(longest, run);
  }
  return longest * COVER.stepMm;
}

/** The edge beside a corner as it arrives there or leaves it; null when it is too short or no clean line. */
function flankOf(
  points: readonly TablePointMm[],
  corners: readonly number[],
  c: number,
  step: 1 | -1,
): LocalCurve | null {
  const n = points.length;
  const corner = corners[c]!;
  const lastMm = Math.min(COVER.flankMm, roomMm(points, corners, c, step) - COVER.flankShyMm);
  if (lastMm - COVER.flankShyMm < COVER.leastFlankMm) return null;
  const near: Point[] = [];
  const s: number[] = [];
  for (let j = Math.ceil(COVER.flankShyMm / COVER.stepMm); j * COVER.stepMm <= lastMm; j++) {
    near.push(points[around(corner + step * j, n)]!);
    s.push(step * j * COVER.stepMm);
  }
  const curve = localCurve(near, s);
  return curve === null || curve.residualMm > COVER.cleanMm ? null : curve;
}

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
  const beside = Math.round(COVER.besideMm / COVER.stepMm);
  const isBeside = (i: number): boolean =>
    ways.some(({ start, count }) => Math.min(around(start - i, n), around(i - start - count + 1, n)) <= beside);
  const { points, from } = withWays(polygon, ways);
  return {
    polygon: points,
    state: Uint8Array.from(from, (i) => (i < 0 || isBeside(i) ? COVERED : state[i]!)),
  };
}
