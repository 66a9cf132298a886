// Lengths as fields show and take them: in the units of the set; inside, everything is millimetres.

import { inches, type LengthText, lengthTextIn } from '../../shared/base/lengthText.ts';
import { MM_PER } from '../../shared/base/units.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { currentSet, type WindowState } from '../state/windowState.ts';

type Units = PatternSet['displayUnits'];

/** Fine enough that a typed number comes back as it was. */
const DECIMALS: Readonly<Record<Units, number>> = { mm: 2, cm: 3, in: 4 };

/** Millimetres as a number in the units, for a field. */
function inUnits(units: Units, mm: number): number {
  return Number((mm / MM_PER[units]).toFixed(DECIMALS[units]));
}

/** A length as a field shows it: as a tape does where it lies on one of its lines, else as a number. */
export function fieldText(units: Units, mm: number): string {
  const onTape = inches(mm);
  const isOnLine = Math.abs((typedMm('in', onTape) ?? Number.NaN) - mm) < ON_A_LINE_MM;
  return units === 'in' && isOnLine ? onTape : String(inUnits(units, mm));
}

/** Nearer to a line of the tape than this is on it. */
const ON_A_LINE_MM = 0.005;

/**
 * What a person typed, as millimetres: "12.7", "12,7", "5/8", "1 3/8", with or without a unit behind it; a number alone is in
 * the units. Null = no length.
 */
export function typedMm(units: Units, typed: string): number | null {
  const text = typed
    .trim()
    .toLowerCase()
    .replace(/["\u2033]$/, 'in')
    .replace(/\u2212/g, '-')
    .replace(',', '.');
  const match = /^(-?)(?:(\d+)\s+)?(\d*\.?\d+|\d+\.|\d+\/\d+)\s*(mm|cm|in)?$/.exec(text);
  if (match === null) return null;
  const [, sign, whole = '0', part = '', unit = units] = match;
  if (match[2] !== undefined && !part.includes('/')) return null;
  const amount = Number(whole) + fraction(part);
  return Number.isFinite(amount) ? (sign === '-' ? -amount : amount) * MM_PER[unit as Units] : null;
}

function fraction(text: string): number {
  const [top = '', bottom = '1'] = text.split('/');
  return Number(top) / Number(bottom);
}

/** The units that lengths are shown in; millimetres while no set is open. */
export function unitsOf(state: WindowState): Units {
  return currentSet(state)?.displayUnits ?? 'mm';
}

/** How lengths are written in this window. */
export function lengthsOf(state: WindowState): LengthText {
  return lengthTextIn(unitsOf(state));
}
