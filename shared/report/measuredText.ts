// What a finding measured, as reports and panels print it: lengths in the units of the set, angles in degrees, bare ratios.
import { type LengthText, tenths } from '../base/lengthText.ts';
import { COVERAGE_FACTOR } from '../base/measured.ts';
import type { MeasuredValue } from '../checks/finding.ts';

/** "4.1 mm", "2.0°" or "0.950". */
export function measuredText({ value, unit }: Pick<MeasuredValue, 'value' | 'unit'>, lengths: LengthText): string {
  if (unit === 'mm') return lengths.words(value);
  return unit === 'deg' ? `${tenths(value)}°` : unit === 'ratio' ? value.toFixed(3) : String(value);
}

/** "4.1 ± 0.5 mm": the value with its expanded uncertainty. */
export function measuredWithSpread({ value, sigma, unit }: MeasuredValue, lengths: LengthText): string {
  const expanded = COVERAGE_FACTOR * sigma;
  if (unit === 'mm') return lengths.uncertain(value, expanded);
  if (unit === 'deg') return `${tenths(value)} ± ${tenths(expanded)}°`;
  return `${measuredText({ value, unit }, lengths)} ± ${unit === 'ratio' ? expanded.toFixed(3) : tenths(expanded)}`;
}
