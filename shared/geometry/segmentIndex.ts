// Nearest places on a number of open or closed lines, asked many times: their segments sorted into square cells.
import type { Point } from '../base/points.ts';
import { distance, lerp } from './vector.ts';

export interface IndexedLine {
  readonly points: readonly Point[];
  readonly closed: boolean;
}

export interface NearPlace {
  /** Which line, and which of its segments (from point `segment` to the next). */
  readonly line: number;
  readonly segment: number;
  readonly point: Point;
  /** 0 at the segment's start, 1 at its end. */
  readonly ratio: number;
  readonly awayMm: number;
}

export interface SegmentIndex {
  /** The nearest place within `reachMm` among the segments that `accept` lets through; null when there is none. */
  readonly nearest: (
    at: Point,
    reachMm: number,
    accept?: (line: number, segment: number) => boolean,
  ) => NearPlace | null;
}

const CELL_MM = 8;
/** Cells are numbered row by row in a plane so wide that no two places on a table share a number. */
const CELLS_PER_ROW = 1 << 20;

export function segmentIndex(lines: readonly IndexedLine[]): SegmentIndex {
  const cells = new Map<number, [line: number, segment: number][]>();
  const key = (x: number, y: number): number => y * CELLS_PER_ROW + x;
  const cellOf = (value: number): number => Math.floor(value / CELL_MM);
  lines.forEach(({ points, closed }, line) => {
    const count = closed ? points.length : points.length - 1;
    for (let segment = 0; segment < count; segment++) {
      const a = points[segment]!;
      const b = points[(segment + 1) % points.length]!;
      for (let x = cellOf(Math.min(a[0], b[0])); x <= cellOf(Math.max(a[0], b[0])); x++)
        for (let y = cellOf(Math.min(a[1], b[1])); y <= cellOf(Math.max(a[1], b[1])); y++) {
          const list = cells.get(key(x, y));
          if (list === undefined) cells.set(key(x, y), [[line, segment]]);
          else list.push([line, segment]);
        }
    }
  });
  const nearest: SegmentIndex['nearest'] = (at, reachMm, accept = () => true) => {
    let best: NearPlace | null = null;
    const look = (x: number, y: number): void => {
      for (const [line, segment] of cells.get(key(x, y)) ?? []) {
        const { points } = lines[line]!;
        const a = points[segment]!;
        const b = points[(segment + 1) % points.length]!;
        const squared = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2;
        const along = (at[0] - a[0]) * (b[0] - a[0]) + (at[1] - a[1]) * (b[1] - a[1]);
        const ratio = squared === 0 ? 0 : Math.min(1, Math.max(0, along / squared));
        const point = lerp(a, b, ratio);
        const awayMm = distance(at, point);
        if (awayMm > reachMm || (best !== null && awayMm >= best.awayMm) || !accept(line, segment)) continue;
        best = { line, segment, point, ratio, awayMm };
      }
    };
    const found = (): NearPlace | null => best;
    const [cx, cy] = [cellOf(at[0]), cellOf(at[1])];
    // Rings of cells around the place: whatever a ring holds is at least a cell less than its number away.
    for (let ring = 0; (ring - 1) * CELL_MM <= Math.min(reachMm, found()?.awayMm ?? reachMm); ring++) {
      for (let x = cx - ring; x <= cx + ring; x++) {
        look(x, cy - ring);
        if (ring > 0) look(x, cy + ring);
      }
      for (let y = cy - ring + 1; y < cy + ring; y++) {
        look(cx - ring, y);
        look(cx + ring, y);
      }
    }
    return best;
  };
  return { nearest };
}
