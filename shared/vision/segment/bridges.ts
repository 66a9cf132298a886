// Bridges between two ends of an edge: smooth ones, and those over a corner.
import { type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import { distance, lerp, scale } from '../../geometry/vector.ts';

const BRIDGE_STEP_MM = 1;

/** Points about a millimetre apart between two places, leaving one and arriving at the other in the directions given. */
export function hermite(from: TablePointMm, out: Point, to: TablePointMm, arrive: Point): TablePointMm[] {
  const gap = distance(from, to);
  const count = Math.floor(gap / BRIDGE_STEP_MM);
  const m0 = scale(out, gap);
  const m1 = scale(arrive, gap);
  const points: TablePointMm[] = [];
  for (let i = 1; i < count; i++) {
    const t = i / count;
    const a = (1 + 2 * t) * (1 - t) ** 2;
    const b = t * (1 - t) ** 2;
    const c = t * t * (3 - 2 * t);
    const d = t * t * (t - 1);
    points.push(
      tableMm(a * from[0] + b * m0[0] + c * to[0] + d * m1[0], a * from[1] + b * m0[1] + c * to[1] + d * m1[1]),
    );
  }
  return points;
}

/** Points about a millimetre apart on the straight way to a corner and from there on, the corner among them. */
export function overCorner(from: TablePointMm, corner: Point, to: TablePointMm): TablePointMm[] {
  const middle = tableMm(corner[0], corner[1]);
  return [...stepped(from, middle), middle, ...stepped(middle, to)];
}

function stepped(from: TablePointMm, to: TablePointMm): TablePointMm[] {
  const count = Math.floor(distance(from, to) / BRIDGE_STEP_MM);
  return Array.from({ length: Math.max(0, count - 1) }, (_, k) => {
    const [x, y] = lerp(from, to, (k + 1) / count);
    return tableMm(x, y);
  });
}
