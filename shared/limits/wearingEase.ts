// Wearing ease: the finished garment less the body, in the round. A knit may be smaller than the body; a woven may not. The
// least amounts come from teaching texts and are this program's settings, not a standard.

export type EaseLevel = 'bust' | 'waist' | 'hip' | 'biceps' | 'thigh' | 'across back' | 'across front';

/** Millimetres, or a part of the body's own measure. */
export type EaseAmount = { readonly mm: number } | { readonly ratio: number };

export interface EaseLeast {
  /** From here up nothing is said; down to `mendBelow` it lies close, which practice allows. */
  readonly clearFrom: EaseAmount;
  /** Below this it strains. */
  readonly mendBelow: EaseAmount;
  /** Below this it cannot be closed. */
  readonly stopBelow: EaseAmount;
  readonly source: string;
}

/** The amount on a body that measures `bodyMm` there, millimetres. */
export function easeOnMm(amount: EaseAmount, bodyMm: number): number {
  return 'mm' in amount ? amount.mm : amount.ratio * bodyMm;
}

/** Flesh gives way by about half an inch; cloth does not. */
const STRAINS = {
  mendBelow: { mm: 0 },
  stopBelow: { mm: -12.7 },
} as const;

const CWU = 'Central Washington University, course text ch. 16, Ease in Clothing';
const TEXTBOOK = 'a home-economics textbook chapter, Adjusting a Pattern';
const THREADS = 'at least 2 in over the arm (Threads, Set-in sleeve solutions, 27 Sep 2021)';

const WOVEN: Readonly<Record<EaseLevel, EaseLeast>> = {
  bust: { clearFrom: { mm: 38.1 }, ...STRAINS, source: `bodice 1 1/2 to 2 in (${CWU})` },
  waist: {
    clearFrom: { mm: 12.7 },
    ...STRAINS,
    source: `skirts and trousers 1/2 to 3/4 in, dresses 3/4 to 1 in (${CWU})`,
  },
  hip: { clearFrom: { mm: 38.1 }, ...STRAINS, source: `trousers 1 1/2 to 2 in, skirts 2 to 2 3/4 in (${CWU})` },
  biceps: { clearFrom: { mm: 50.8 }, ...STRAINS, source: THREADS },
  thigh: { clearFrom: { mm: 25.4 }, ...STRAINS, source: `at least 1 in (${CWU})` },
  'across back': {
    clearFrom: { mm: 19 },
    ...STRAINS,
    source: '3/4 to 1 in (pattern-making.com, How to take measurements for women)',
  },
  'across front': { clearFrom: { mm: 0 }, ...STRAINS, source: 'common practice, no source' },
};

const TAILORED: Readonly<Record<EaseLevel, EaseLeast>> = {
  ...WOVEN,
  bust: {
    clearFrom: { mm: 63.5 },
    ...STRAINS,
    source: `fitted, 2 1/2 to 4 in (${TEXTBOOK}); 3 to 4 in (W. Hamilton, New Mexico State University Guide C-228, table 1)`,
  },
  waist: { clearFrom: { mm: 25.4 }, ...STRAINS, source: `fitted, about 1 in (${TEXTBOOK})` },
  hip: { clearFrom: { mm: 50.8 }, ...STRAINS, source: `2 to 2 1/2 in (${TEXTBOOK})` },
};

const KNIT_LEAST: EaseLeast = {
  clearFrom: { ratio: -0.1 },
  mendBelow: { ratio: -0.15 },
  stopBelow: { ratio: -0.25 },
  source:
    "negative wearing ease is right in a knit: common practice, no source; a tenth of the body: this program's own setting",
};

const KNIT: Readonly<Record<EaseLevel, EaseLeast>> = {
  bust: KNIT_LEAST,
  waist: KNIT_LEAST,
  hip: KNIT_LEAST,
  biceps: KNIT_LEAST,
  thigh: KNIT_LEAST,
  'across back': KNIT_LEAST,
  'across front': KNIT_LEAST,
};

export const WEARING_EASE: Readonly<
  Record<'woven' | 'tailored' | 'shirt' | 'knit', Readonly<Record<EaseLevel, EaseLeast>>>
> = {
  woven: WOVEN,
  tailored: TAILORED,
  shirt: {
    ...WOVEN,
    bust: { clearFrom: { mm: 38.1 }, ...STRAINS, source: `shirt chest, fitted 1 1/2 to 2 1/2 in (${CWU})` },
  },
  knit: KNIT,
};

/** How closely a woven garment lies by its ease at the bust; each class runs to where the next begins. */
export const EASE_CLASSES = {
  fromMm: [
    ['close', 0],
    ['fitted', 76.2],
    ['semi-fitted', 104.775],
    ['loose', 130.175],
    ['very loose', 203.2],
  ],
  source:
    "a paper-pattern publisher's old chart, from memory: close 0 to 2 7/8 in, fitted 3 to 4, semi-fitted 4 1/8 to 5, loose 5 1/8 to 8, very loose above",
} as const;

export type EaseClass = (typeof EASE_CLASSES.fromMm)[number][0];

/** The class of an ease at the bust, millimetres; null below nothing. */
export function easeClassOf(easeMm: number): EaseClass | null {
  return EASE_CLASSES.fromMm.findLast(([, fromMm]) => easeMm >= fromMm)?.[0] ?? null;
}
