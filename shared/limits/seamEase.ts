// Seams that are meant to differ, and by how much: shoulder, princess, inseam, facing, collar, waistband and so on.
// Each band is the amount by which the side named in the comment is longer than its partner, as it is compared (half or
// round). Workroom practice unless a source is named.
import type { RangeMm, RangeRatio } from './row.ts';

const COMMON = 'common practice, no source';

export const SEAM_EASE = {
  /** Back shoulder over front shoulder. */
  shoulder: {
    fromMm: 0,
    toMm: 13,
    lookToMm: 19,
    source: `back 1/4 in longer (The Cutter's Practical Guide, part 13, p. 30); 1/4 to 1/2 in eased: ${COMMON}`,
  },
  /** Side panel over front panel, between the upper and the lower notch; above and below it is even. */
  princess: {
    fromMm: 0,
    toMm: 10,
    lookToMm: 19,
    source: `eased over the bust in many books, called a fault in production (fashion-incubator.com, Lazy pattern making); 10 mm: ${COMMON}`,
  },
  /** Front inseam over back inseam above the knee: the back is stretched. Below it is even. */
  inseam: { fromMm: 0, toMm: 10, lookToMm: 15, source: `back inseam 0 to 10 mm short above the knee: ${COMMON}` },
  /** Top sleeve over under sleeve along the hindarm. */
  hindarm: { fromMm: 0, toMm: 10, lookToMm: 13, source: `top sleeve 5 to 10 mm longer, eased at the elbow: ${COMMON}` },
  /** Under sleeve over top sleeve along the forearm. */
  forearm: { fromMm: 0, toMm: 5, lookToMm: 8, source: `top sleeve 0 to 5 mm shorter, stretched: ${COMMON}` },
  /** The side that is not stretched over the stretched one, where neither is a band. */
  stretched: { fromMm: 0, toMm: 10, lookToMm: 15, source: `stretched up to 10 mm with the iron: ${COMMON}` },
  /** The second side over the first in a seam that is meant to be eased by an amount that nobody has named. */
  eased: { fromMm: 0, toMm: 10, lookToMm: 19, source: `eased by up to 10 mm: ${COMMON}` },
  /** Garment edge over facing edge. */
  facing: { fromMm: 0, toMm: 3, lookToMm: 6.35, source: `0 to 3 mm smaller an edge, turn of cloth: ${COMMON}` },
  /** Neckline over collar or band, round. */
  collar: { fromMm: 0, toMm: 6, lookToMm: 10, source: `neck edge 0 to 6 mm short round: ${COMMON}` },
  /** Garment waist over waistband without its underlap, round. */
  waistband: { fromMm: 0, toMm: 25, lookToMm: 38.1, source: `garment 6 to 25 mm larger round, eased: ${COMMON}` },
} as const satisfies Record<string, RangeMm>;

/** Joins judged as a ratio of the second side to the first. */
export const SEAM_RATIO = {
  gathered: { fromRatio: 1.3, toRatio: 3, source: `fuller side 1.3 to 3 times the other: ${COMMON}` },
  /** A stretched or elasticated band against its edge. */
  band: { fromRatio: 0.75, toRatio: 0.9, source: `knit bands 75 to 90 % of the edge: ${COMMON}` },
  /** A bias strip against the edge it binds. */
  binding: { fromRatio: 0.85, toRatio: 1, source: `bias strips run shorter than their edge: ${COMMON}` },
} as const satisfies Record<string, RangeRatio>;

/** A piece no wider than this along the edge it is sewn to is a strip or a band, whatever it is called. */
export const STRIP_WIDTH: RangeMm = {
  fromMm: 0,
  toMm: 120,
  lookToMm: 120,
  source: `bands, bindings and ribs are cut to 120 mm wide before folding: ${COMMON}`,
};

/** A band longer than its garment by this much may simply have an overlap that nobody has named. */
export const UNDERLAP: RangeMm = {
  fromMm: 15,
  toMm: 40,
  lookToMm: 40,
  source: `waistband underlap 25 to 40 mm, button overlap of cuff and collar stand 15 to 30 mm: ${COMMON}`,
};

/** What a front runs on beyond its centre to carry buttons, on the half: a collar ends at the centre or at the edge. */
export const FRONT_EXTENSION: RangeMm = {
  fromMm: 10,
  toMm: 40,
  lookToMm: 40,
  source: `at least half a button and 1/4 in (ASDP standards, Closures); to 40 mm on a coat: ${COMMON}`,
};

/** Changes of a quarter of a girth from size to size that are in use: a difference equal to one may be a slipped line. */
export const GRADE_STEPS_MM: readonly { readonly valueMm: number; readonly source: string }[] = [
  { valueMm: 6.35, source: '1 in girth over four quarters (fashion-incubator.com, How to create grade rules 2)' },
  { valueMm: 9.525, source: '1 1/2 in girth over four quarters (patterngradingmarkingnyc.com)' },
  { valueMm: 10, source: '4 cm girth over four quarters (EN 13402-3)' },
  { valueMm: 12.7, source: '2 in girth over four quarters (patterngradingmarkingnyc.com)' },
  { valueMm: 15, source: '6 cm girth over four quarters (EN 13402-3)' },
];
