// Darts drawn as two lines from the outline to one point inside, straight or slightly curved, solid or dashed.
import { type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import {
  angleBetweenDeg,
  crossingOf,
  distance,
  fitStraight,
  inLine,
  minus,
  type StraightFit,
} from '../ink/polyline.ts';
import type { TracedMark } from '../traced.ts';
import { type Foot, footOf } from './foot.ts';
import { MARK_LIMITS } from './markLimits.ts';
import type { MarkLine } from './markLines.ts';
import type { OutlineIndex } from './outlineIndex.ts';

export type DartMark = Extract<TracedMark, { kind: 'dart' }>;

interface Leg {
  readonly index: number;
  readonly line: MarkLine;
  readonly foot: Foot;
  /** From the foot inward. */
  readonly points: readonly Point[];
}

interface Pair {
  readonly a: Leg;
  readonly b: Leg;
  readonly apex: Point;
  readonly misfit: number;
}

/** @returns darts and the lines that they consist of */
export function findDarts(lines: readonly MarkLine[], outline: OutlineIndex): { darts: DartMark[]; used: MarkLine[] } {
  const legs = lines.flatMap((line, index) => legsOf(line, index, outline));
  const pairs: Pair[] = [];
  for (let i = 0; i < legs.length; i++)
    for (let j = i + 1; j < legs.length; j++) {
      const pair = pairOf(legs[i]!, legs[j]!, outline);
      if (pair !== null) pairs.push(pair);
    }
  pairs.sort((p, q) => p.misfit - q.misfit);
  const used = new Set<number>();
  const darts: DartMark[] = [];
  for (const { a, b, apex, misfit } of pairs) {
    if (used.has(a.index) || used.has(b.index)) continue;
    used.add(a.index);
    used.add(b.index);
    const [first, second] = a.foot.place.atMm <= b.foot.place.atMm ? [a, b] : [b, a];
    const put = (p: Point): TablePointMm => tableMm(p[0], p[1]);
    darts.push({
      kind: 'dart',
      legs: [put(first.foot.place.point), put(second.foot.place.point)],
      apex: put(apex),
      confidence: 1 / (1 + misfit),
    });
  }
  return { darts, used: [...used].map((index) => lines[index]!) };
}

function legsOf(line: MarkLine, index: number, outline: OutlineIndex): Leg[] {
  const { dart, touchMm } = MARK_LIMITS;
  if (line.lengthMm < dart.leastLegMm || line.lengthMm > dart.mostLegMm) return [];
  const feet = [false, true].flatMap((last) => {
    const foot = footOf(line, last, outline, touchMm);
    return foot !== null && foot.slantDeg <= 90 - dart.footDeg ? [foot] : [];
  });
  // a line from edge to edge is no dart leg
  if (feet.length !== 1) return [];
  const foot = feet[0]!;
  return [{ index, line, foot, points: foot.last ? line.points.toReversed() : line.points }];
}

function pairOf(a: Leg, b: Leg, outline: OutlineIndex): Pair | null {
  const { dart } = MARK_LIMITS;
  if (a.index === b.index) return null;
  const mouthMm = outline.apartMm(a.foot.place.atMm, b.foot.place.atMm);
  if (mouthMm < dart.mouthLeastMm || mouthMm > dart.mouthMostMm) return null;
  const rough = apexOf(aimFit(a.points, null), aimFit(b.points, null));
  if (rough === null) return null;
  const fitA = aimFit(a.points, b.points);
  const fitB = aimFit(b.points, a.points);
  const apex = apexOf(fitA, fitB);
  if (apex === null || !outline.contains(apex)) return null;
  const angleDeg = angleBetweenDeg(minus(a.foot.place.point, apex), minus(b.foot.place.point, apex));
  if (angleDeg < dart.angleLeastDeg || angleDeg > dart.angleMostDeg) return null;
  const legA = distance(a.foot.place.point, apex);
  const legB = distance(b.foot.place.point, apex);
  if (Math.min(legA, legB) < dart.legsRatio * Math.max(legA, legB)) return null;
  const missA = endMiss(a.points, fitA, apex);
  const missB = endMiss(b.points, fitB, apex);
  const allowed = (legMm: number, angle: number): number =>
    dart.endMm + dart.endRatio * legMm + dart.mergedMm / 2 / Math.tan((angle * Math.PI) / 180 || 1);
  if (missA > allowed(legA, angleDeg) || missB > allowed(legB, angleDeg)) return null;
  const misfit = (missA + missB) / (legA + legB) + Math.abs(legA - legB) / (legA + legB);
  return { a, b, apex, misfit };
}

function apexOf(a: StraightFit, b: StraightFit): Point | null {
  return crossingOf(a, b);
}

/** Distance along the leg between its inner end and the apex. */
function endMiss(points: readonly Point[], fit: StraightFit, apex: Point): number {
  return Math.abs(inLine(fit, points[points.length - 1]!).along - inLine(fit, apex).along);
}

/** Straight fit that aims at the apex: the whole leg when it is straight, its inner part when it is curved. */
function aimFit(points: readonly Point[], other: readonly Point[] | null): StraightFit {
  const { mergedMm, straightMm, aimShare } = MARK_LIMITS.dart;
  let clear = points;
  if (other !== null) {
    const otherFit = fitStraight(other);
    const apart = points.filter((p) => Math.abs(inLine(otherFit, p).across) > mergedMm);
    if (apart.length >= points.length / 3) clear = apart;
  }
  const all = fitStraight(clear);
  if (all.rms <= straightMm) return all;
  const inner = clear.slice(Math.floor(clear.length * (1 - aimShare)));
  return inner.length >= 3 ? fitStraight(inner) : all;
}
