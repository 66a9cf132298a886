// What pieces owe each other beyond the lengths of their seams: grain, levels, openings, the scoop under the arm.
import type { LimitDeg, LimitMm } from './row.ts';

const OWN = "no published tolerance: this program's own setting";
const COMMON = 'common practice, no source';

/** A facing lies on the grain of what it faces. */
export const FACING_GRAIN: LimitDeg = { valueDeg: 10, source: `a facing follows the grain of its garment: ${COMMON}` };

/** Lower cap laid in lower armhole: how far apart the two lines may run up to the notches. */
export const SCOOP: LimitMm = {
  valueMm: 6.35,
  source: `lower cap and lower armhole agree up to the notches: ${COMMON}; 1/4 in: ${OWN}`,
};

/** Darts that nearly meet across a waist. */
export const LEVELS = {
  valueMm: 6.35,
  /** Farther apart than this they were never meant to meet. */
  unrelatedMm: 19,
  source: `bodice dart against skirt dart: ${COMMON}; 1/4 in: ${OWN}`,
} as const;

/** An opening from the waist down must pass the hip. */
export const WAIST_OPENING = {
  /** Shorter than this is worth a look. */
  valueMm: 150,
  /** Shorter than this no figure gets through. */
  mendBelowMm: 100,
  source: `the hip lies about 7 in below the waist (Threads, Pattern Road Map); 150 mm of opening: ${COMMON}`,
} as const;

/** How far two outlines may differ and still be the same piece laid over. */
export const SAME_BOTH_WAYS: LimitMm = { valueMm: 3.2, source: `what two equal halves may differ by: ${COMMON}` };
