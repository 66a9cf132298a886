// Spots inside a piece that differ from the paper around them: ink, holes through which the table shows, whatever is darker
// or lighter. Found on a fine grid over the piece, against the paper's own local level, so that light and shadow do not count.
import { type Point, tableMm } from '../../base/points.ts';
import { grayAt, type Photo } from '../image.ts';
import type { PlaneMap } from '../ink/planeMap.ts';
import { MARK_LIMITS } from './markLimits.ts';
import type { OutlineIndex } from './outlineIndex.ts';

/** A connected spot of one sign. */
export interface Blob {
  readonly sign: 1 | -1;
  /** Its cells on the table, and how far each is off the paper, share of the paper's level. */
  readonly cells: readonly { readonly at: Point; readonly off: number }[];
  /** Weighted middle. */
  readonly middle: Point;
  /** Half the diagonal of the smallest upright box around it. */
  readonly reachMm: number;
}

interface Grid {
  readonly origin: Point;
  readonly columns: number;
  readonly rows: number;
  readonly pitchMm: number;
}

/** Every spot that lies clear of the outline. */
export function interiorBlobs(photo: Photo, plane: PlaneMap, outline: OutlineIndex): Blob[] {
  const { pitchMm } = MARK_LIMITS.hole;
  const { min, max } = outline.box();
  const grid = {
    origin: min,
    columns: Math.ceil((max[0] - min[0]) / pitchMm) + 1,
    rows: Math.ceil((max[1] - min[1]) / pitchMm) + 1,
    pitchMm,
  };
  return connected(grid, offPaper(grid, sampled(photo, plane, outline, grid)));
}

/** Columns sampled along one straight line of the photo: a few centimetres. */
const STRIP = 64;

/** Grey levels; NaN outside and near the outline. */
function sampled(photo: Photo, plane: PlaneMap, outline: OutlineIndex, grid: Grid): Float32Array {
  const { origin, columns, rows, pitchMm } = grid;
  const levels = new Float32Array(columns * rows).fill(Number.NaN);
  for (let r = 0; r < rows; r++) {
    const y = origin[1] + r * pitchMm;
    for (let c0 = 0; c0 < columns; c0 += STRIP) {
      const x0 = origin[0] + c0 * pitchMm;
      const a = plane.photoFromTable(tableMm(x0, y));
      const b = plane.photoFromTable(tableMm(x0 + STRIP * pitchMm, y));
      for (let k = 0; k < STRIP && c0 + k < columns; k++) {
        if (outline.zoneOf([x0 + k * pitchMm, y]) !== 'inside') continue;
        const t = k / STRIP;
        levels[r * columns + c0 + k] = grayAt(photo.gray, [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
      }
    }
  }
  return levels;
}

/** How far each cell is off the paper around it, share of the paper's level; 0 where that is no more than the paper's grain. */
function offPaper(grid: Grid, levels: Float32Array): Float32Array {
  const { columns, rows, pitchMm } = grid;
  const { paperMm, leastOffRatio, grainFactor } = MARK_LIMITS.hole;
  const side = Math.round(paperMm / pitchMm);
  const wide = Math.ceil(columns / side);
  const high = Math.ceil(rows / side);
  const paper = new Float32Array(wide * high).fill(Number.NaN);
  const around = new Float32Array(side * side);
  for (let j = 0; j < high; j++)
    for (let i = 0; i < wide; i++) {
      let n = 0;
      for (let r = j * side; r < Math.min(rows, (j + 1) * side); r += 2)
        for (let c = i * side; c < Math.min(columns, (i + 1) * side); c += 2) {
          const level = levels[r * columns + c]!;
          if (!Number.isNaN(level)) around[n++] = level;
        }
      if (n > 0) paper[j * wide + i] = middleOf(around.subarray(0, n));
    }
  const off = new Float32Array(levels.length);
  for (let r = 0; r < rows; r++) rowOffPaper(levels, off, r, columns, paper, wide, high, side);
  const sizes = new Float32Array(Math.ceil(levels.length / GRAIN_STRIDE));
  let count = 0;
  for (let at = 0; at < levels.length; at += GRAIN_STRIDE)
    if (!Number.isNaN(levels[at]!)) sizes[count++] = Math.abs(off[at]!);
  const grain = count > 0 ? middleOf(sizes.subarray(0, count)) : 0;
  const least = Math.max(leastOffRatio, grainFactor * 1.48 * grain);
  for (let at = 0; at < off.length; at++) if (!(Math.abs(off[at]!) >= least)) off[at] = 0;
  return off;
}

function rowOffPaper(
  levels: Float32Array,
  off: Float32Array,
  row: number,
  columns: number,
  paper: Float32Array,
  wide: number,
  high: number,
  side: number,
): void {
  for (let c = 0; c < columns; c++) {
    const at = row * columns + c;
    const level = levels[at]!;
    if (Number.isNaN(level)) continue;
    const under = paperAt(paper, wide, high, row / side - 0.5, c / side - 0.5);
    off[at] = (level - under) / Math.max(1, under);
  }
}

/** The paper's level between the middles of its squares, those that show none left out; NaN where none does. */
function paperAt(paper: Float32Array, wide: number, high: number, v: number, u: number): number {
  const j0 = Math.floor(v);
  const i0 = Math.floor(u);
  let sum = 0;
  let weight = 0;
  for (let j = j0; j <= j0 + 1; j++)
    for (let i = i0; i <= i0 + 1; i++) {
      const level = paper[Math.min(Math.max(j, 0), high - 1) * wide + Math.min(Math.max(i, 0), wide - 1)]!;
      const w = (1 - Math.abs(v - j)) * (1 - Math.abs(u - i));
      if (Number.isNaN(level) || w <= 0) continue;
      sum += w * level;
      weight += w;
    }
  return weight > 0 ? sum / weight : Number.NaN;
}

/** The paper's grain is judged from one cell of so many. */
const GRAIN_STRIDE = 7;

/** Sorts in place. */
function middleOf(values: Float32Array): number {
  return values.sort()[values.length >> 1]!;
}

/** Cells of one sign that touch, or nearly: thin pen lines break on the grid. */
const LINK_CELLS = 2;
const LEAST_CELLS = 6;

function connected({ origin, columns, rows, pitchMm }: Grid, off: Float32Array): Blob[] {
  const seen = new Uint8Array(off.length);
  const blobs: Blob[] = [];
  for (let start = 0; start < off.length; start++) {
    if (off[start] === 0 || seen[start] === 1) continue;
    const sign = off[start]! > 0 ? 1 : -1;
    const members = [start];
    seen[start] = 1;
    for (let k = 0; k < members.length; k++) {
      const row = Math.floor(members[k]! / columns);
      const column = members[k]! % columns;
      for (let r = Math.max(0, row - LINK_CELLS); r <= Math.min(rows - 1, row + LINK_CELLS); r++)
        for (let c = Math.max(0, column - LINK_CELLS); c <= Math.min(columns - 1, column + LINK_CELLS); c++) {
          const at = r * columns + c;
          if (seen[at] === 1 || off[at]! * sign <= 0) continue;
          seen[at] = 1;
          members.push(at);
        }
    }
    if (members.length < LEAST_CELLS) continue;
    blobs.push(
      blobOf(
        sign,
        members.map((at) => ({
          at: [origin[0] + (at % columns) * pitchMm, origin[1] + Math.floor(at / columns) * pitchMm],
          off: Math.abs(off[at]!),
        })),
      ),
    );
  }
  return blobs;
}

function blobOf(sign: 1 | -1, cells: Blob['cells']): Blob {
  let [w, x, y] = [0, 0, 0];
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { at, off } of cells) {
    w += off;
    x += off * at[0];
    y += off * at[1];
    x0 = Math.min(x0, at[0]);
    y0 = Math.min(y0, at[1]);
    x1 = Math.max(x1, at[0]);
    y1 = Math.max(y1, at[1]);
  }
  return { sign, cells, middle: [x / w, y / w], reachMm: Math.hypot(x1 - x0, y1 - y0) / 2 };
}
