// Cap ease by cloth: sewn cap length less sewn armhole length, on the seamlines. The bands merge several teaching
// sources; they are this program's settings, not a standard.
import type { RangeMm } from './row.ts';

export interface CapEaseRange extends RangeMm {
  /** From here up to `fromMm` practice varies; below it the cap cannot be set in without stretching it. */
  readonly lookFromMm: number;
}

export const CAP_EASE: Readonly<Record<'woven' | 'tailored' | 'shirt' | 'knit', CapEaseRange>> = {
  woven: {
    fromMm: 12.7,
    toMm: 38.1,
    lookFromMm: 0,
    lookToMm: 51,
    source:
      '1 to 1 1/2 in in textbooks (madalynne.com, Sleeve cap ease), at least 1/2 in (sewandso.wordpress.com, part 6, 2014), up to 2 in on a generic block (dresspatternmaking.com, Ease (Sleeves))',
  },
  tailored: {
    fromMm: 25,
    toMm: 51,
    lookFromMm: 0,
    lookToMm: 60,
    source:
      '1 to 1 1/2 in for a two-piece jacket sleeve (S. Khalje, 2 Oct 2004), up to 2.5 in in bespoke work (thelondonpatterncutter.co.uk, Tailored Sleeve Head Ease)',
  },
  shirt: {
    fromMm: 0,
    toMm: 13,
    lookFromMm: 0,
    lookToMm: 38.1,
    source: '0 to 1/2 in for a flat-set low cap: common practice, no source',
  },
  knit: {
    fromMm: 0,
    toMm: 19,
    lookFromMm: 0,
    lookToMm: 25.4,
    source: '0 to 3/4 in in knits (madalynne.com; emmakespatterns.com, Sleeve cap ease)',
  },
};

/** Ease on one half of the cap may be small, but a shrinking half always shows: signed, each half by itself. */
export const CAP_HALF_LEAST = {
  valueMm: 0,
  source: 'the armhole is never longer than the cap (emmakespatterns.com, Sleeve cap ease)',
} as const;

/** How unevenly the two halves may share the ease before it is worth a look: the larger share of the whole. */
export const CAP_SHARE = {
  largestRatio: 0.75,
  judgedFromEaseMm: 12.7,
  source:
    'back 12.7 to 15.9 beside front 9.5 to 12.7 (sfdlearningcenter.com, SleeveFacts); the limit itself: common practice, no source',
} as const;
