// What one line of a limits table looks like: the number with its unit in the name of the table's field, and where it
// comes from. A number without a published source says so in its own words.

export interface LimitMm {
  readonly valueMm: number;
  readonly source: string;
}

export interface LimitDeg {
  readonly valueDeg: number;
  readonly source: string;
}

/** A band of differences that practice accepts; `source` also says how well that is known. */
export interface RangeMm {
  readonly fromMm: number;
  readonly toMm: number;
  /** Up to here practice varies: worth a look, not a fault to mend. */
  readonly lookToMm: number;
  readonly source: string;
}

export interface RangeRatio {
  readonly fromRatio: number;
  readonly toRatio: number;
  readonly source: string;
}
