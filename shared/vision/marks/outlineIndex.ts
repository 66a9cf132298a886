// Where things lie relative to a piece's outline: nearest outline point, distance (inside positive), run along it. A grid of
// cells makes a query cheap enough to ask for every point of every pen line.
import type { Point } from '../../base/points.ts';
import { resamplePolyline, signedAreaMm2 } from '../../geometry/polygon.ts';
import { cross, distance, sub, unit } from '../../geometry/vector.ts';
import { pointAtLength, runningLength } from '../ink/polyline.ts';

export interface OutlinePlace {
  /** Running length along the outline from its first point. */
  readonly atMm: number;
  readonly point: Point;
  /** Unit direction of the outline there. */
  readonly along: Point;
  /** Distance of the asked point from the outline, positive inside. */
  readonly insideMm: number;
}

const STEP_MM = 1;
const CELL_MM = 8;
const ZONE_MM = 3;
const ZONES = ['outside', 'inside', 'rim'] as const;

interface ZoneGrid {
  readonly origin: Point;
  readonly columns: number;
  readonly rows: number;
  /** Index into ZONES. */
  readonly data: Uint8Array;
}

export class OutlineIndex {
  readonly lengthMm: number;
  private readonly points: Point[];
  private readonly lengths: Float64Array;
  private readonly zones: ZoneGrid;
  private readonly cells = new Map<number, number[]>();

  /** @param outline closed ring, last point not repeated; either sense, it is turned clockwise (as seen, y down) */
  constructor(outline: readonly Point[]) {
    const clockwise = signedAreaMm2(outline) >= 0 ? outline : outline.toReversed();
    this.points = spaced([...clockwise, clockwise[0]!]);
    this.lengths = runningLength(this.points);
    this.lengthMm = this.lengths[this.points.length - 1]!;
    for (let i = 0; i + 1 < this.points.length; i++) {
      const key = cellKey(this.points[i]!);
      const list = this.cells.get(key);
      if (list) list.push(i);
      else this.cells.set(key, [i]);
    }
    this.zones = zoneGrid(this.points, this.box());
  }

  /** The nearest place of the outline; null when it is farther than `reachMm`. */
  nearest(p: Point, reachMm: number): OutlinePlace | null {
    const cells = Math.ceil((reachMm + 2 * STEP_MM) / CELL_MM);
    let best = reachMm;
    let found: OutlinePlace | null = null;
    for (let dx = -cells; dx <= cells; dx++)
      for (let dy = -cells; dy <= cells; dy++)
        for (const i of this.cells.get(cellKey([p[0] + dx * CELL_MM, p[1] + dy * CELL_MM])) ?? []) {
          const a = this.points[i]!;
          const b = this.points[i + 1]!;
          const ab = sub(b, a);
          const length = distance(a, b);
          if (length === 0) continue;
          const along: Point = [ab[0] / length, ab[1] / length];
          const ap = sub(p, a);
          const t = Math.min(length, Math.max(0, ap[0] * along[0] + ap[1] * along[1]));
          const foot: Point = [a[0] + t * along[0], a[1] + t * along[1]];
          const away = distance(p, foot);
          if (away >= best) continue;
          best = away;
          // clockwise with y down: inside lies on the positive side
          const inside = cross(along, ap) >= 0 ? away : -away;
          found = { atMm: this.lengths[i]! + t, point: foot, along, insideMm: inside };
        }
    return found;
  }

  /** Whether a point lies inside. */
  contains(p: Point): boolean {
    const zone = this.zoneOf(p);
    if (zone !== 'rim') return zone === 'inside';
    const near = this.nearest(p, 2 * ZONE_MM);
    return near !== null && near.insideMm >= 0;
  }

  /** Quick answer: inside or outside by more than ZONE_MM / 2, or near the rim. */
  zoneOf(p: Point): 'inside' | 'outside' | 'rim' {
    const { origin, columns, rows, data } = this.zones;
    const c = Math.floor((p[0] - origin[0]) / ZONE_MM);
    const r = Math.floor((p[1] - origin[1]) / ZONE_MM);
    if (c < 0 || r < 0 || c >= columns || r >= rows) return 'outside';
    return ZONES[data[r * columns + c]!]!;
  }

  /** Corners of the smallest upright box around the outline. */
  box(): { readonly min: Point; readonly max: Point } {
    const xs = this.points.map((p) => p[0]);
    const ys = this.points.map((p) => p[1]);
    return {
      min: [xs.reduce((a, b) => Math.min(a, b)), ys.reduce((a, b) => Math.min(a, b))],
      max: [xs.reduce((a, b) => Math.max(a, b)), ys.reduce((a, b) => Math.max(a, b))],
    };
  }

  /** Where the segment from a to b first crosses the outline; null when it does not. */
  crossing(a: Point, b: Point): OutlinePlace | null {
    const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    const cells = Math.ceil((distance(a, b) / 2 + 2 * STEP_MM) / CELL_MM);
    let bestT = Number.POSITIVE_INFINITY;
    let found: OutlinePlace | null = null;
    const ab = sub(b, a);
    for (let dx = -cells; dx <= cells; dx++)
      for (let dy = -cells; dy <= cells; dy++)
        for (const i of this.cells.get(cellKey([middle[0] + dx * CELL_MM, middle[1] + dy * CELL_MM])) ?? []) {
          const c = this.points[i]!;
          const cd = sub(this.points[i + 1]!, c);
          const det = cross(ab, cd);
          if (det === 0) continue;
          const t = cross(sub(c, a), cd) / det;
          const u = cross(sub(c, a), ab) / det;
          if (t < 0 || t > 1 || u < 0 || u > 1 || t >= bestT) continue;
          bestT = t;
          found = {
            atMm: this.lengths[i]! + u * Math.hypot(cd[0], cd[1]),
            point: [c[0] + u * cd[0], c[1] + u * cd[1]],
            along: unit(cd),
            insideMm: 0,
          };
        }
    return found;
  }

  /** Point and direction at a running length; wraps round. */
  placeAt(atMm: number): { readonly point: Point; readonly along: Point } {
    const along = unit(sub(this.pointAt(atMm + STEP_MM), this.pointAt(atMm - STEP_MM)));
    return { point: this.pointAt(atMm), along };
  }

  private pointAt(atMm: number): Point {
    const wrapped = ((atMm % this.lengthMm) + this.lengthMm) % this.lengthMm;
    return pointAtLength(this.points, this.lengths, wrapped);
  }

  /** Shorter way along the outline between two running lengths. */
  apartMm(a: number, b: number): number {
    const d = Math.abs(a - b) % this.lengthMm;
    return Math.min(d, this.lengthMm - d);
  }
}

function cellKey(p: Point): number {
  return Math.floor(p[0] / CELL_MM) * 65536 + Math.floor(p[1] / CELL_MM);
}

/** No two neighbours farther apart than STEP_MM; given points are kept. */
function spaced(points: readonly Point[]): Point[] {
  const out: Point[] = [points[0]!];
  for (let i = 1; i < points.length; i++) {
    const a = points[i - 1]!;
    const b = points[i]!;
    const length = distance(a, b);
    if (length === 0) continue;
    if (length <= STEP_MM) out.push(b);
    else out.push(...resamplePolyline([a, b], STEP_MM).slice(1));
  }
  return out;
}

/** @param points closed polyline, first point repeated */
function zoneGrid(points: readonly Point[], box: { readonly min: Point; readonly max: Point }): ZoneGrid {
  const origin: Point = [box.min[0] - 2 * ZONE_MM, box.min[1] - 2 * ZONE_MM];
  const columns = Math.ceil((box.max[0] - origin[0]) / ZONE_MM) + 2;
  const rows = Math.ceil((box.max[1] - origin[1]) / ZONE_MM) + 2;
  const data = new Uint8Array(columns * rows);
  for (let r = 0; r < rows; r++) {
    const y = origin[1] + (r + 0.5) * ZONE_MM;
    const crossings: number[] = [];
    for (let i = 0; i + 1 < points.length; i++) {
      const a = points[i]!;
      const b = points[i + 1]!;
      if (a[1] > y !== b[1] > y) crossings.push(a[0] + ((y - a[1]) * (b[0] - a[0])) / (b[1] - a[1]));
    }
    crossings.sort((p, q) => p - q);
    for (let k = 0; k + 1 < crossings.length; k += 2)
      for (let c = 0; c < columns; c++) {
        const x = origin[0] + (c + 0.5) * ZONE_MM;
        if (x >= crossings[k]! && x < crossings[k + 1]!) data[r * columns + c] = 1;
      }
  }
  // every cell that the outline touches, and its neighbours
  for (const p of points) {
    const c0 = Math.floor((p[0] - origin[0]) / ZONE_MM);
    const r0 = Math.floor((p[1] - origin[1]) / ZONE_MM);
    for (let r = r0 - 1; r <= r0 + 1; r++) for (let c = c0 - 1; c <= c0 + 1; c++) data[r * columns + c] = 2;
  }
  return { origin, columns, rows, data };
}
