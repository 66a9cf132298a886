// Amounts as people type them: millimetres unless they say otherwise, inches also as fractions.
const MM_PER: Readonly<Record<string, number>> = { '': 1, mm: 1, cm: 10, in: 25.4, '"': 25.4 };

/** "12.7", "12.7mm", "1.27cm", "0.5in", "1/2in", "-1 1/4in" in millimetres; null when it is no length. */
export function lengthInMm(text: string): number | null {
  const match = /^([+-]?)(?:(\d+(?:\.\d+)?)|(?:(\d+)\s+)?(\d+)\/([1-9]\d*))\s*(mm|cm|in|")?$/.exec(text.trim());
  if (match === null) return null;
  const [, sign, plain, whole, over, under, unit] = match;
  const value = plain === undefined ? Number(whole ?? 0) + Number(over) / Number(under) : Number(plain);
  return (sign === '-' ? -1 : 1) * value * MM_PER[unit ?? '']!;
}
