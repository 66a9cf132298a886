// The turn and shift (no scaling) that lays one set of points onto another. Least squares in closed form, two dimensions.
import type { Point } from '../base/points.ts';
import { type Affine, rigid } from './transform.ts';

/** Best targetFromSource for points paired by index; needs at least two that do not coincide, else only shifts. */
export function rigidFit(source: readonly Point[], target: readonly Point[]): Affine {
  const n = source.length;
  if (n === 0 || n !== target.length) throw new Error('a fit needs points in pairs');
  const [sx, sy] = meanOf(source);
  const [tx, ty] = meanOf(target);
  let along = 0;
  let across = 0;
  for (let i = 0; i < n; i++) {
    const from = source[i]!;
    const to = target[i]!;
    const x = from[0] - sx;
    const y = from[1] - sy;
    const u = to[0] - tx;
    const v = to[1] - ty;
    along += x * u + y * v;
    across += x * v - y * u;
  }
  const turnRad = Math.atan2(across, along);
  const cos = Math.cos(turnRad);
  const sin = Math.sin(turnRad);
  return rigid((turnRad * 180) / Math.PI, [tx - cos * sx + sin * sy, ty - sin * sx - cos * sy]);
}

function meanOf(points: readonly Point[]): Point {
  let x = 0;
  let y = 0;
  for (const p of points) {
    x += p[0] / points.length;
    y += p[1] / points.length;
  }
  return [x, y];
}
