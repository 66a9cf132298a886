// Makes one closed ring of the stretches that followRim found: neighbours are carried on along their own lines until they
// cross (a corner, whether the pen stopped short or overshot), or bridged straight where nothing was drawn between.
import type { Point, TablePointMm } from '../../base/points.ts';
import { tableMm } from '../../base/points.ts';
import { cross, distance, dot, sub, unit } from '../../geometry/vector.ts';
import type { UnsureStretch } from '../traced.ts';
import type { RimRun } from './followRim.ts';
import { type InkLine, JOIN_LIMITS } from './inkLines.ts';
import { angleBetweenDeg, crossingOf, moved, turned } from './polyline.ts';

export type InkSide = 'centre' | 'inner' | 'outer';

export interface InkRing {
  /** Closed, clockwise on the screen, last point not repeated; along the ink about a photo pixel apart. */
  readonly points: readonly TablePointMm[];
  /** Standard uncertainty across the outline at each point. */
  readonly sigmaMm: readonly number[];
  /** Width of the ink at each point. */
  readonly widthMm: readonly number[];
  /** Indices of points that are corners of the pen's path. */
  readonly corners: readonly number[];
  readonly unsure: readonly UnsureStretch[];
  /** Share of the ring's length that was seen as ink. */
  readonly inkedRatio: number;
}

const CLOSE = {
  /** A line is carried on along its own ink for this far... */
  carryOnMm: 14,
  /** ...and straight beyond its end for this far. */
  straightOnMm: 10,
  /** The run may already have gone past the corner by this much. */
  pullBackMm: 8,
  /** Ridge points this near to a corner are not believed, and a better aim may move the corner by at most this. */
  cornerClearMm: 1.6,
  cornerMoveMm: 3,
  /** Crossing at a smaller angle is a bend, not a corner. */
  cornerDeg: 18,
  /** A straight bridge longer than this is said to be unsure. */
  silentBridgeMm: 6,
  /** Length of ink that says where a line points; shorter than the second it is taken as straight. */
  aimMm: 8,
  aimCurvedMm: 4,
  aimLeastPoints: 5,
  /** Where the line looks wider than usual by this, another line meets it. */
  wideRatio: 1.3,
  /** Points before and after such a place that it spoils too. */
  spoiltReach: 2,
  /** Half window of the median that steadies the width. */
  widthWindow: 12,
  /** Scatter of a ridge centre: found on rendered sheets, and the floor of what a pen line defines. */
  inkSigmaMm: 0.05,
  /** A bridge is surer near its ends: standard uncertainty per millimetre of distance to the nearer end. */
  bridgeSigmaPerMm: 0.05,
} as const;

interface Run {
  readonly points: Point[];
  readonly widths: number[];
  /** Which points another line meets: its ink pulls the ridge aside. */
  readonly spoilt: boolean[];
  /** Which neighbouring pairs are ink. */
  readonly gapAfter: boolean[];
  /** The line before the run's first point and after its last, in ring direction, outward from the run. */
  readonly before: Point[];
  readonly after: Point[];
}

export function closeRing(runs: readonly RimRun[], lines: readonly InkLine[], side: InkSide): InkRing | null {
  if (runs.length === 0) return null;
  const made = runs.map((run) => runAlong(run, lines[run.line]!, side));
  const points: TablePointMm[] = [];
  const sigmaMm: number[] = [];
  const widthMm: number[] = [];
  const corners: number[] = [];
  const unsure: UnsureStretch[] = [];
  let inkedMm = 0;
  const ends = made.map((run, i) => joinOf(run, made[(i + 1) % made.length]!, made.length === 1));
  for (let i = 0; i < made.length; i++) {
    const run = made[i]!;
    const entering = ends[(i + made.length - 1) % made.length]!;
    const leaving = ends[i]!;
    const body = [...entering.intoNext, ...trimmed(run, entering.trimNext, leaving.trimThis), ...leaving.outOfThis];
    for (let k = 0; k < body.length; k++) {
      const entry = body[k]!;
      points.push(tableMm(entry.at[0], entry.at[1]));
      sigmaMm.push(entry.inkMm === 0 ? CLOSE.inkSigmaMm : CLOSE.inkSigmaMm + CLOSE.bridgeSigmaPerMm * entry.inkMm);
      widthMm.push(entry.width);
      const next = body[k + 1];
      if (next && entry.inkMm === 0 && !entry.gap) inkedMm += distance(entry.at, next.at);
    }
    if (leaving.corner !== null) {
      corners.push(points.length);
      points.push(tableMm(leaving.corner[0], leaving.corner[1]));
      sigmaMm.push(CLOSE.inkSigmaMm * Math.SQRT2);
      widthMm.push(widthMm[widthMm.length - 1] ?? 0);
    } else if (leaving.bridgeMm > CLOSE.silentBridgeMm) {
      unsure.push({ fromIndex: points.length - 1, toIndex: points.length, reason: 'gap' });
    }
  }
  const total = ringLength(points);
  const wrapped = unsure.map((u) => ({ ...u, toIndex: u.toIndex % points.length }));
  return { points, sigmaMm, widthMm, corners, unsure: wrapped, inkedRatio: Math.min(1, inkedMm / total) };
}

function ringLength(points: readonly Point[]): number {
  return points.reduce((sum, p, i) => sum + distance(p, points[(i + 1) % points.length]!), 0);
}

/** The run's points in ring direction, moved to the wanted side of the ink (the ring is clockwise: inside lies right). */
function runAlong(run: RimRun, line: InkLine, side: InkSide): Run {
  const reversed = run.fromIndex > run.toIndex;
  const widths = steadied(line.widthMm);
  let all: Point[] = [...line.points];
  let allWidths = widths;
  let spoilt = spoiltPoints(line.widthMm, widths);
  let gaps = [...line.gapAfter];
  let from = run.fromIndex;
  let to = run.toIndex;
  if (reversed) {
    const last = all.length - 1;
    all = all.toReversed();
    allWidths = allWidths.toReversed();
    spoilt = spoilt.toReversed();
    gaps = [...line.gapAfter.slice(0, -1).toReversed(), false];
    from = last - from;
    to = last - to;
  }
  if (side !== 'centre') all = shifted(all, allWidths, side === 'inner' ? 1 : -1);
  return {
    points: all.slice(from, to + 1),
    widths: allWidths.slice(from, to + 1),
    spoilt: spoilt.slice(from, to + 1),
    gapAfter: gaps.slice(from, to + 1),
    before: all.slice(0, from).toReversed(),
    after: all.slice(to + 1),
  };
}

/** Points where the width is odd, and their neighbours. */
function spoiltPoints(raw: readonly number[], usual: readonly number[]): boolean[] {
  const odd = raw.map((w, i) => w === 0 || w > CLOSE.wideRatio * usual[i]!);
  return odd.map((_, i) => odd.slice(Math.max(0, i - CLOSE.spoiltReach), i + CLOSE.spoiltReach + 1).includes(true));
}

function steadied(widths: readonly number[]): number[] {
  const known = widths.map((w, i) => ({ w, i })).filter(({ w }) => w > 0);
  if (known.length === 0) return widths.map(() => 0);
  let k = 0;
  return widths.map((_, i) => {
    while (k + 1 < known.length && known[k]!.i < i) k++;
    const near = known.slice(Math.max(0, k - CLOSE.widthWindow), k + CLOSE.widthWindow + 1).map(({ w }) => w);
    near.sort((a, b) => a - b);
    return near[near.length >> 1]!;
  });
}

function shifted(points: readonly Point[], widths: readonly number[], toRight: 1 | -1): Point[] {
  const reach = 4;
  return points.map((p, i) => {
    const along = unit(sub(points[Math.min(points.length - 1, i + reach)]!, points[Math.max(0, i - reach)]!));
    return moved(p, turned(along), (toRight * widths[i]!) / 2);
  });
}

interface BodyPoint {
  readonly at: Point;
  readonly width: number;
  readonly gap: boolean;
  /** Distance from seen ink: 0 on ink. */
  readonly inkMm: number;
}

interface Join {
  readonly corner: Point | null;
  readonly bridgeMm: number;
  /** How many points this run loses at its end and the next at its start. */
  readonly trimThis: number;
  readonly trimNext: number;
  /** Points of this line beyond the run, and of the next line before its run, up to the corner. */
  readonly outOfThis: readonly BodyPoint[];
  readonly intoNext: readonly BodyPoint[];
}

function trimmed(run: Run, fromStart: number, fromEnd: number): BodyPoint[] {
  const body: BodyPoint[] = [];
  const last = run.points.length - fromEnd - 1;
  for (let i = fromStart; i <= last; i++) {
    if (run.spoilt[i] && i > fromStart && i < last) continue;
    body.push({ at: run.points[i]!, width: run.widths[i]!, gap: run.gapAfter[i]!, inkMm: 0 });
  }
  return body;
}

/** A path out of a run: some of its own last points, the line beyond, and a straight continuation. */
interface WayOut {
  readonly points: Point[];
  /** Index of the run's end point in `points`. */
  readonly runEnd: number;
  /** Index of the last point that is ink. */
  readonly inkEnd: number;
}

function wayOut(points: readonly Point[], beyond: readonly Point[]): WayOut {
  // points run toward the end; beyond runs outward
  const pulled: Point[] = [points[points.length - 1]!];
  const halfLength = points.length >> 1;
  for (let i = points.length - 2; i >= halfLength; i--) {
    if (distance(points[i]!, points[points.length - 1]!) > CLOSE.pullBackMm) break;
    pulled.unshift(points[i]!);
  }
  const way = [...pulled];
  const runEnd = way.length - 1;
  const end = way[runEnd]!;
  for (const p of beyond) {
    if (distance(p, end) > CLOSE.carryOnMm) return { points: way, runEnd, inkEnd: way.length - 1 };
    way.push(p);
  }
  const inkEnd = way.length - 1;
  const known = [...points.slice(0, points.length - pulled.length), ...way];
  way.push(moved(way[inkEnd]!, aim(known), CLOSE.straightOnMm));
  return { points: way, runEnd, inkEnd };
}

/** Where a line points at its end: the tangent of a parabola through its last stretch, so that a curve keeps its turn. */
function aim(points: readonly Point[]): Point {
  const end = points[points.length - 1]!;
  const stretch: Point[] = [];
  for (let i = points.length - 1; i >= 0 && distance(points[i]!, end) <= CLOSE.aimMm; i--) stretch.push(points[i]!);
  const start = stretch[stretch.length - 1]!;
  const chord = unit(sub(end, start));
  if (stretch.length < CLOSE.aimLeastPoints || distance(end, start) < CLOSE.aimCurvedMm) return chord;
  const local = stretch.map((p): Point => {
    const d = sub(p, end);
    return [dot(d, chord), cross(chord, d)];
  });
  const slope = slopeAtZero(local);
  return unit(moved(chord, turned(chord), slope));
}

/** Slope at x = 0 of the least squares parabola y(x). */
function slopeAtZero(points: readonly Point[]): number {
  const m = [0, 0, 0, 0, 0];
  const v = [0, 0, 0];
  for (const [x, y] of points) {
    for (let k = 0; k < m.length; k++) m[k]! += x ** k;
    for (let k = 0; k < v.length; k++) v[k]! += y * x ** k;
  }
  const [m0, m1, m2, m3, m4] = m as [number, number, number, number, number];
  const [v0, v1, v2] = v as [number, number, number];
  const det = m0 * (m2 * m4 - m3 * m3) - m1 * (m1 * m4 - m3 * m2) + m2 * (m1 * m3 - m2 * m2);
  if (det === 0) return 0;
  return (m0 * (v1 * m4 - m3 * v2) - v0 * (m1 * m4 - m3 * m2) + m2 * (m1 * v2 - v1 * m2)) / det;
}

function joinOf(run: Run, next: Run, sameRun: boolean): Join {
  const endGap = distance(run.points[run.points.length - 1]!, next.points[0]!);
  const straightJoin: Join = { corner: null, bridgeMm: endGap, trimThis: 0, trimNext: 0, outOfThis: [], intoNext: [] };
  if (sameRun && endGap < JOIN_LIMITS.crossingGapMm) return straightJoin;
  const out = wayOut(run.points, run.after);
  const into = wayOut(next.points.toReversed(), next.before);
  const hit = firstCrossing(out, into);
  if (hit === null) return straightJoin;
  const directionOut = sub(out.points[hit.i + 1]!, out.points[hit.i]!);
  const directionInto = sub(into.points[hit.j]!, into.points[hit.j + 1]!);
  const isCorner = angleBetweenDeg(directionOut, directionInto) >= CLOSE.cornerDeg;
  // beside a corner the ridge of each arm is pulled toward the other: aim again from farther away
  const clearMm = isCorner ? CLOSE.cornerClearMm : 0;
  const corner = isCorner ? (aimedCrossing(out, into, hit) ?? hit.at) : null;
  const lost = (way: WayOut, hitIndex: number): number => {
    let k = Math.min(hitIndex, way.runEnd);
    while (k > 0 && distance(way.points[k]!, hit.at) < clearMm) k--;
    return way.runEnd - k;
  };
  const extra = (way: WayOut, hitIndex: number, width: number): BodyPoint[] => {
    const body: BodyPoint[] = [];
    for (let k = way.runEnd + 1; k <= Math.min(hitIndex, way.inkEnd); k++)
      if (distance(way.points[k]!, hit.at) >= clearMm) body.push({ at: way.points[k]!, width, gap: false, inkMm: 0 });
    return body;
  };
  return {
    corner,
    bridgeMm: 0,
    trimThis: lost(out, hit.i),
    trimNext: lost(into, hit.j),
    outOfThis: extra(out, hit.i, run.widths[run.widths.length - 1]!),
    intoNext: extra(into, hit.j, next.widths[0]!).toReversed(),
  };
}

/** The corner from both sides' tangents taken clear of it; null when they do not cross near the first guess. */
function aimedCrossing(out: WayOut, into: WayOut, hit: { at: Point; i: number; j: number }): Point | null {
  const clear = (way: WayOut, hitIndex: number): Point[] =>
    way.points.slice(0, Math.min(hitIndex, way.inkEnd) + 1).filter((p) => distance(p, hit.at) >= CLOSE.cornerClearMm);
  const a = clear(out, hit.i);
  const b = clear(into, hit.j);
  if (a.length < CLOSE.aimLeastPoints || b.length < CLOSE.aimLeastPoints) return null;
  const corner = crossingOf(
    { centre: a[a.length - 1]!, direction: aim(a), rms: 0 },
    { centre: b[b.length - 1]!, direction: aim(b), rms: 0 },
  );
  return corner !== null && distance(corner, hit.at) <= CLOSE.cornerMoveMm ? corner : null;
}

/** The crossing of the two ways that needs the least travel; null when they do not cross. */
function firstCrossing(out: WayOut, into: WayOut): { at: Point; i: number; j: number } | null {
  let best: { at: Point; i: number; j: number; travel: number } | null = null;
  for (let i = 0; i + 1 < out.points.length; i++)
    for (let j = 0; j + 1 < into.points.length; j++) {
      const a = out.points[i]!;
      const b = out.points[i + 1]!;
      const c = into.points[j]!;
      const d = into.points[j + 1]!;
      const det = cross(sub(b, a), sub(d, c));
      if (det === 0) continue;
      const t = cross(sub(c, a), sub(d, c)) / det;
      const u = cross(sub(c, a), sub(b, a)) / det;
      if (t < 0 || t > 1 || u < 0 || u > 1) continue;
      const at = moved(a, sub(b, a), t);
      const travel = Math.abs(i + t - out.runEnd) + Math.abs(j + u - into.runEnd);
      if (best === null || travel < best.travel) best = { at, i, j, travel };
    }
  return best;
}
