// Lengths as reports and panels print them: in the units of the set, always as fine as a tape shows, so that columns line up.
import { MM_PER } from '../base/units.ts';
import { type DisplayUnits, inches } from '../checks/words.ts';
import { mmText } from './markup.ts';

export interface LengthText {
  readonly unit: DisplayUnits;
  /** "12.7", "1.27" or "1/2"; with a real minus sign. */
  readonly bare: (mm: number) => string;
  /** "+3.2", "−1.0", "0.0". */
  readonly signed: (mm: number) => string;
  /** An uncertainty: decimal in inches too, where a sixteenth is too coarse. */
  readonly spread: (mm: number) => string;
  /** "12.7 mm". */
  readonly words: (mm: number) => string;
  /** "12.7 ± 0.5 mm", from the value and its expanded uncertainty. */
  readonly uncertain: (mm: number, expandedMm: number) => string;
  /** "+3.2 ± 0.5 mm". */
  readonly signedWords: (mm: number, expandedMm: number) => string;
}

export function lengthTextIn(unit: DisplayUnits): LengthText {
  return TEXTS[unit];
}

const TEXTS: Readonly<Record<DisplayUnits, LengthText>> = {
  mm: made('mm', mmText, mmText),
  cm: made('cm', cmText, cmText),
  in: made(
    'in',
    (mm) => inches(mm).replace('-', '\u2212'),
    (mm) => decimal(mm / MM_PER.in),
  ),
};

function made(unit: DisplayUnits, bare: (mm: number) => string, spread: (mm: number) => string): LengthText {
  const signed = (mm: number) => {
    const text = bare(mm);
    return mm > 0 && text !== bare(0) ? `+${text}` : text;
  };
  return {
    unit,
    bare,
    signed,
    spread,
    words: (mm) => `${bare(mm)} ${unit}`,
    uncertain: (mm, expandedMm) => `${bare(mm)} \u00b1 ${spread(expandedMm)} ${unit}`,
    signedWords: (mm, expandedMm) => `${signed(mm)} \u00b1 ${spread(expandedMm)} ${unit}`,
  };
}

function cmText(mm: number): string {
  return decimal(mm / MM_PER.cm);
}

/** To a hundredth: a tenth of a millimetre in centimetres, a quarter in inches. */
function decimal(value: number): string {
  const text = value.toFixed(2);
  return (Number(text) === 0 ? text.replace('-', '') : text).replace('-', '\u2212');
}
