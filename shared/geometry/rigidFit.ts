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
  source.forEach(([x, y], i) => {
    const [u, v] = target[i]!;
    along += (x - sx) * (u - tx) + (y - sy) * (v - ty);
    across += (x - sx) * (v - ty) - (y - sy) * (u - tx);
  });
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
