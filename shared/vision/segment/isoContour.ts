// Closed contours of a sampled field at a level, by marching squares with linear interpolation (Lorensen & Cline 1987,
// in the plane). The contour keeps the higher side on its right when walked on the screen (y down): clockwise around it.
import type { Point } from '../../base/points.ts';
import { signedAreaMm2 } from '../../geometry/polygon.ts';

/**
 * The contour that encloses the largest area above `level`, in grid coordinates, clockwise on the screen, the first
 * point not repeated; null when there is none. Outside the grid the field counts as below the level.
 * @param field row-major, width x height
 */
export function largestContour(field: Float32Array, width: number, height: number, level: number): Point[] | null {
  // A frame of one sample around the grid counts as below. Grid edges are named 2 * sample + (0 to the right, 1 downwards)
  // by the framed sample that they start from; `next` leads from each crossed edge to the one that the walk goes on to.
  const stride = width + 2;
  const above = new Uint8Array(stride * (height + 2));
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) if (field[y * width + x]! > level) above[(y + 1) * stride + x + 1] = 1;
  const next = new Map<number, number>();
  for (let y = 0; y <= height; y++) linkRow(above, y * stride, stride, next);
  let best: Point[] | null = null;
  let bestArea = 0;
  while (next.size > 0) {
    const start = next.keys().next().value;
    if (start === undefined) break;
    const loop: Point[] = [];
    let name = start;
    for (let to = next.get(name); to !== undefined; to = next.get(name)) {
      loop.push(crossing(field, width, height, level, name));
      next.delete(name);
      name = to;
    }
    const area = Math.abs(signedAreaMm2(loop));
    if (area > bestArea) {
      bestArea = area;
      best = loop;
    }
  }
  if (best !== null && signedAreaMm2(best) < 0) best.reverse();
  return best;
}

/** Links the crossed edges of one row of cells; `from` is the framed sample at its top left. */
function linkRow(above: Uint8Array, from: number, stride: number, next: Map<number, number>): void {
  for (let at = from; at < from + stride - 1; at++) {
    // every set corner is walked around with the set side on the right
    const code = 8 * above[at]! + 4 * above[at + 1]! + 2 * above[at + stride + 1]! + above[at + stride]!;
    if (code === 0 || code === ALL_ABOVE) continue;
    const ways = WAYS[code]!;
    for (let k = 0; k < ways.length; k += 2) next.set(edge(ways[k]!, at, stride), edge(ways[k + 1]!, at, stride));
  }
}

const TOP = 0;
const LEFT = 1;
const BOTTOM = 2;
const RIGHT = 3;
const ALL_ABOVE = 15;

/** From which side to which, by code: bits 8 4 2 1 for the corners top left, top right, bottom right, bottom left. */
const WAYS: readonly (readonly number[])[] = [
  [],
  [LEFT, BOTTOM],
  [BOTTOM, RIGHT],
  [LEFT, RIGHT],
  [RIGHT, TOP],
  [RIGHT, TOP, LEFT, BOTTOM],
  [BOTTOM, TOP],
  [LEFT, TOP],
  [TOP, LEFT],
  [TOP, BOTTOM],
  [TOP, LEFT, BOTTOM, RIGHT],
  [TOP, RIGHT],
  [RIGHT, LEFT],
  [RIGHT, BOTTOM],
  [BOTTOM, LEFT],
  [],
];

function edge(side: number, at: number, stride: number): number {
  if (side === TOP) return 2 * at;
  if (side === LEFT) return 2 * at + 1;
  return side === BOTTOM ? 2 * (at + stride) : 2 * (at + 1) + 1;
}

/** Where the field crosses the level on an edge, grid coordinates. */
function crossing(field: Float32Array, width: number, height: number, level: number, name: number): Point {
  const stride = width + 2;
  const sample = name >> 1;
  const x = (sample % stride) - 1;
  const y = Math.floor(sample / stride) - 1;
  const isDown = (name & 1) === 1;
  const a = valueAt(field, width, height, level, x, y);
  const b = isDown ? valueAt(field, width, height, level, x, y + 1) : valueAt(field, width, height, level, x + 1, y);
  // a rim crossing has one infinite end: put it half way
  const ratio = Number.isFinite(a) && Number.isFinite(b) ? a / (a - b) : 0.5;
  return isDown ? [x, y + ratio] : [x + ratio, y];
}

function valueAt(field: Float32Array, width: number, height: number, level: number, x: number, y: number): number {
  return x < 0 || y < 0 || x >= width || y >= height ? Number.NEGATIVE_INFINITY : field[y * width + x]! - level;
}
