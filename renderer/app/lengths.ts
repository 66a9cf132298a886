// Lengths as fields show and take them: in the units of the set; inside, everything is millimetres.
import { MM_PER } from '../../shared/base/units.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { type LengthText, lengthTextIn } from '../../shared/report/lengthText.ts';
import { currentSet, type WindowState } from '../state/windowState.ts';

type Units = PatternSet['displayUnits'];

/** Fine enough that a typed number comes back as it was. */
const DECIMALS: Readonly<Record<Units, number>> = { mm: 2, cm: 3, in: 4 };

/** Millimetres as a number in the units, for a field. */
export function inUnits(units: Units, mm: number): number {
  return Number((mm / MM_PER[units]).toFixed(DECIMALS[units]));
}

/** The units that lengths are shown in; millimetres while no set is open. */
export function unitsOf(state: WindowState): Units {
  return currentSet(state)?.displayUnits ?? 'mm';
}

/** How lengths are written in this window. */
export function lengthsOf(state: WindowState): LengthText {
  return lengthTextIn(unitsOf(state));
}
