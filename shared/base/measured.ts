// A measured length is a value with its standard uncertainty, from the first stage to the last sentence.

export interface Measured {
  readonly valueMm: number;
  /** Standard uncertainty (1 sigma), millimetres. */
  readonly sigmaMm: number;
}

/** Expanded uncertainty U = COVERAGE_FACTOR x sigma covers about 95 % (NIST TN 1297, 6.2-6.3). */
export const COVERAGE_FACTOR = 2;
