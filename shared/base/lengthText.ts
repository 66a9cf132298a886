// Lengths as reports, panels and the sentences of alterations print them: in the units of the set, always as fine as a tape
// shows, so that columns line up.
import { type LengthUnit, MM_PER } from './units.ts';

export interface LengthText {
  readonly unit: LengthUnit;
  /** "12.7", "1.27" or "1/2"; with a real minus sign. */
  readonly bare: (mm: number) => string;
  /** "+3.2", "−1.0", "0.0". */
  readonly signed: (mm: number) => string;
  /** Where exactness would be pretence: whole millimetres, tenths of a centimetre, eighths of an inch. */
  readonly coarse: (mm: number) => string;
  /** An uncertainty: decimal in inches too, where a sixteenth is too coarse. */
  readonly spread: (mm: number) => string;
  /** "12.7 mm". */
  readonly words: (mm: number) => string;
  /** "12.7 ± 0.5 mm", from the value and its expanded uncertainty. */
  readonly uncertain: (mm: number, expandedMm: number) => string;
  /** "+3.2 ± 0.5 mm". */
  readonly signedWords: (mm: number, expandedMm: number) => string;
}

export function lengthTextIn(unit: LengthUnit): LengthText {
  return TEXTS[unit];
}

const TEXTS: Readonly<Record<LengthUnit, LengthText>> = {
  mm: made('mm', tenths, tenths, (mm) => signedDecimal(mm, 0)),
  cm: made('cm', cmText, cmText, (mm) => signedDecimal(mm / MM_PER.cm, 1)),
  in: made(
    'in',
    (mm) => inches(mm).replace('-', '\u2212'),
    (mm) => decimal(mm / MM_PER.in),
    (mm) => inches(Math.round((mm / MM_PER.in) * EIGHTHS) * (MM_PER.in / EIGHTHS)).replace('-', '\u2212'),
  ),
};

type Print = (mm: number) => string;

function made(unit: LengthUnit, bare: Print, spread: Print, coarse: Print): LengthText {
  const signed = (mm: number) => {
    const text = bare(mm);
    return mm > 0 && text !== bare(0) ? `+${text}` : text;
  };
  return {
    unit,
    bare,
    signed,
    coarse,
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
  return signedDecimal(value, 2);
}

/** To a tenth, with a real minus sign. */
export function tenths(value: number): string {
  return signedDecimal(Math.round(value * 10) / 10, 1);
}

function signedDecimal(value: number, digits: number): string {
  const text = value.toFixed(digits);
  return (Number(text) === 0 ? text.replace('-', '') : text).replace('-', '\u2212');
}

const SIXTEENTHS = 16;
const EIGHTHS = 8;

/** To the nearest sixteenth, as a tape shows it: 41.3 mm is "1 5/8"; with a plain hyphen below nothing. */
export function inches(mm: number): string {
  const sixteenths = Math.round((mm / MM_PER.in) * SIXTEENTHS);
  const sign = sixteenths < 0 ? '-' : '';
  const count = Math.abs(sixteenths);
  const whole = Math.floor(count / SIXTEENTHS);
  let top = count % SIXTEENTHS;
  let bottom = SIXTEENTHS;
  while (top > 0 && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  if (top === 0) return `${sign}${whole}`;
  return whole === 0 ? `${sign}${top}/${bottom}` : `${sign}${whole} ${top}/${bottom}`;
}
