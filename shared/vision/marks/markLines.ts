// The pen lines inside a piece that may be marks: all ink lines less the outline's own, cut where they run along or leave it.
import type { Point } from '../../base/points.ts';
import { distance, sub } from '../../geometry/vector.ts';
import type { InkLine } from '../ink/inkLines.ts';
import { fitStraight, inLine, lineAngleDeg, polylineLength, runningLength, type StraightFit } from '../ink/polyline.ts';
import { localCurve } from '../outline/localFit.ts';
import { MARK_LIMITS } from './markLimits.ts';
import type { OutlineIndex } from './outlineIndex.ts';

export interface MarkLine {
  readonly points: readonly Point[];
  readonly lengthMm: number;
  /** Part of lengthMm that was seen as ink. */
  readonly inkedMm: number;
  readonly contrastRatio: number;
  readonly straight: StraightFit;
  /** Distance of the first and last point from the outline, inside positive; Infinity when far away. */
  readonly endsInsideMm: readonly [number, number];
}

/**
 * Parts of ink lines inside the outline.
 * @param outsideMm how far a mark may stick out of it: nothing of a paper edge, a little of a drawn line
 */
export function markLines(lines: readonly InkLine[], outline: OutlineIndex, outsideMm: number): MarkLine[] {
  const parts: MarkLine[] = [];
  for (const line of lines) {
    let from = -1;
    const close = (to: number): void => {
      if (from >= 0 && to - from >= LEAST_POINTS) {
        const bends = bendsOf(line.points.slice(from, to)).map((bend) => from + bend);
        const cuts = [from, ...bends, to];
        for (let k = 0; k + 1 < cuts.length; k++) parts.push(partOf(line, cuts[k]!, cuts[k + 1]!, outline));
      }
      from = -1;
    };
    for (let i = 0; i < line.points.length; i++) {
      if (isCandidate(line, i, outline, outsideMm)) {
        if (from < 0) from = i;
      } else close(i);
    }
    close(line.points.length);
  }
  return parts;
}

const LEAST_POINTS = 3;

/**
 * Where two straight lines that touch end to end were followed as one (an arrow head on a dart leg): indices of the points
 * that begin the next line. None for straight lines, curves and handwriting.
 */
function bendsOf(points: readonly Point[]): number[] {
  const { leastMm, straightMm, bentRatio } = MARK_LIMITS.merge;
  const s = runningLength(points);
  const lengthMm = s[points.length - 1]!;
  if (lengthMm < 2 * leastMm || fitStraight(points).rms <= straightMm) return [];
  const from = s.findIndex((mm) => mm >= leastMm);
  const to = points.length - LEAST_POINTS;
  if (to <= from) return [];
  const { forward, backward } = scatterBothWays(points);
  let bend = from;
  for (let i = from; i < to && lengthMm - s[i]! >= leastMm; i++)
    if (forward[i]! + backward[i]! < forward[bend]! + backward[bend]!) bend = i;
  const rms = Math.sqrt((forward[bend]! + backward[bend]!) / points.length);
  const curve = localCurve(
    points,
    Array.from(s, (mm) => mm - lengthMm / 2),
  );
  if (curve === null || rms > straightMm || rms > bentRatio * curve.residualMm) return [];
  return [bend];
}

/** Sums of squared distances from the straight fit to the points before each index, and to it and those after it. */
function scatterBothWays(points: readonly Point[]): { forward: Float64Array; backward: Float64Array } {
  const n = points.length;
  const run = (order: (k: number) => number, skip: number): Float64Array => {
    const sums = new Float64Array(n + 1);
    const origin = points[order(0)]!;
    let [count, x, y, xx, xy, yy] = [0, 0, 0, 0, 0, 0];
    for (let k = 0; k < n; k++) {
      const p = points[order(k)]!;
      const [dx, dy] = [p[0] - origin[0], p[1] - origin[1]];
      count++;
      x += dx;
      y += dy;
      xx += dx * dx;
      xy += dx * dy;
      yy += dy * dy;
      const [a, b, c] = [xx - (x * x) / count, xy - (x * y) / count, yy - (y * y) / count];
      sums[order(k) + skip] = Math.max(0, (a + c) / 2 - Math.hypot((a - c) / 2, b));
    }
    return sums;
  };
  return { forward: run((k) => k, 1), backward: run((k) => n - 1 - k, 0) };
}

/** Points that the outline's zones leave open lie at most this far from it. */
const RIM_REACH_MM = 10;

function isCandidate(line: InkLine, i: number, outline: OutlineIndex, outsideMm: number): boolean {
  const p = line.points[i]!;
  if (outline.zoneOf(p) === 'inside') return true;
  const place = outline.nearest(p, Math.max(outsideMm, RIM_REACH_MM));
  if (place === null || place.insideMm < -outsideMm) return false;
  if (Math.abs(place.insideMm) > MARK_LIMITS.onOutlineMm) return true;
  const direction = sub(line.points[Math.min(line.points.length - 1, i + 3)]!, line.points[Math.max(0, i - 3)]!);
  return lineAngleDeg(direction, place.along) > MARK_LIMITS.onOutlineDeg;
}

function partOf(line: InkLine, from: number, to: number, outline: OutlineIndex): MarkLine {
  const points = line.points.slice(from, to);
  let gapsMm = 0;
  for (let i = from; i + 1 < to; i++) if (line.gapAfter[i]) gapsMm += distance(line.points[i + 1]!, line.points[i]!);
  const lengthMm = polylineLength(points);
  return markLineOf(points, lengthMm, lengthMm - gapsMm, line.contrastRatio, outline);
}

function markLineOf(
  points: readonly Point[],
  lengthMm: number,
  inkedMm: number,
  contrastRatio: number,
  outline: OutlineIndex,
): MarkLine {
  const insideAt = (p: Point): number =>
    outline.nearest(p, 2 * MARK_LIMITS.outsideMm)?.insideMm ?? Number.POSITIVE_INFINITY;
  return {
    points,
    lengthMm,
    inkedMm,
    contrastRatio,
    straight: fitMostly(points),
    endsInsideMm: [insideAt(points[0]!), insideAt(points[points.length - 1]!)],
  };
}

/** Straight fit that a short stray end (into a letter, into an arrow head) does not turn. */
function fitMostly(points: readonly Point[]): StraightFit {
  const first = fitStraight(points);
  const away = points.map((p) => Math.abs(inLine(first, p).across)).sort((a, b) => a - b);
  const most = Math.max(MARK_LIMITS.merge.asideMm / 2, 3 * away[away.length >> 1]!);
  const kept = points.filter((p) => Math.abs(inLine(first, p).across) <= most);
  return kept.length >= (1 - MARK_LIMITS.merge.strayRatio) * points.length ? fitStraight(kept) : first;
}

/**
 * Straight lines that others cut into pieces (text, lengthen and shorten lines, arrow heads across them) made whole:
 * stretches on one straight line with gaps that are short beside them.
 */
export function mergedStraight(lines: readonly MarkLine[], outline: OutlineIndex): MarkLine[] {
  const { merge } = MARK_LIMITS;
  const order = lines
    .map((line, index) => ({ line, index }))
    .filter(({ line }) => line.lengthMm >= merge.leastMm && line.straight.rms <= merge.straightMm)
    .sort((a, b) => b.line.lengthMm - a.line.lengthMm);
  const taken = new Set<number>();
  const whole: MarkLine[] = [];
  for (const { line, index } of order) {
    if (taken.has(index)) continue;
    taken.add(index);
    let group = [line];
    for (let grown = true; grown; ) {
      grown = false;
      for (const other of order) {
        if (taken.has(other.index) || !continues(group, other.line)) continue;
        taken.add(other.index);
        group = [...group, other.line];
        grown = true;
      }
    }
    whole.push(group.length === 1 ? line : combined(group, outline));
  }
  return [...whole, ...lines.filter((_, index) => !taken.has(index))];
}

function continues(group: readonly MarkLine[], other: MarkLine): boolean {
  const { merge } = MARK_LIMITS;
  const longest = group[0]!.straight;
  // the longest stretch decides quickly, the fit of all of them exactly
  if (Math.abs(inLine(longest, other.straight.centre).across) > 4 * merge.asideMm) return false;
  const fit = group.length === 1 ? longest : fitStraight(group.flatMap((line) => line.points));
  const aside = other.points.filter((p) => Math.abs(inLine(fit, p).across) > merge.asideMm).length;
  if (aside > merge.strayRatio * other.points.length) return false;
  const span = (line: MarkLine): [number, number] => {
    const a = inLine(fit, line.points[0]!).along;
    const b = inLine(fit, line.points[line.points.length - 1]!).along;
    return [Math.min(a, b), Math.max(a, b)];
  };
  const [from, to] = span(other);
  return group.some((line) => {
    const [a, b] = span(line);
    const gapMm = Math.max(from - b, a - to);
    return gapMm <= Math.min(merge.gapMm, merge.gapRatio * Math.min(line.lengthMm, other.lengthMm));
  });
}

function combined(group: readonly MarkLine[], outline: OutlineIndex): MarkLine {
  const fit = fitStraight(group.flatMap((line) => line.points));
  const points = group
    .flatMap((line) => line.points)
    .map((p) => ({ p, ...inLine(fit, p) }))
    .filter(({ across }) => Math.abs(across) <= MARK_LIMITS.merge.asideMm)
    .sort((a, b) => a.along - b.along)
    .map(({ p }) => p);
  const inkedMm = group.reduce((sum, line) => sum + line.inkedMm, 0);
  const contrast = group.reduce((sum, line) => sum + line.contrastRatio * line.inkedMm, 0) / inkedMm;
  return markLineOf(points, distance(points[0]!, points[points.length - 1]!), inkedMm, contrast, outline);
}
