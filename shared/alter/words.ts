// Amounts in sentences, in the units that the set is shown in.
import { MM_PER } from '../base/units.ts';
import type { PatternSet } from '../pattern/model.ts';

const DECIMALS = { mm: 1, cm: 2, in: 2 } as const;

/** "12.7 mm"; never negative zero. */
export function lengthWords(set: Pick<PatternSet, 'displayUnits'>, mm: number): string {
  const unit = set.displayUnits;
  const text = (mm / MM_PER[unit]).toFixed(DECIMALS[unit]);
  return `${Number(text) === 0 ? text.replace('-', '') : text} ${unit}`;
}

/** "3 mm longer" or "3 mm shorter". */
export function changeWords(set: Pick<PatternSet, 'displayUnits'>, byMm: number): string {
  return `${lengthWords(set, Math.abs(byMm))} ${byMm < 0 ? 'shorter' : 'longer'}`;
}
