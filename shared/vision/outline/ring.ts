// Stretches of a closed outline by the index of their points, where the last point is followed by the first.
import type { TablePointMm } from '../../base/points.ts';

/** Any whole number as an index into n points. */
export function around(i: number, n: number): number {
  return ((i % n) + n) % n;
}

/** Points from one index to another, the short way round. */
export function indexApart(a: number, b: number, n: number): number {
  return Math.min(around(a - b, n), around(b - a, n));
}

/** Index of the last point of the longest sure stretch that is longer than `leastCount` points; -1 when there is none. */
export function sureEnd(n: number, isSure: (i: number) => boolean, leastCount: number): number {
  let [best, longest, run] = [-1, leastCount, 0];
  for (let k = 0; k < 2 * n; k++) {
    run = isSure(k % n) ? run + 1 : 0;
    if (run <= longest) continue;
    longest = run;
    best = k % n;
  }
  return best;
}

/** What takes the place of `count` points from `start` on. */
export interface Way {
  readonly start: number;
  readonly count: number;
  readonly points: readonly TablePointMm[];
}

/**
 * The outline with ways in place of their stretches; it begins with the first of them.
 * @param ways at least one
 * @returns with each point its index in the given outline, -1 on a way
 */
export function withWays(
  given: readonly TablePointMm[],
  ways: readonly Way[],
): { readonly points: TablePointMm[]; readonly from: number[] } {
  const n = given.length;
  const byStart = new Map(ways.map((way) => [way.start, way]));
  const points: TablePointMm[] = [];
  const from: number[] = [];
  for (let k = 0; k < n; k++) {
    const i = (ways[0]!.start + k) % n;
    const way = byStart.get(i);
    if (way === undefined) {
      points.push(given[i]!);
      from.push(i);
      continue;
    }
    points.push(...way.points);
    from.push(...way.points.map(() => -1));
    k += way.count - 1;
  }
  return { points, from };
}
