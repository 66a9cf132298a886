// How grave findings compare.
import type { Gravity } from './finding.ts';

const GRAVITIES: readonly Gravity[] = ['stop', 'mend', 'look', 'note'];

/** The graver of two. */
export function graverOf(a: Gravity, b: Gravity): Gravity {
  return GRAVITIES.indexOf(a) <= GRAVITIES.indexOf(b) ? a : b;
}

/** Sorts the gravest first. */
export function byGravity(a: Gravity, b: Gravity): number {
  return GRAVITIES.indexOf(a) - GRAVITIES.indexOf(b);
}
