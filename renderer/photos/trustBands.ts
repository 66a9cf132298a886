// The map of trust in words and bands: a cell's relative uncertainty told over a length that a sewer thinks in.
import { COVERAGE_FACTOR } from '../../shared/base/measured.ts';

/** A long seam of a bodice. */
export const TRUST_OVER_MM = 300;

/** Chosen by what a sewer can make of it: below 0.3 mm no seam notices, above 1.2 mm no seam can be judged. */
export const TRUST_BANDS = [
  { upToMm: 0.3, name: 'surest', colour: '#2c6141', opacity: 0.1, hatchPx: null },
  { upToMm: 0.6, name: 'good', colour: '#0f6b78', opacity: 0.16, hatchPx: null },
  { upToMm: 1.2, name: 'rough', colour: '#9a4a00', opacity: 0.2, hatchPx: 14 },
  { upToMm: Number.POSITIVE_INFINITY, name: 'not to be trusted', colour: '#8c1c3a', opacity: 0.3, hatchPx: 7 },
] as const;

export type TrustBand = (typeof TRUST_BANDS)[number];

/** Twice the standard uncertainty of a length of TRUST_OVER_MM there; null = no table is seen. */
function trustMm(sigmaRatio: number | null): number | null {
  return sigmaRatio === null ? null : COVERAGE_FACTOR * sigmaRatio * TRUST_OVER_MM;
}

export function bandOf(sigmaRatio: number | null): TrustBand {
  const mm = trustMm(sigmaRatio) ?? Number.POSITIVE_INFINITY;
  return TRUST_BANDS.find(({ upToMm }) => mm <= upToMm) ?? TRUST_BANDS[3];
}

/** "± 0.42": what is written into a cell. */
export function trustWords(sigmaRatio: number | null): string {
  const mm = trustMm(sigmaRatio);
  if (mm === null) return '?';
  return mm < 10 ? `±${mm.toFixed(1)}` : `±${Math.round(mm)}`;
}
