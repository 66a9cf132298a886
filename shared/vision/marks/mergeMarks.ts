// The marks of one piece from several photos: the same mark seen twice becomes one, in the middle of both; a line of which
// each photo saw a part becomes the whole line.
import { type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import { cross, distance, dot, lerp, sub, unit } from '../../geometry/vector.ts';
import type { TracedMark } from '../traced.ts';

const SAME = {
  /** Marks of one kind nearer than this are one. */
  notchMm: 5,
  holeMm: 4,
  apexMm: 8,
  /** Lines of one kind in the same direction and on one line are one. */
  lineSine: 0.02,
  lineAsideMm: 4,
  /** A line that grew by more than this was cut by both photos: its heads are told apart by their ends. */
  grownMm: 8,
} as const;

type LineMark = Extract<TracedMark, { readonly kind: 'grainline' | 'fold' | 'lengthen-shorten' }>;

/** Marks of each photo in one frame, merged in the order given. */
export function mergeMarks(photos: readonly (readonly TracedMark[])[]): TracedMark[] {
  const merged: TracedMark[] = [];
  for (const marks of photos) {
    const before = merged.length;
    for (const mark of marks) {
      // Only with marks of earlier photos: two marks of one photo are two.
      const twin = merged.slice(0, before).findIndex((other) => combined(other, mark) !== null);
      if (twin >= 0) merged[twin] = combined(merged[twin]!, mark)!;
      else merged.push(mark);
    }
  }
  return merged;
}

/** The one mark that both are; null when they are two. */
function combined(a: TracedMark, b: TracedMark): TracedMark | null {
  if (a.kind === 'notch' && b.kind === 'notch') {
    if (distance(a.at, b.at) > SAME.notchMm) return null;
    return { ...surer(a, b), at: middle(a.at, b.at), confidence: Math.max(a.confidence, b.confidence) };
  }
  if (a.kind === 'hole' && b.kind === 'hole') {
    if (distance(a.at, b.at) > SAME.holeMm) return null;
    return { ...surer(a, b), at: middle(a.at, b.at), confidence: Math.max(a.confidence, b.confidence) };
  }
  if (a.kind === 'dart' && b.kind === 'dart') {
    if (distance(a.apex, b.apex) > SAME.apexMm) return null;
    const crossed = distance(a.legs[0], b.legs[0]) > distance(a.legs[0], b.legs[1]);
    const [first, second] = crossed ? [b.legs[1], b.legs[0]] : b.legs;
    return {
      ...surer(a, b),
      legs: [middle(a.legs[0], first), middle(a.legs[1], second)],
      apex: middle(a.apex, b.apex),
    };
  }
  if (a.kind === 'grainline' && b.kind === 'grainline') {
    const line = oneLine(a, b);
    if (line === null) return null;
    const heads = line.grown ? Math.min(2, a.heads + b.heads) : Math.max(a.heads, b.heads);
    return { ...surer(a, b), from: line.from, to: line.to, heads: heads as 0 | 1 | 2 };
  }
  if ((a.kind === 'fold' && b.kind === 'fold') || (a.kind === 'lengthen-shorten' && b.kind === 'lengthen-shorten')) {
    const line = oneLine(a, b);
    return line === null ? null : { ...surer(a, b), from: line.from, to: line.to };
  }
  return null;
}

/** From the first end to the last of both lines, when they lie on one. */
function oneLine(a: LineMark, b: LineMark): { from: TablePointMm; to: TablePointMm; grown: boolean } | null {
  const along = unit(sub(a.to, a.from));
  const other = unit(sub(b.to, b.from));
  if (Math.abs(cross(along, other)) > SAME.lineSine) return null;
  const aside = Math.max(...[b.from, b.to].map((p) => Math.abs(cross(along, sub(p, a.from)))));
  const lengths = [distance(a.from, a.to), distance(b.from, b.to)];
  if (aside > SAME.lineAsideMm + SAME.lineSine * Math.max(...lengths)) return null;
  const at = (p: Point): number => dot(along, sub(p, a.from));
  const ends = [a.from, a.to, b.from, b.to].toSorted((p, q) => at(p) - at(q));
  // Ends that both photos saw lie beside one another: the middle is meant.
  const end = (outer: TablePointMm, next: TablePointMm): TablePointMm =>
    distance(outer, next) < SAME.grownMm ? middle(outer, next) : outer;
  const from = end(ends[0]!, ends[1]!);
  const to = end(ends[3]!, ends[2]!);
  return { from, to, grown: distance(from, to) > Math.max(...lengths) + SAME.grownMm };
}

function surer<T extends { readonly confidence: number }>(a: T, b: T): T {
  return b.confidence > a.confidence ? b : a;
}

function middle(a: Point, b: Point): TablePointMm {
  const [x, y] = lerp(a, b, 0.5);
  return tableMm(x, y);
}

/** The same mark with every point moved. */
export function movedMark(mark: TracedMark, move: (point: TablePointMm) => TablePointMm): TracedMark {
  switch (mark.kind) {
    case 'notch':
    case 'hole':
      return { ...mark, at: move(mark.at) };
    case 'grainline':
    case 'fold':
    case 'lengthen-shorten':
      return { ...mark, from: move(mark.from), to: move(mark.to) };
    case 'dart':
      return { ...mark, legs: [move(mark.legs[0]), move(mark.legs[1])], apex: move(mark.apex) };
  }
}
