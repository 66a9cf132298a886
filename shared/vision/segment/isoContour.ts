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
  const at = (x: number, y: number): number =>
    x < 0 || y < 0 || x >= width || y >= height ? Number.NEGATIVE_INFINITY : field[y * width + x]! - level;
  const crossing = (ax: number, ay: number, bx: number, by: number): Point => {
    const a = at(ax, ay);
    const b = at(bx, by);
    // a rim crossing has one infinite end: put it half way
    const ratio = Number.isFinite(a) && Number.isFinite(b) ? a / (a - b) : 0.5;
    return [ax + (bx - ax) * ratio, ay + (by - ay) * ratio];
  };
  // Grid edges are numbered 2 * cell + (0 horizontal, 1 vertical), with a frame of one cell around the grid.
  const stride = width + 2;
  const edgeName = (x: number, y: number, vertical: 0 | 1): number => 2 * ((y + 1) * stride + x + 1) + vertical;
  const next = new Map<number, { readonly to: number; readonly point: Point }>();
  const link = (from: Crossing, to: Crossing): void => {
    next.set(from.name, { to: to.name, point: from.point });
  };
  interface Crossing {
    readonly name: number;
    readonly point: Point;
  }
  for (let y = -1; y < height; y++) {
    for (let x = -1; x < width; x++) {
      const a = at(x, y) > 0;
      const b = at(x + 1, y) > 0;
      const c = at(x + 1, y + 1) > 0;
      const d = at(x, y + 1) > 0;
      if (a === b && b === c && c === d) continue;
      const top = (): Crossing => ({ name: edgeName(x, y, 0), point: crossing(x, y, x + 1, y) });
      const bottom = (): Crossing => ({ name: edgeName(x, y + 1, 0), point: crossing(x, y + 1, x + 1, y + 1) });
      const left = (): Crossing => ({ name: edgeName(x, y, 1), point: crossing(x, y, x, y + 1) });
      const right = (): Crossing => ({ name: edgeName(x + 1, y, 1), point: crossing(x + 1, y, x + 1, y + 1) });
      // every set corner is walked around with the set side on the right
      const code = (a ? 8 : 0) + (b ? 4 : 0) + (c ? 2 : 0) + (d ? 1 : 0);
      switch (code) {
        case 8:
          link(top(), left());
          break;
        case 4:
          link(right(), top());
          break;
        case 2:
          link(bottom(), right());
          break;
        case 1:
          link(left(), bottom());
          break;
        case 12:
          link(right(), left());
          break;
        case 6:
          link(bottom(), top());
          break;
        case 3:
          link(left(), right());
          break;
        case 9:
          link(top(), bottom());
          break;
        case 7:
          link(left(), top());
          break;
        case 11:
          link(top(), right());
          break;
        case 13:
          link(right(), bottom());
          break;
        case 14:
          link(bottom(), left());
          break;
        case 10:
          link(top(), left());
          link(bottom(), right());
          break;
        default:
          link(right(), top());
          link(left(), bottom());
          break;
      }
    }
  }
  let best: Point[] | null = null;
  let bestArea = 0;
  while (next.size > 0) {
    const start = next.keys().next().value;
    if (start === undefined) break;
    const loop: Point[] = [];
    let name = start;
    for (let step = next.get(name); step !== undefined; step = next.get(name)) {
      loop.push(step.point);
      next.delete(name);
      name = step.to;
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
