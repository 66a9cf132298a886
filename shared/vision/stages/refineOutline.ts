// Measures an outline on the original photo, along normals of the coarse one, to a fraction of a pixel; the rectified
// picture is never measured. Notches are bridged, corners left sharp, and stretches where the photo does not show the
// edge clearly are marked instead of trusted.
import { type PhotoPointPx, type TablePointMm, tableMm } from '../../base/points.ts';
import { isUnseen } from '../../base/unsure.ts';
import { resamplePolyline } from '../../geometry/polygon.ts';
import { distance, sub, turnDeg, unit } from '../../geometry/vector.ts';
import type { RgbImage } from '../image.ts';
import { COVERED, type CoarseOutline, DOUBTED, GAP, NOTCH, SEEN } from '../outline/coarseOutline.ts';
import { uncovered } from '../outline/coveredEdge.ts';
import type { DenseOutline } from '../outline/denseOutline.ts';
import { edgePath } from '../outline/edgePath.ts';
import { edgeDoubts } from '../outline/edgeProof.ts';
import { findExcursions } from '../outline/findExcursions.ts';
import { localCurve, meeting } from '../outline/localFit.ts';
import { sampleProfiles } from '../outline/profiles.ts';
import { sureEnd } from '../outline/ring.ts';
import type { UnsureStretch } from '../traced.ts';
import { CORNER_DEFAULTS, splitCorners } from './splitCorners.ts';

/** Which photo point shows a table point (at the height of the paper). */
export type ToPhoto = (point: TablePointMm) => PhotoPointPx;

interface Pass {
  readonly samples: number;
  /** Length of a profile step in photo pixels. */
  readonly stepPx: number;
  /** Baseline smoothing before the pass: half-length of the fitted piece. */
  readonly smoothMm: number;
}

/** The first pass reaches far over a coarse border, the second measures. */
const PASSES: readonly Pass[] = [
  { samples: 29, stepPx: 0.8, smoothMm: 5 },
  { samples: 29, stepPx: 0.4, smoothMm: 3.5 },
];
const SPACING_MM = 0.7;
/** Points this near to a corner see both edges at once. */
const CORNER_SHY_MM = 1.2;
const CORNER_SHY_PX = 2.5;
/** Edge used on each side to set the corner of the dense outline. */
const CORNER_REACH_MM = 9;
const MIN_SUPPORT_RATIO = 0.35;
const MIN_CONTRAST = 2.2;
const MAX_RIVAL_RATIO = 0.75;
/** Shorter doubts are spanned by their neighbours. */
const MIN_UNSURE_MM = 4;
/** Two doubts nearer together than this are one. */
const MAX_SURE_GAP_MM = 6;
/** A point off the local curve by more than this is an outlier. */
const OUTLIER_MM = 0.3;
/** Sub-pixel noise never falls below this (vision practice: about a tenth of a pixel). */
const FLOOR_SIGMA_PX = 0.08;
const COARSE_CORNERS = { ...CORNER_DEFAULTS, gapMm: 1.5, reachMm: 11 };

/** Why a point is not a plain measurement; a notch is bridged knowingly and not reported as unsure. */
type Doubt = UnsureStretch['reason'] | 'notch' | null;

interface Stretch {
  readonly points: readonly TablePointMm[];
  readonly doubt: readonly Doubt[];
  /** True for an outline without corners: the ends meet. */
  readonly loop: boolean;
}

/**
 * @param coarse outline in table millimetres, within about 2 mm of the truth
 * @param toPhoto photo point of a table point at paper height
 */
export function refineOutline(rgb: RgbImage, coarse: CoarseOutline, toPhoto: ToPhoto): DenseOutline {
  const doubted = coarse.polygon.filter((_, i) => coarse.state[i] === DOUBTED);
  const open = uncovered(rgb, measurable(coarse), toPhoto);
  const bridged = findExcursions(open.coarse);
  let outline: Joined = { ...bridged.coarse, doubt: [] };
  let scatterMm: number[] = [];
  for (const pass of PASSES) {
    scatterMm = [];
    outline = joined(stretchesOf(outline).map((stretch) => measured(rgb, stretch, pass, toPhoto, scatterMm)));
  }
  const unproven = edgeDoubts(rgb, outline.polygon, outline.state, toPhoto);
  const foreign = nearAny(outline.polygon, open.doubtful);
  const elsewhere = nearAny(outline.polygon, doubted);
  const doubt = outline.doubt.map(
    (known, i) => known ?? (foreign[i] ? 'covered' : (unproven[i] ?? (elsewhere[i] ? 'weak-edge' : null))),
  );
  const mmPerPx = 1 / pxPerMm(outline.polygon[0]!, toPhoto);
  scatterMm.sort((a, b) => a - b);
  const medianMm = scatterMm[scatterMm.length >> 1] ?? 0;
  return {
    points: outline.polygon,
    unsure: unsureStretches(doubt),
    excursions: bridged.excursions,
    pointSigmaMm: Math.max(1.48 * medianMm, FLOOR_SIGMA_PX * mmPerPx),
  };
}

function measurable({ polygon, state }: CoarseOutline): CoarseOutline {
  return { polygon, state: state.map((known) => (known === DOUBTED ? SEEN : known)) };
}

/** A place of the coarse outline lies no farther from the measured one. */
const SAME_PLACE_MM = 2.5;

function nearAny(points: readonly TablePointMm[], places: readonly TablePointMm[]): boolean[] {
  return points.map((at) => places.some((place) => distance(place, at) < SAME_PLACE_MM));
}

const DOUBT_OF_STATE: Readonly<Record<number, Doubt>> = { [COVERED]: 'covered', [NOTCH]: 'notch', [GAP]: 'gap' };

/** Nothing is measured there: the bridge stays as it was drawn. */
function isBridge(doubt: Doubt): boolean {
  return doubt !== null && (doubt === 'notch' || isUnseen(doubt));
}

/** The outline cut at its corners; each stretch starts and ends on one. */
function stretchesOf(outline: CoarseOutline): Stretch[] {
  const { polygon, state } = outline;
  const n = polygon.length;
  const corners = splitCorners(polygon, COARSE_CORNERS);
  const along: number[] = [0];
  for (let i = 1; i <= n; i++) along.push(along[i - 1]! + distance(polygon[i - 1]!, polygon[i % n]!));
  const total = along[n]!;
  const doubtAt = (i: number): Doubt => DOUBT_OF_STATE[state[i % n]!] ?? null;
  if (corners.length === 0) {
    return [
      { points: [...polygon, polygon[0]!], doubt: Array.from({ length: n + 1 }, (_, i) => doubtAt(i)), loop: true },
    ];
  }
  return corners.map((corner, c) => {
    const next = corners[(c + 1) % corners.length]!;
    const fromMm = corner.alongMm;
    let toMm = next.alongMm;
    if (toMm <= fromMm) toMm += total;
    const points: TablePointMm[] = [corner.at];
    const doubt: Doubt[] = [null];
    for (let i = 0; i < 2 * n; i++) {
      const s = along[i % n]! + (i >= n ? total : 0);
      // the rounded tips are left out; the corner itself stands for them
      if (s <= fromMm + CORNER_SHY_MM || s >= toMm - CORNER_SHY_MM) continue;
      points.push(polygon[i % n]!);
      doubt.push(doubtAt(i));
    }
    points.push(next.at);
    doubt.push(null);
    return { points, doubt, loop: false };
  });
}

function measured(rgb: RgbImage, stretch: Stretch, pass: Pass, toPhoto: ToPhoto, scatterMm: number[]): Stretch {
  const even = evened(stretch);
  const base = smoothed(even.points, pass.smoothMm, stretch.loop);
  const count = base.length;
  const inwardMm = base.map((_, i) => {
    const before = base[stretch.loop && i === 0 ? count - 2 : Math.max(0, i - 1)]!;
    const after = base[stretch.loop && i === count - 1 ? 1 : Math.min(count - 1, i + 1)]!;
    const along = unit(sub(after, before));
    return [-along[1], along[0]] as const;
  });
  const centres = base.map(toPhoto);
  const mmPerStep = new Float64Array(count);
  const inwardPx = base.map((point, i) => {
    const inner = toPhoto(tableMm(point[0] + inwardMm[i]![0], point[1] + inwardMm[i]![1]));
    const step = sub(inner, centres[i]!);
    mmPerStep[i] = pass.stepPx / Math.hypot(step[0], step[1]);
    return unit(step);
  });
  const profiles = sampleProfiles(rgb, centres, inwardPx, pass);
  const blind = Uint8Array.from(even.doubt, (known) => (isBridge(known) ? 1 : 0));
  const path = edgePath(profiles, pass.stepPx, blind);
  const raw = base.map((point, i) => {
    const byMm = path.offset[i]! * mmPerStep[i]!;
    return tableMm(point[0] + inwardMm[i]![0] * byMm, point[1] + inwardMm[i]![1] * byMm);
  });
  const shyMm = Math.max(CORNER_SHY_MM, CORNER_SHY_PX / pxPerMm(base[0]!, toPhoto));
  const doubt = even.doubt.map((known, i) => {
    if (isBridge(known)) return known;
    const weak = path.support[i]! < MIN_SUPPORT_RATIO || profiles.contrast[i]! < MIN_CONTRAST;
    const guessed = path.rivalRatio[i]! > MAX_RIVAL_RATIO;
    return weak || guessed ? ('weak-edge' as const) : null;
  });
  const points = settled(raw, doubt, stretch.loop, scatterMm);
  return trimmedEnds(points, doubt, shyMm, stretch.loop);
}

function evened(stretch: Stretch): { points: TablePointMm[]; doubt: Doubt[] } {
  const points = resamplePolyline(stretch.points, SPACING_MM).map((p) => tableMm(p[0], p[1]));
  const ends: number[] = [0];
  for (let i = 1; i < stretch.points.length; i++)
    ends.push(ends[i - 1]! + distance(stretch.points[i - 1]!, stretch.points[i]!));
  const total = ends.at(-1)!;
  let at = 0;
  const doubt = points.map((_, i) => {
    const along = (i / Math.max(1, points.length - 1)) * total;
    while (at < ends.length - 1 && ends[at]! < along) at++;
    return stretch.doubt[at]!;
  });
  return { points, doubt };
}

/** Each point moved onto the parabola fitted to its neighbours; ends of an open stretch use the points they have. */
function smoothed(points: readonly TablePointMm[], halfMm: number, loop: boolean): TablePointMm[] {
  const reach = Math.max(3, Math.round(halfMm / SPACING_MM));
  return points.map((point, i) => {
    const { near, s } = neighbours(points, i, reach, loop, () => true);
    const curve = localCurve(near, s);
    return curve === null ? point : tableMm(curve.at[0], curve.at[1]);
  });
}

function neighbours(
  points: readonly TablePointMm[],
  i: number,
  reach: number,
  loop: boolean,
  use: (index: number) => boolean,
): { near: TablePointMm[]; s: number[] } {
  const count = points.length;
  const near: TablePointMm[] = [];
  const s: number[] = [];
  for (let k = -reach; k <= reach; k++) {
    let index = i + k;
    // the last point of a loop repeats the first
    if (loop) index = ((index % (count - 1)) + count - 1) % (count - 1);
    if (index < 0 || index >= count || !use(index)) continue;
    near.push(points[index]!);
    s.push(k * SPACING_MM);
  }
  return { near, s };
}

const SETTLE_REACH = 6;

/** Replaces outliers and doubtful points by the curve through their sure neighbours; notes the scatter of the others. */
function settled(
  raw: readonly TablePointMm[],
  doubt: readonly Doubt[],
  loop: boolean,
  scatterMm: number[],
): TablePointMm[] {
  return raw.map((point, i) => {
    if (isBridge(doubt[i]!)) return point;
    const { near, s } = neighbours(raw, i, SETTLE_REACH, loop, (k) => k !== i && doubt[k] === null);
    if (near.length < SETTLE_REACH) return point;
    const curve = localCurve(near, s);
    if (curve === null) return point;
    const off = (point[0] - curve.at[0]) * -curve.tangent[1] + (point[1] - curve.at[1]) * curve.tangent[0];
    if (doubt[i] === null) scatterMm.push(Math.abs(off));
    if (Math.abs(off) <= OUTLIER_MM && doubt[i] === null) return point;
    return Math.abs(off) <= OUTLIER_MM ? point : tableMm(curve.at[0], curve.at[1]);
  });
}

function trimmedEnds(points: readonly TablePointMm[], doubt: readonly Doubt[], shyMm: number, loop: boolean): Stretch {
  if (loop) return { points, doubt, loop };
  const cut = Math.min(Math.ceil(shyMm / SPACING_MM), Math.floor((points.length - 2) / 2));
  return { points: points.slice(cut, points.length - cut), doubt: doubt.slice(cut, doubt.length - cut), loop };
}

interface Joined extends CoarseOutline {
  readonly doubt: readonly Doubt[];
}

/** Stretches laid end to end, with the meeting of their curves as the corner between. */
function joined(stretches: readonly Stretch[]): Joined {
  const polygon: TablePointMm[] = [];
  const doubt: Doubt[] = [];
  stretches.forEach((stretch, i) => {
    const before = stretches[(i + stretches.length - 1) % stretches.length]!;
    const corner = stretch.loop ? null : cornerBetween(before, stretch);
    if (corner !== null) {
      polygon.push(corner);
      // what is bridged on both sides is bridged there too
      const [last, first] = [before.doubt.at(-1)!, stretch.doubt[0]!];
      doubt.push(isBridge(last) && isBridge(first) && last !== 'notch' ? last : null);
    }
    const end = stretch.loop ? stretch.points.length - 1 : stretch.points.length;
    polygon.push(...stretch.points.slice(0, end));
    doubt.push(...stretch.doubt.slice(0, end));
  });
  const state = Uint8Array.from(doubt, stateOf);
  return { polygon, state, doubt };
}

function stateOf(doubt: Doubt): number {
  if (doubt === 'covered') return COVERED;
  if (doubt === 'notch') return NOTCH;
  return doubt === 'gap' ? GAP : SEEN;
}

const MAX_CORNER_SHIFT_MM = 4;
/** Stretches that go on in nearly the same direction had no corner between them. */
const NO_CORNER_DEG = 10;

function cornerBetween(before: Stretch, after: Stretch): TablePointMm | null {
  const reach = Math.round(CORNER_REACH_MM / SPACING_MM);
  const tail = before.points.slice(-reach);
  const head = after.points.slice(0, reach);
  const middle = tableMm((tail.at(-1)![0] + head[0]![0]) / 2, (tail.at(-1)![1] + head[0]![1]) / 2);
  let corner = middle;
  for (let round = 0; round < 2; round++) {
    const a = localCurve(
      tail,
      tail.map((_, k) => -distance(tail.at(-1)!, corner) - (tail.length - 1 - k) * SPACING_MM),
    );
    const b = localCurve(
      head,
      head.map((_, k) => distance(head[0]!, corner) + k * SPACING_MM),
    );
    if (a !== null && b !== null && Math.abs(turnDeg(a.tangent, b.tangent)) < NO_CORNER_DEG) return null;
    const met = a === null || b === null ? null : meeting(a, b);
    if (met === null || distance(met, middle) > MAX_CORNER_SHIFT_MM) return corner;
    corner = tableMm(met[0], met[1]);
  }
  return corner;
}

/** Runs of doubtful points, by index into the joined outline; short sure stretches between two doubts are no surer. */
function unsureStretches(reasons: readonly Doubt[]): UnsureStretch[] {
  const doubtful = reasons.map((reason) => (reason === 'notch' ? null : reason));
  const runs: UnsureStretch[] = [];
  const shortest = Math.round(MIN_UNSURE_MM / SPACING_MM);
  const gap = Math.round(MAX_SURE_GAP_MM / SPACING_MM);
  const n = doubtful.length;
  // a run may lie over the first point: the walk starts behind a sure stretch
  const first = sureEnd(n, (i) => doubtful[i] === null, gap) + 1;
  for (let i = first; i < first + n; i++) {
    if (doubtful[i % n] === null) continue;
    let end = i;
    for (let k = i + 1; k < first + n && k - end <= gap; k++) if (doubtful[k % n] !== null) end = k;
    const reason = mostFrequent(Array.from({ length: end - i + 1 }, (_, k) => doubtful[(i + k) % n]!));
    if (end - i + 1 >= shortest) runs.push({ fromIndex: i % n, toIndex: end % n, reason });
    i = end;
  }
  return runs;
}

function mostFrequent(reasons: readonly (UnsureStretch['reason'] | null)[]): UnsureStretch['reason'] {
  const counts = new Map<UnsureStretch['reason'], number>();
  for (const reason of reasons) if (reason !== null) counts.set(reason, (counts.get(reason) ?? 0) + 1);
  return [...counts].reduce((best, entry) => (entry[1] > best[1] ? entry : best))[0];
}

function pxPerMm(point: TablePointMm, toPhoto: ToPhoto): number {
  const at = toPhoto(point);
  const right = toPhoto(tableMm(point[0] + 1, point[1]));
  const down = toPhoto(tableMm(point[0], point[1] + 1));
  return (distance(at, right) + distance(at, down)) / 2;
}
