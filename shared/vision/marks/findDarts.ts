// Darts drawn as two lines from the outline to one point inside, straight or slightly curved, solid or dashed.
import { Matrix, solve } from 'ml-matrix';
import { type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import { cross, distance, dot, sub, unit } from '../../geometry/vector.ts';
import { angleBetweenDeg, inLine, moved, turned } from '../ink/polyline.ts';
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

/** Share of the straight way between two points that is ink as dark as a pen of that contrast. */
export type InkBetween = (from: Point, to: Point, contrastRatio: number) => number;

/** @returns darts and the lines that they consist of */
export function findDarts(
  lines: readonly MarkLine[],
  outline: OutlineIndex,
  inkBetween: InkBetween,
): { darts: DartMark[]; used: MarkLine[] } {
  const legs = lines.flatMap((line, index) => legsOf(line, index, outline));
  const pairs: Pair[] = [];
  for (let i = 0; i < legs.length; i++)
    for (let j = i + 1; j < legs.length; j++) {
      const pair = pairOf(legs[i]!, legs[j]!, outline, inkBetween);
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
      apex: put(crossAt(apex, lines, [a.line, b.line]) ?? apex),
      confidence: 1 / (1 + misfit),
    });
  }
  return { darts, used: [...used].map((index) => lines[index]!) };
}

/** Middle of the cross that marks a point: of its strokes that run through there; null when there is none. */
function crossAt(apex: Point, lines: readonly MarkLine[], legs: readonly MarkLine[]): Point | null {
  const { crossAsideMm, crossMiddleRatio, crossLeastMm, crossMostMm } = MARK_LIMITS.dart;
  const middles = lines
    .filter((line) => !legs.includes(line) && line.lengthMm >= crossLeastMm && line.lengthMm <= crossMostMm)
    .filter(({ straight, lengthMm }) => {
      // half of a stroke that the legs cut in two has its end there, not its middle
      const { along, across } = inLine(straight, apex);
      return Math.abs(across) <= crossAsideMm && Math.abs(along) <= crossMiddleRatio * lengthMm;
    })
    .map((line) => middleOf(line.points[0]!, line.points[line.points.length - 1]!));
  if (middles.length === 0 || middles.length > 2) return null;
  return middleOf(middles[0]!, middles[middles.length - 1]!);
}

function legsOf(line: MarkLine, index: number, outline: OutlineIndex): Leg[] {
  const { dart, touchMm } = MARK_LIMITS;
  if (line.lengthMm < dart.leastLegMm || line.lengthMm > dart.mostLegMm) return [];
  const reachMm = isDashed(line) ? dart.dashedTouchMm : touchMm;
  const feet = [false, true].flatMap((last) => {
    const foot = footOf(line, last, outline, reachMm);
    return foot !== null && foot.slantDeg <= 90 - dart.footDeg ? [foot] : [];
  });
  // a line from edge to edge is no dart leg
  if (feet.length !== 1) return [];
  const foot = feet[0]!;
  return [{ index, line, foot, points: foot.last ? line.points.toReversed() : line.points }];
}

function isDashed(line: MarkLine): boolean {
  return line.inkedMm < MARK_LIMITS.dart.solidRatio * line.lengthMm;
}

function pairOf(a: Leg, b: Leg, outline: OutlineIndex, inkBetween: InkBetween): Pair | null {
  const { dart } = MARK_LIMITS;
  if (a.index === b.index) return null;
  const mouthMm = outline.apartMm(a.foot.place.atMm, b.foot.place.atMm);
  if (mouthMm < dart.mouthLeastMm || mouthMm > dart.mouthMostMm) return null;
  const apex = apexOf(a, b);
  if (apex === null || !outline.contains(apex)) return null;
  const angleDeg = angleBetweenDeg(sub(a.foot.place.point, apex), sub(b.foot.place.point, apex));
  if (angleDeg < dart.angleLeastDeg || angleDeg > dart.angleMostDeg) return null;
  const legA = distance(a.foot.place.point, apex);
  const legB = distance(b.foot.place.point, apex);
  if (Math.min(legA, legB) < dart.legsRatio * Math.max(legA, legB)) return null;
  // where the lines run into one another one of them is lost early
  const mergeMm = Math.max(0, dart.mergedMm / Math.tan((angleDeg * Math.PI) / 180));
  const missA = missOf(a, apex, legA, mergeMm, inkBetween);
  const missB = missOf(b, apex, legB, mergeMm, inkBetween);
  if (missA === null || missB === null) return null;
  const misfit = (missA + missB) / (legA + legB) + Math.abs(legA - legB) / (legA + legB);
  return { a, b, apex, misfit };
}

/**
 * How far a leg ends from the apex; null when that is too far to be meant. Another line that touches a leg may have taken
 * its last stretch: then there is ink on the way.
 */
function missOf(leg: Leg, apex: Point, legMm: number, mergeMm: number, inkBetween: InkBetween): number | null {
  const { dart } = MARK_LIMITS;
  const end = leg.points[leg.points.length - 1]!;
  const missMm = distance(end, apex);
  if (missMm <= dart.endMm + dart.endRatio * legMm + mergeMm) return missMm;
  if (missMm > dart.hiddenRatio * legMm) return null;
  return inkBetween(end, apex, leg.line.contrastRatio) >= dart.hiddenInkRatio ? missMm : null;
}

/** A leg as across = c0 + c1 along + c2 along^2 in the dart's own frame. */
type LegCurve = readonly [number, number, number];

/**
 * Where two legs meet: in a frame along the dart's middle, the crossing of a parabola (or straight line) through each leg,
 * taken only where the two lines are clear of one another.
 */
function apexOf(a: Leg, b: Leg): Point | null {
  const mouth: Point = middleOf(a.foot.place.point, b.foot.place.point);
  const inner: Point = middleOf(a.points[a.points.length - 1]!, b.points[b.points.length - 1]!);
  const along = unit(sub(inner, mouth));
  const local = (leg: Leg): Point[] =>
    leg.points.map((p) => {
      const d = sub(p, mouth);
      return [dot(d, along), cross(along, d)];
    });
  const [la, lb] = [local(a), local(b)];
  const roughA = curveThrough(la);
  const roughB = curveThrough(lb);
  const clear = (points: readonly Point[], other: LegCurve): Point[] => {
    const kept = points.filter(([x, y]) => Math.abs(y - valueAt(other, x)) > MARK_LIMITS.dart.mergedMm);
    return kept.length >= points.length / 3 ? kept : [...points];
  };
  const ca = curveThrough(clear(la, roughB));
  const cb = curveThrough(clear(lb, roughA));
  const [endA, endB] = [la[la.length - 1]![0], lb[lb.length - 1]![0]];
  const endMm = Math.max(endA, endB);
  const gap: LegCurve = [ca[0] - cb[0], ca[1] - cb[1], ca[2] - cb[2]];
  const crossing = meetingAt(gap, endMm);
  if (crossing === null) return null;
  const longer = endA >= endB ? a : b;
  const x = withEnd(crossing, crossingSigmaMm(gap, [ca, cb], crossing), endMm, isDashed(longer.line));
  return moved(moved(mouth, along, x), turned(along), (valueAt(ca, x) + valueAt(cb, x)) / 2);
}

/** Legs that meet at a small angle cross anywhere along them: how sure the crossing is along the dart. */
function crossingSigmaMm(gap: LegCurve, legs: readonly LegCurve[], x: number): number {
  const { legSigmaMm, bentSigmaMm, leastSlope } = MARK_LIMITS.dart;
  const slope = Math.abs(gap[1] + 2 * gap[2] * x);
  const acrossMm = legs.some(([, , bend]) => bend !== 0) ? bentSigmaMm : legSigmaMm;
  return (acrossMm * Math.SQRT2) / Math.max(slope, leastSlope);
}

/** The crossing and the end of the longer leg, weighed by how sure each is. */
function withEnd(crossing: number, sigmaMm: number, end: number, dashed: boolean): number {
  const { endSigmaMm, dashedEndSigmaMm, endReachSigmas } = MARK_LIMITS.dart;
  const endSigma = dashed ? dashedEndSigmaMm : endSigmaMm;
  if (Math.abs(crossing - end) > endReachSigmas * Math.hypot(sigmaMm, endSigma)) return crossing;
  const share = sigmaMm ** 2 / (sigmaMm ** 2 + endSigma ** 2);
  return crossing + share * (end - crossing);
}

const middleOf = (p: Point, q: Point): Point => [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
const valueAt = ([c0, c1, c2]: LegCurve, x: number): number => c0 + x * (c1 + x * c2);

/** Root of the difference of two legs that lies nearest to their inner ends; the narrowest place when they never meet. */
function meetingAt([c0, c1, c2]: LegCurve, endMm: number): number | null {
  if (Math.abs(c2) * endMm < MARK_LIMITS.dart.bendless) return c1 === 0 ? null : -c0 / c1;
  const root = c1 * c1 - 4 * c2 * c0;
  if (root < 0) return -c1 / (2 * c2);
  const roots = [(-c1 - Math.sqrt(root)) / (2 * c2), (-c1 + Math.sqrt(root)) / (2 * c2)];
  return roots.reduce((p, q) => (Math.abs(q - endMm) < Math.abs(p - endMm) ? q : p));
}

/** A parabola where the leg is bent, a straight line where it is straight or merely drawn by an unsteady hand. */
function curveThrough(points: readonly Point[]): LegCurve {
  const { steadyMm, bentRatio } = MARK_LIMITS.dart;
  const straight = leastSquares(points, 2);
  const wander = rmsOf(points, straight);
  if (wander <= steadyMm) return straight;
  const bent = leastSquares(points, 3);
  return rmsOf(points, bent) <= bentRatio * wander ? bent : straight;
}

function rmsOf(points: readonly Point[], curve: LegCurve): number {
  return Math.sqrt(points.reduce((sum, [x, y]) => sum + (y - valueAt(curve, x)) ** 2, 0) / points.length);
}

function leastSquares(points: readonly Point[], terms: 2 | 3): LegCurve {
  const design = new Matrix(points.map(([x]) => Array.from({ length: terms }, (_, k) => x ** k)));
  const fit = solve(design, Matrix.columnVector(points.map(([, y]) => y))).to1DArray();
  return [fit[0]!, fit[1]!, fit[2] ?? 0];
}
