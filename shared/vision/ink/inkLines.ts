// Joins strokes that one pen line left behind: dashes, and the arms of a line that others or handwriting cross. Ends are
// paired by least bending over the gap; each end is used once, and both must choose each other.
import type { Point, TablePointMm } from '../../base/points.ts';
import { distance, dot, sub, unit } from '../../geometry/vector.ts';
import type { InkStroke } from './inkStrokes.ts';
import { angleBetweenDeg, fitStraight } from './polyline.ts';

/** A pen line: strokes in order along it, joined over gaps. */
export interface InkLine {
  readonly points: readonly TablePointMm[];
  readonly widthMm: readonly number[];
  /** For each point, whether the ink between it and the next point was not seen. */
  readonly gapAfter: readonly boolean[];
  readonly contrastRatio: number;
  /** Length from end to end, gaps included. */
  readonly lengthMm: number;
  /** Part of lengthMm that was seen as ink. */
  readonly inkedMm: number;
  readonly strokes: number;
  /** It runs out of the photo at one end. */
  readonly leavesPhoto: boolean;
}

/** How far and how crooked a gap may be. Dash rule of three from common drawing practice; angles found by trial. */
export const JOIN_LIMITS = {
  /** Gap between dashes, in lengths of the shorter dash. */
  gapDashes: 3,
  gapMostMm: 16,
  /** Always allowed: the hole that a crossing line leaves in a ridge. */
  crossingGapMm: 2.5,
  /** Bend at each end toward the other; more over short gaps, whose direction is less sure. */
  bendDeg: 14,
  bendShortDeg: 24,
  shortGapMm: 4,
  /** The lines of both ends may pass one another sideways by this, plus a share of the gap. */
  asideMm: 0.5,
  asidePerGap: 0.12,
  /** Stretch at the end of a stroke that says where it points. */
  endStretchMm: 6,
} as const;

interface StrokeEnd {
  readonly stroke: number;
  readonly last: boolean;
  readonly at: Point;
  /** Unit direction pointing out of the stroke. */
  readonly out: Point;
}

/** Which way a polyline points at one end: unit, out of the line; straight fit over the last `stretchMm`. */
export function directionAtEnd(points: readonly Point[], last: boolean, stretchMm: number): Point {
  const ordered = last ? points.length - 1 : 0;
  const step = last ? -1 : 1;
  const end = points[ordered]!;
  const stretch: Point[] = [];
  for (let i = ordered; i >= 0 && i < points.length; i += step) {
    stretch.push(points[i]!);
    if (distance(points[i]!, end) > stretchMm) break;
  }
  const away = sub(end, stretch[stretch.length - 1]!);
  const { direction } = fitStraight(stretch);
  return dot(direction, away) < 0 ? [-direction[0], -direction[1]] : direction;
}

export function joinStrokes(strokes: readonly InkStroke[]): InkLine[] {
  const ends: StrokeEnd[] = strokes.flatMap((stroke, index) =>
    [false, true].map((last) => ({
      stroke: index,
      last,
      at: stroke.points[last ? stroke.points.length - 1 : 0]!,
      out: directionAtEnd(stroke.points, last, JOIN_LIMITS.endStretchMm),
    })),
  );
  const partner = pairEnds(ends, strokes);
  const used = new Uint8Array(strokes.length);
  const lines: InkLine[] = [];
  for (let index = 0; index < strokes.length; index++) {
    if (used[index] === 1) continue;
    // back to the beginning of the line, or once round a closed one
    let start = 2 * index;
    const seen = new Set<number>();
    while (partner[start]! >= 0 && !seen.has(start >> 1)) {
      seen.add(start >> 1);
      start = partner[start]! ^ 1;
    }
    const order: { stroke: number; reversed: boolean }[] = [];
    let at = start;
    while (at >= 0 && used[at >> 1] === 0) {
      used[at >> 1] = 1;
      order.push({ stroke: at >> 1, reversed: (at & 1) === 1 });
      at = partner[at ^ 1]!;
    }
    lines.push(lineOf(order.map(({ stroke, reversed }) => ({ stroke: strokes[stroke]!, reversed }))));
  }
  return lines;
}

/** Index of the partner of each end (2 * stroke + 1 for the last), -1 for none. */
function pairEnds(ends: readonly StrokeEnd[], strokes: readonly InkStroke[]): Int32Array {
  const cellMm = JOIN_LIMITS.gapMostMm;
  const cells = new Map<string, number[]>();
  const key = (x: number, y: number): string => `${x},${y}`;
  const cellOf = (p: Point): [number, number] => [Math.floor(p[0] / cellMm), Math.floor(p[1] / cellMm)];
  ends.forEach((end, i) => {
    const k = key(...cellOf(end.at));
    const list = cells.get(k);
    if (list) list.push(i);
    else cells.set(k, [i]);
  });
  const offers: { a: number; b: number; cost: number }[] = [];
  ends.forEach((end, i) => {
    const [cx, cy] = cellOf(end.at);
    for (let dx = -1; dx <= 1; dx++)
      for (let dy = -1; dy <= 1; dy++)
        for (const j of cells.get(key(cx + dx, cy + dy)) ?? []) {
          if (j <= i || ends[j]!.stroke === end.stroke) continue;
          const cost = gapCost(end, ends[j]!, strokes);
          if (cost !== null) offers.push({ a: i, b: j, cost });
        }
  });
  offers.sort((p, q) => p.cost - q.cost);
  const partner = new Int32Array(ends.length).fill(-1);
  for (const { a, b } of offers) {
    if (partner[a]! >= 0 || partner[b]! >= 0) continue;
    partner[a] = b;
    partner[b] = a;
  }
  return partner;
}

/** What it costs to think of two ends as one line; null when they cannot be. */
function gapCost(a: StrokeEnd, b: StrokeEnd, strokes: readonly InkStroke[]): number | null {
  const gapMm = distance(a.at, b.at);
  const shorterMm = Math.min(strokes[a.stroke]!.lengthMm, strokes[b.stroke]!.lengthMm);
  const mostMm = Math.max(
    JOIN_LIMITS.crossingGapMm,
    Math.min(JOIN_LIMITS.gapMostMm, JOIN_LIMITS.gapDashes * shorterMm),
  );
  if (gapMm > mostMm) return null;
  const facing = angleBetweenDeg(a.out, [-b.out[0], -b.out[1]]);
  const bendMostDeg = gapMm < JOIN_LIMITS.shortGapMm ? JOIN_LIMITS.bendShortDeg : JOIN_LIMITS.bendDeg;
  if (facing > 2 * bendMostDeg) return null;
  const toB = sub(b.at, a.at);
  const mean = unit(sub(a.out, b.out));
  const asideMm = Math.abs(toB[0] * mean[1] - toB[1] * mean[0]);
  // ends may overlap a little at a crossing, but must not run back along one another
  if (dot(toB, mean) < -JOIN_LIMITS.crossingGapMm / 2) return null;
  if (asideMm > JOIN_LIMITS.asideMm + JOIN_LIMITS.asidePerGap * gapMm) return null;
  const unlike = Math.abs(strokes[a.stroke]!.contrastRatio - strokes[b.stroke]!.contrastRatio);
  return gapMm + facing / 4 + 4 * asideMm + 5 * unlike;
}

function lineOf(parts: readonly { stroke: InkStroke; reversed: boolean }[]): InkLine {
  const points: TablePointMm[] = [];
  const widthMm: number[] = [];
  const gapAfter: boolean[] = [];
  let inkedMm = 0;
  let gapsMm = 0;
  let contrast = 0;
  for (const { stroke, reversed } of parts) {
    const ordered = reversed ? stroke.points.toReversed() : stroke.points;
    const widths = reversed ? stroke.widthMm.toReversed() : stroke.widthMm;
    if (points.length > 0) {
      gapAfter[gapAfter.length - 1] = true;
      gapsMm += distance(points[points.length - 1]!, ordered[0]!);
    }
    for (let i = 0; i < ordered.length; i++) {
      points.push(ordered[i]!);
      widthMm.push(widths[i]!);
      gapAfter.push(false);
    }
    inkedMm += stroke.lengthMm;
    contrast += stroke.contrastRatio * stroke.lengthMm;
  }
  return {
    points,
    widthMm,
    gapAfter,
    contrastRatio: contrast / inkedMm,
    lengthMm: inkedMm + gapsMm,
    inkedMm,
    strokes: parts.length,
    leavesPhoto: parts.some(({ stroke }) => stroke.leavesPhoto),
  };
}
