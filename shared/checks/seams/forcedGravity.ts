// When a difference is too large to be pushed into the seam, it stops the work instead of being mended at the machine.
import { FORCED } from '../../limits/tolerances.ts';
import type { Gravity } from '../finding.ts';

/** @param shorterMm length of the shorter of the two stretches that differ by excessMm */
export function forcedGravity(excessMm: number, shorterMm: number): Gravity {
  const isForced = excessMm > FORCED.smallMm && excessMm > FORCED.beyondRatio * shorterMm;
  return excessMm > FORCED.beyondMm || isForced ? 'stop' : 'mend';
}
