// The decision rule, in one place (ISO 14253-1, from memory; JCGM 106 gives the reasoning): uncertainty counts against
// whoever claims. A result is clear only when it lies inside the limits with all of its expanded uncertainty, a fault only
// when it lies outside with all of it, and unsure in between.
import { COVERAGE_FACTOR } from '../base/measured.ts';

export type Decision = 'clear' | 'fault' | 'unsure';

/** Expanded uncertainty U = 2 sigma, in the unit of sigma. */
export function expanded(sigma: number): number {
  return COVERAGE_FACTOR * sigma;
}

/**
 * Judges a value against an interval. Value, sigma and limits share one unit; a limit may be infinite.
 * A limit itself belongs to the permitted side.
 */
export function judgeInterval(value: number, sigma: number, from: number, to: number): Decision {
  const u = expanded(sigma);
  if (value - u >= from && value + u <= to) return 'clear';
  if (value + u < from || value - u > to) return 'fault';
  return 'unsure';
}

/** Judges a difference against a tolerance on both sides of zero. */
export function judgeDifference(value: number, sigma: number, tolerance: number): Decision {
  return judgeInterval(value, sigma, -tolerance, tolerance);
}

/** With U above half the interval no value could be called clear: the measurement, not the piece, is the problem. */
export function canBeClear(sigma: number, from: number, to: number): boolean {
  return 2 * expanded(sigma) <= to - from;
}
