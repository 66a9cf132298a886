// How a nest may step from size to size. Published size tables step unevenly and are right all the same, so what lies outside
// these limits is a note, never a fault of its own.

export const GRADE_STEP = {
  /** A step may be this part of its neighbour at least. */
  fromRatio: 0.5,
  /** And this many times its neighbour at most. */
  toRatio: 2,
  /** Steps of this size and smaller may come and go: half sizes, heads and necks are graded in quarter inches. */
  slackMm: 3.2,
  source:
    "steps of 5/8 to 2 in within one table (ASTM D5585-11e1, bust, misses: each 0.65 to 2 times its neighbour); half to twice the neighbouring step: this program's own setting",
} as const;

/** Kinds of pieces without which a garment in that size cannot be sewn; small pieces are often one for all sizes. */
export const SIZE_MISSING = {
  /** Below this part of the pieces a size has only been begun. */
  begunBelowRatio: 0.5,
  source: 'small pieces are often cut alike in all sizes: common practice, no source',
} as const;

/** How exactly the lines of a paper pattern are drawn: two lengths of one line differ by no more. */
export const DRAWN_TO = { valueMm: 0.5, source: 'the width of a pencil line: common practice, no source' } as const;

export const NEST_ORDER_SOURCE = 'the lines of a nest cross only at common points: common practice, no source';
