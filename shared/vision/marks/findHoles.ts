// Drill holes: small punched holes, drawn circles or crosses that stand alone inside the piece.
import { type Point, tableMm } from '../../base/points.ts';
import { distance } from '../../geometry/vector.ts';
import { grayAt, type Photo } from '../image.ts';
import type { PlaneMap } from '../ink/planeMap.ts';
import type { TracedMark } from '../traced.ts';
import { MARK_LIMITS } from './markLimits.ts';
import type { MarkLine } from './markLines.ts';
import type { OutlineIndex } from './outlineIndex.ts';

export type HoleMark = Extract<TracedMark, { kind: 'hole' }>;

/** @param heads tips of arrow heads that were read */
export function findHoles(
  photo: Photo,
  plane: PlaneMap,
  lines: readonly MarkLine[],
  outline: OutlineIndex,
  heads: readonly Point[],
): HoleMark[] {
  const { hole } = MARK_LIMITS;
  const grid = interiorGrid(photo, plane, outline);
  const found: HoleMark[] = [];
  for (let row = 0; row < grid.rows; row++)
    for (let column = 0; column < grid.columns; column++) {
      const dip = standsAlone(grid, column, row);
      if (dip < hole.leastDipRatio) continue;
      const rough: Point = [grid.origin[0] + column * hole.pitchMm, grid.origin[1] + row * hole.pitchMm];
      if (found.some((mark) => distance(mark.at, rough) < hole.clearRingsMm[0])) continue;
      if (heads.some((tip) => distance(tip, rough) < hole.headMm)) continue;
      const near = outline.nearest(rough, hole.outlineMm);
      if (near !== null || !outline.contains(rough)) continue;
      const blob = blobAt(photo, plane, rough);
      if (blob === null || inWriting(blob, lines)) continue;
      found.push({ kind: 'hole', at: tableMm(blob[0], blob[1]), confidence: Math.min(1, 0.5 + dip) });
    }
  return found;
}

interface InteriorGrid {
  readonly origin: Point;
  readonly columns: number;
  readonly rows: number;
  /** Grey levels averaged over the middle of a hole. */
  readonly levels: Float32Array;
}

/** Coarse rectified grey of the piece's box; each cell is the mean of a few samples around it. */
function interiorGrid(photo: Photo, plane: PlaneMap, outline: OutlineIndex): InteriorGrid {
  const { pitchMm, middleMm } = MARK_LIMITS.hole;
  const { min, max } = outline.box();
  const columns = Math.ceil((max[0] - min[0]) / pitchMm) + 1;
  const rows = Math.ceil((max[1] - min[1]) / pitchMm) + 1;
  const point = new Float32Array(columns * rows);
  const strip = 16;
  for (let r = 0; r < rows; r++)
    for (let c0 = 0; c0 < columns; c0 += strip) {
      // straight in the photo over a strip of a few centimetres
      const y = min[1] + r * pitchMm;
      const a = plane.photoFromTable(tableMm(min[0] + c0 * pitchMm, y));
      const b = plane.photoFromTable(tableMm(min[0] + (c0 + strip) * pitchMm, y));
      for (let k = 0; k < strip && c0 + k < columns; k++) {
        const t = k / strip;
        point[r * columns + c0 + k] = grayAt(photo.gray, [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
      }
    }
  const reach = Math.round(middleMm / pitchMm);
  const levels = new Float32Array(columns * rows);
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < columns; c++) {
      let sum = 0;
      let count = 0;
      for (let dr = -reach; dr <= reach; dr++)
        for (let dc = -reach; dc <= reach; dc++) {
          if (r + dr < 0 || c + dc < 0 || r + dr >= rows || c + dc >= columns) continue;
          sum += point[(r + dr) * columns + c + dc]!;
          count++;
        }
      levels[r * columns + c] = sum / count;
    }
  return { origin: min, columns, rows, levels };
}

const RING_SAMPLES = 12;

/** Dip of a cell below its surroundings when all of them are paper, 0 otherwise. */
function standsAlone(grid: InteriorGrid, column: number, row: number): number {
  const { hole } = MARK_LIMITS;
  const own = levelAt(grid, column, row);
  for (let dr = -1; dr <= 1; dr++)
    for (let dc = -1; dc <= 1; dc++) if (levelAt(grid, column + dc, row + dr) < own) return 0;
  let least = Number.POSITIVE_INFINITY;
  let most = 0;
  for (const ringMm of hole.clearRingsMm)
    for (let k = 0; k < RING_SAMPLES; k++) {
      const angle = (2 * Math.PI * k) / RING_SAMPLES;
      const reach = ringMm / hole.pitchMm;
      const v = levelAt(grid, column + reach * Math.cos(angle), row + reach * Math.sin(angle));
      least = Math.min(least, v);
      most = Math.max(most, v);
      if (v <= own) return 0;
    }
  if (most - least > hole.clearDipRatio * most) return 0;
  return (least - own) / Math.max(1, least);
}

function levelAt(grid: InteriorGrid, column: number, row: number): number {
  const x = Math.min(Math.max(Math.round(column), 0), grid.columns - 1);
  const y = Math.min(Math.max(Math.round(row), 0), grid.rows - 1);
  return grid.levels[y * grid.columns + x]!;
}

const BLOB_REACH_MM = 4;
const BLOB_PITCH_MM = 0.3;

/** Centre of the dark spot, or null when it is longish. */
function blobAt(photo: Photo, plane: PlaneMap, rough: Point): Point | null {
  const samples: { x: number; y: number; level: number }[] = [];
  for (let y = -BLOB_REACH_MM; y <= BLOB_REACH_MM; y += BLOB_PITCH_MM)
    for (let x = -BLOB_REACH_MM; x <= BLOB_REACH_MM; x += BLOB_PITCH_MM) {
      if (Math.hypot(x, y) > BLOB_REACH_MM) continue;
      const level = grayAt(photo.gray, plane.photoFromTable(tableMm(rough[0] + x, rough[1] + y)));
      samples.push({ x, y, level });
    }
  const sorted = samples.map((s) => s.level).sort((a, b) => a - b);
  const paper = sorted[Math.floor(sorted.length * 0.8)]!;
  const darkest = sorted[0]!;
  const floor = (paper + darkest) / 2;
  let [w, cx, cy] = [0, 0, 0];
  const dark = samples.filter((s) => s.level < floor).map((s) => ({ ...s, weight: floor - s.level }));
  for (const s of dark) {
    w += s.weight;
    cx += s.weight * s.x;
    cy += s.weight * s.y;
  }
  if (w === 0) return null;
  cx /= w;
  cy /= w;
  let [xx, xy, yy] = [0, 0, 0];
  for (const s of dark) {
    xx += (s.weight * (s.x - cx) ** 2) / w;
    xy += (s.weight * (s.x - cx) * (s.y - cy)) / w;
    yy += (s.weight * (s.y - cy) ** 2) / w;
  }
  const middle = (xx + yy) / 2;
  const half = Math.hypot((xx - yy) / 2, xy);
  if (middle + half > MARK_LIMITS.hole.longishRatio ** 2 * Math.max(middle - half, BLOB_PITCH_MM ** 2 / 12))
    return null;
  return [rough[0] + cx, rough[1] + cy];
}

/** Two or more small strokes beside it: a letter among letters. */
function inWriting(at: Point, lines: readonly MarkLine[]): boolean {
  const { hole } = MARK_LIMITS;
  let strokes = 0;
  for (const line of lines) {
    if (line.lengthMm > hole.writingLongestMm) continue;
    const away = Math.min(...line.points.map((p) => distance(p, at)));
    if (away > hole.clearRingsMm[0] && away < hole.writingMm) strokes++;
  }
  return strokes >= hole.writingStrokes;
}
