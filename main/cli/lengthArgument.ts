// Amounts as people type them: millimetres unless they say otherwise, inches also as fractions.
import { MM_PER } from '../../shared/base/units.ts';

const UNIT_MM: Readonly<Record<string, number>> = { ...MM_PER, '': MM_PER.mm, '"': MM_PER.in };

/** "12.7", "12.7mm", "1.27cm", "0.5in", "1/2in", "-1 1/4in" in millimetres; null when it is no length. */
export function lengthInMm(text: string): number | null {
  const match = /^([+-]?)(?:(\d+(?:\.\d+)?)|(?:(\d+)\s+)?(\d+)\/([1-9]\d*))\s*(mm|cm|in|")?$/.exec(text.trim());
  if (match === null) return null;
  const [, sign, plain, whole, over, under, unit] = match;
  const value = plain === undefined ? Number(whole ?? 0) + Number(over) / Number(under) : Number(plain);
  return (sign === '-' ? -1 : 1) * value * UNIT_MM[unit ?? '']!;
}
