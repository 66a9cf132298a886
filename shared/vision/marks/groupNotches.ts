// Single notches that stand side by side are one double or triple notch, placed at their middle.
import { tableMm } from '../../base/points.ts';
import type { TracedMark } from '../traced.ts';
import { MARK_LIMITS } from './markLimits.ts';
import type { OutlineIndex } from './outlineIndex.ts';

export type NotchMark = Extract<TracedMark, { kind: 'notch' }>;

export interface SingleNotch {
  /** Running length along the outline. */
  readonly atMm: number;
  readonly shape: NotchMark['shape'];
  readonly confidence: number;
}

const MOST_IN_GROUP = 3;

/** @param singles at most one per place */
export function groupNotches(singles: readonly SingleNotch[], outline: OutlineIndex): NotchMark[] {
  const sorted = singles.toSorted((a, b) => a.atMm - b.atMm);
  const n = sorted.length;
  if (n === 0) return [];
  const { mostMm } = MARK_LIMITS.group;
  const gapAfter = (i: number): number => {
    const next = sorted[(i + 1) % n]!;
    const gap = next.atMm - sorted[i]!.atMm;
    return gap > 0 ? gap : gap + outline.lengthMm;
  };
  // begin after a wide gap, so that a group across the outline's first point stays whole
  let start = 0;
  for (let i = 0; i < n; i++) if (gapAfter((i + n - 1) % n) > mostMm) start = i;
  const groups: SingleNotch[][] = [];
  for (let k = 0; k < n; k++) {
    const here = sorted[(start + k) % n]!;
    const group = groups[groups.length - 1];
    const joins = k > 0 && gapAfter((start + k - 1) % n) <= mostMm && group!.length < MOST_IN_GROUP;
    if (joins) group!.push(here);
    else groups.push([here]);
  }
  return groups.map((group) => {
    const first = group[0]!.atMm;
    const unwrapped = group.map((notch) => (notch.atMm < first ? notch.atMm + outline.lengthMm : notch.atMm));
    const { point } = outline.placeAt(unwrapped.reduce((sum, mm) => sum + mm, 0) / group.length);
    return {
      kind: 'notch',
      at: tableMm(point[0], point[1]),
      count: group.length as 1 | 2 | 3,
      shape: group[0]!.shape,
      confidence: Math.min(...group.map((notch) => notch.confidence)),
    };
  });
}
