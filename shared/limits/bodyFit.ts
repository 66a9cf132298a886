// What a garment must pass when it is put on, how long it must be, and what stands in for a measurement that was not taken.
const OWN = "this program's own setting";
const COMMON = 'common practice, no source';

/** How far below the waist the hip is measured on a grown-up, when nobody has said. */
export const HIP_DEPTH = {
  valueMm: 178,
  /** Whose height that is; a smaller body has it in proportion. */
  ofHeightMm: 1664,
  source:
    'about 7 in below the waist (Threads, Pattern Road Map) on a figure of 5 ft 5 to 5 ft 6 (US paper-pattern misses table)',
} as const;

/** A knit edge stretches by half to let a head, hand or hip through. */
export const KNIT_STRETCH = { ratio: 1.5, source: `a jersey edge stretches by half: ${COMMON}; ${OWN}` } as const;

/** The undone neck must be as wide as the head: each side of a slit counts once. */
export const HEAD_OPENING_SOURCE =
  'least slit = (head girth - neckline girth) / 2, plus a little ease (exam answer, zollege.in)';

/** Head girths of children by height, for a child whose head was not measured. */
export const CHILD_HEADS = {
  /** [height mm, head girth mm], rising. */
  rows: [
    [760, 460],
    [870, 483],
    [960, 495],
    [1030, 503],
    [1100, 507],
    [1160, 513],
    [1220, 518],
    [1340, 525],
  ],
  source:
    'WHO Child Growth Standards, medians of height and head circumference at 1 to 5 years, from memory; above 1.1 m: common practice, no source',
} as const;

/** Head girth by height, between the rows in proportion; null for a height outside the table. */
export function childHeadMm(heightMm: number): number | null {
  const { rows } = CHILD_HEADS;
  const above = rows.findIndex(([height]) => height >= heightMm);
  if (above < 0) return null;
  const [height, head] = rows[above]!;
  const below = rows[above - 1];
  if (below === undefined) return height === heightMm ? head : null;
  return below[1] + ((head - below[1]) * (heightMm - below[0])) / (height - below[0]);
}

/** Heads of grown women, for words only. */
export const ADULT_HEAD = {
  fromMm: 539.75,
  toMm: 571.5,
  source: 'ASTM D5585-11e1, Table 1: 21 1/4 to 22 1/2 in',
} as const;

export const GOES_ON_SOURCE = `a waist must pass the hips or the shoulders, not only the head: ${COMMON}`;
export const HAND_OPENING_SOURCE = `a sleeve must pass the hand and a trouser leg the heel: ${COMMON}`;

export interface LengthLeast {
  /** Finished less body, at least. */
  readonly clearFromMm: number;
  /** Below this it is to be mended, above it worth a look. */
  readonly mendBelowMm: number;
  /** A garment shorter than this part of the body length is short on purpose. */
  readonly meantFromRatio: number;
  readonly source: string;
}

export const LENGTH_LEAST: Readonly<
  Record<'back length' | 'sleeve length' | 'crotch depth' | 'inseam' | 'skirt length', LengthLeast>
> = {
  'back length': {
    clearFromMm: -9.525,
    mendBelowMm: -9.525,
    meantFromRatio: 0.85,
    source: `centre back length to 3/8 in (one maker's table of finished tolerances); a raised waist is meant: ${COMMON}`,
  },
  'sleeve length': {
    clearFromMm: -6.35,
    mendBelowMm: -6.35,
    meantFromRatio: 0.85,
    source: `sleeve length to 1/4 in (one maker's table of finished tolerances); a shorter sleeve is meant: ${COMMON}`,
  },
  'crotch depth': {
    clearFromMm: 12.7,
    mendBelowMm: 0,
    meantFromRatio: 0.85,
    source: `1/2 to 1 in of ease in woven trousers: ${COMMON}; a low waist is meant: ${COMMON}`,
  },
  inseam: {
    clearFromMm: -9.525,
    mendBelowMm: -9.525,
    meantFromRatio: 0.9,
    source: `3/8 in, as for other long lengths (one maker's table of finished tolerances); shorter trousers are meant: ${COMMON}`,
  },
  'skirt length': {
    clearFromMm: -9.525,
    mendBelowMm: -9.525,
    meantFromRatio: 0,
    source: "3/8 in, as for other long lengths (one maker's table of finished tolerances)",
  },
};

export const FABRIC_SOURCE = 'a piece must lie on the cloth in the direction of its grain: geometry';
