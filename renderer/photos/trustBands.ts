// The map of trust in words and bands: a cell's relative uncertainty told over a length that a sewer thinks in.
import type { LengthText } from '../../shared/base/lengthText.ts';
import { COVERAGE_FACTOR } from '../../shared/base/measured.ts';
import { MM_PER } from '../../shared/base/units.ts';

/** A long seam of a bodice, as each of the units says it. */
export const TRUST_OVER = {
  mm: { mm: 300, words: '300 mm' },
  cm: { mm: 300, words: '30 cm' },
  in: { mm: 12 * MM_PER.in, words: '12 in' },
} as const;

/** Chosen by what a sewer can make of it: below 0.3 mm no seam notices, above 1.2 mm no seam can be judged. */
export const TRUST_BANDS = [
  { upToMm: 0.3, name: 'surest', colour: '#2c6141', opacity: 0.1, hatchPx: null },
  { upToMm: 0.6, name: 'good', colour: '#0f6b78', opacity: 0.16, hatchPx: null },
  { upToMm: 1.2, name: 'rough', colour: '#9a4a00', opacity: 0.2, hatchPx: 14 },
  { upToMm: Number.POSITIVE_INFINITY, name: 'not to be trusted', colour: '#8c1c3a', opacity: 0.3, hatchPx: 7 },
] as const;

export type TrustBand = (typeof TRUST_BANDS)[number];

/** Twice the standard uncertainty of such a length there; null = no table is seen. */
function trustMm(sigmaRatio: number | null, overMm: number): number | null {
  return sigmaRatio === null ? null : COVERAGE_FACTOR * sigmaRatio * overMm;
}

export function bandOf(sigmaRatio: number | null): TrustBand {
  const mm = trustMm(sigmaRatio, TRUST_OVER.mm.mm) ?? Number.POSITIVE_INFINITY;
  return TRUST_BANDS.find(({ upToMm }) => mm <= upToMm) ?? TRUST_BANDS[3];
}

/** "± 0.42": what is written into a cell. */
export function trustWords(sigmaRatio: number | null, { unit, spread, coarse }: LengthText): string {
  const mm = trustMm(sigmaRatio, TRUST_OVER[unit].mm);
  if (mm === null) return '?';
  return `±${mm < 10 ? spread(mm) : coarse(mm)}`;
}
