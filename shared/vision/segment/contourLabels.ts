// Cleans a traced contour: where it runs along something that lies over the paper's edge, the stretch is taken out and
// bridged by a curve that leaves and arrives in the directions of the edge on either side.
import type { TablePointMm } from '../../base/points.ts';
import { distance, sub, unit } from '../../geometry/vector.ts';
import { COVERED, type CoarseOutline } from '../outline/coarseOutline.ts';
import { hermite } from './bridges.ts';

/** Edge used on each side of a gap to learn its direction; the first millimetres beside the cover are not trusted. */
const SHY_MM = 3;
const DIRECTION_MM = 15;

/**
 * @param points closed contour, about evenly spaced
 * @param blocked 1 where the contour does not follow the paper's own edge
 * @param known state of the other points
 */
export function bridged(points: readonly TablePointMm[], blocked: Uint8Array, known: Uint8Array): CoarseOutline {
  const n = points.length;
  const spacing = Math.max(meanSpacing(points), Number.EPSILON);
  const shy = Math.round(SHY_MM / spacing);
  const wide = new Uint8Array(n);
  for (let i = 0; i < n; i++) {
    if (blocked[i] !== 1) continue;
    for (let k = -shy; k <= shy; k++) wide[(i + k + n) % n] = 1;
  }
  const firstFree = wide.indexOf(0);
  if (firstFree < 0) return { polygon: points, state: new Uint8Array(n).fill(COVERED) };
  const polygon: TablePointMm[] = [];
  const state: number[] = [];
  const reach = Math.max(2, Math.round(DIRECTION_MM / spacing));
  for (let k = 0; k < n; k++) {
    const i = (firstFree + k) % n;
    if (wide[i] === 0) {
      polygon.push(points[i]!);
      state.push(known[i]!);
      continue;
    }
    let length = 1;
    while (wide[(i + length) % n] === 1) length++;
    const before = (i - 1 + n) % n;
    const after = (i + length) % n;
    const bridge = hermite(
      points[before]!,
      unit(sub(points[before]!, points[freeBack(wide, before, reach, -1)]!)),
      points[after]!,
      unit(sub(points[freeBack(wide, after, reach, 1)]!, points[after]!)),
    );
    for (const point of bridge) {
      polygon.push(point);
      state.push(COVERED);
    }
    k += length - 1;
  }
  return { polygon, state: Uint8Array.from(state) };
}

function freeBack(wide: Uint8Array, start: number, reach: number, step: 1 | -1): number {
  const n = wide.length;
  let at = start;
  for (let k = 0; k < reach; k++) {
    const next = (at + step + n) % n;
    if (wide[next] === 1) break;
    at = next;
  }
  return at;
}

function meanSpacing(points: readonly TablePointMm[]): number {
  let sum = 0;
  for (let i = 0; i < points.length; i++) sum += distance(points[i]!, points[(i + 1) % points.length]!);
  return sum / points.length;
}
