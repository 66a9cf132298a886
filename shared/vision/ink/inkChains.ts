// Links ridge points to chains along the lines (Steger 1998, section 3.2): from the strongest point outward in both
// directions, to the neighbour that costs the least in distance and turn. A chain ends at a gap or at a line already taken.
import { INK_LIMITS } from './inkLimits.ts';
import type { InkPoints } from './inkPoints.ts';

/** Indices into InkPoints, in order along the line. */
export type InkChain = readonly number[];

export function linkInk(points: InkPoints): InkChain[] {
  const taken = new Uint8Array(points.count);
  const order = Array.from({ length: points.count }, (_, i) => i)
    .filter((i) => points.response[i]! >= INK_LIMITS.strongResponse)
    .sort((a, b) => points.response[b]! - points.response[a]!);
  const chains: InkChain[] = [];
  for (const seed of order) {
    if (taken[seed] === 1) continue;
    taken[seed] = 1;
    const tx = -points.ny[seed]!;
    const ty = points.nx[seed]!;
    const ahead = walk(points, taken, seed, tx, ty);
    const behind = walk(points, taken, seed, -tx, -ty);
    if (ahead.length + behind.length < 2) continue;
    chains.push([...behind.reverse(), seed, ...ahead]);
  }
  return chains;
}

/** A step looks this far; two pixels bridge a hole that noise has made. */
const STEP_PX = 2;
/** Points this near beside the line are its own duplicates of neighbouring rows. */
const DUPLICATE_PX = 1.2;

function walk(points: InkPoints, taken: Uint8Array, seed: number, tx0: number, ty0: number): number[] {
  const chain: number[] = [];
  const leastCos = Math.cos((INK_LIMITS.linkTurnDeg * Math.PI) / 180);
  let at = seed;
  let tx = tx0;
  let ty = ty0;
  for (;;) {
    let best = -1;
    let bestCost = Number.POSITIVE_INFINITY;
    forNeighbours(points, at, (next) => {
      if (taken[next] === 1) return;
      const dx = points.x[next]! - points.x[at]!;
      const dy = points.y[next]! - points.y[at]!;
      const along = dx * tx + dy * ty;
      if (along <= 0) return;
      const distance = Math.hypot(dx, dy);
      if (distance === 0 || along / distance < leastCos) return;
      const sameTurn = Math.abs(-points.ny[next]! * tx + points.nx[next]! * ty);
      if (sameTurn < leastCos) return;
      const cost = distance + 2 * Math.acos(Math.min(1, sameTurn));
      if (cost < bestCost) {
        bestCost = cost;
        best = next;
      }
    });
    if (best < 0) return chain;
    const sign = -points.ny[best]! * tx + points.nx[best]! * ty < 0 ? -1 : 1;
    tx = -points.ny[best]! * sign;
    ty = points.nx[best]! * sign;
    takeDuplicates(points, taken, at, best);
    taken[best] = 1;
    chain.push(best);
    at = best;
  }
}

function takeDuplicates(points: InkPoints, taken: Uint8Array, at: number, next: number): void {
  const ux = -points.ny[at]!;
  const uy = points.nx[at]!;
  forNeighbours(points, at, (other) => {
    if (other === next || taken[other] === 1) return;
    const dx = points.x[other]! - points.x[at]!;
    const dy = points.y[other]! - points.y[at]!;
    const aside = Math.abs(dx * uy - dy * ux);
    const parallel = Math.abs(points.nx[other]! * points.nx[at]! + points.ny[other]! * points.ny[at]!);
    const reach = Math.hypot(points.x[next]! - points.x[at]!, points.y[next]! - points.y[at]!);
    if (aside < DUPLICATE_PX && parallel > Math.SQRT1_2 && Math.hypot(dx, dy) <= reach) taken[other] = 1;
  });
}

function forNeighbours(points: InkPoints, at: number, visit: (index: number) => void): void {
  const row0 = points.row[at]!;
  const column0 = points.column[at]!;
  const lastRow = points.rowStart.length - 2;
  for (let row = Math.max(0, row0 - STEP_PX); row <= Math.min(lastRow, row0 + STEP_PX); row++) {
    let low = points.rowStart[row]!;
    const end = points.rowStart[row + 1]!;
    let high = end;
    const from = column0 - STEP_PX;
    while (low < high) {
      const mid = (low + high) >> 1;
      if (points.column[mid]! < from) low = mid + 1;
      else high = mid;
    }
    for (let i = low; i < end && points.column[i]! <= column0 + STEP_PX; i++) if (i !== at) visit(i);
  }
}
