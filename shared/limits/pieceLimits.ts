// What is asked of a single piece: grain, fold, darts, notches, allowances, how smooth its lines run. Where no number was
// ever published, the row says that it is this program's own setting.
import type { LimitDeg, LimitMm } from './row.ts';
import type { TolerancePreset } from './tolerances.ts';

const OWN = "no published tolerance: this program's own setting";
const COMMON = 'common practice, no source';

/** The grainline against the fold or the centre line that it runs along. 5 mm in 300 is 0.95 degrees, 10 mm over a skirt. */
export const GRAIN_OFF: Readonly<Record<TolerancePreset, LimitDeg>> = {
  home: { valueDeg: 0.75, source: `drawn parallel to the centre (NIMI, CITS Dress Making TT, 2024, p. 17); ${OWN}` },
  studio: { valueDeg: 0.5, source: `drawn parallel to the centre (NIMI, CITS Dress Making TT, 2024, p. 17); ${OWN}` },
};

/** What a grainline can be compared with: a shorter or a shaped line says nothing about the direction of the thread. */
export const GRAIN_REFERENCE = {
  leastMm: 100,
  straightWithinMm: 1,
  /** A centre seam that leans this far was drawn aslant on purpose, as in a gored skirt. */
  leansFromDeg: 5,
  /** The sides of a leg or a sleeve meet its hem alike within this; a panel that flares to one side does not. */
  evenWithinDeg: 2,
  /** The two underarm seams of a sleeve are of one length within this. */
  evenWithinMm: 3.2,
  source: `a centre line that is curved or leans is a shaped seam, an even leg or sleeve hangs square to its hem and to the line under its arms: ${COMMON}`,
} as const;

/** How far a fold edge may stray from a straight line. */
export const FOLD_BENT: Readonly<Record<TolerancePreset, LimitMm>> = {
  home: { valueMm: 1.6, source: `a folded edge is straight: geometry; 1/16 in: ${OWN}` },
  studio: { valueMm: 1, source: `a folded edge is straight: geometry; 1 mm: ${OWN}` },
};

/** A line that turns less than this across the open mouth of a dart was drawn as if the dart were not there. */
export const DART_CAP_UNDRAWN: LimitDeg = { valueDeg: 5, source: OWN };

/** The end of a bust dart before the bust point. */
export const BUST_DART = {
  leastMm: 12.7,
  /** How far beside the bust point the dart may aim. */
  asideMm: 12.7,
  source:
    '1/2 to 2 1/2 in before the bust point (itch-to-stitch.com; S. Veblen, Threads #181, Oct/Nov 2015); never past it (NIMI, CITS Dress Making TT, 2024, p. 186); 1/2 in aside: common practice, no source',
} as const;

/** A notch may lie this far outside its edge: what a traced corner is uncertain by. */
export const NOTCH_ADRIFT: LimitMm = { valueMm: 1.6, source: `1/16 in: ${COMMON}` };

/** Two notches nearer than this read as one double notch, whose ticks stand 1/4 in apart. */
export const NOTCH_CROWDED: LimitMm = {
  valueMm: 12.7,
  source: `a double notch is two ticks about 1/4 in apart; twice that: ${COMMON}`,
};

/** The least allowance in which a snip of 2 mm ends 1/8 in before the stitching. */
export const SNIP_ROOM: LimitMm = {
  valueMm: 5.2,
  source:
    'snips are 2 to 3 mm (Notch Notes) and end at least 1/8 in before the stitches (maeviary.com, Seam allowances)',
};

/** Where two edges run on into each other within this angle they are one line to the scissors. */
export const RUNS_ON: LimitDeg = { valueDeg: 10, source: OWN };

/** A turn in the middle of an edge: below it the line is smooth, above `intended` it is a corner that was meant. */
export const CURVE_KINK = {
  valueDeg: 8,
  intendedDeg: 25,
  source: `one true curve, neither point nor scoop (I. D. Conover, A Complete Course in Dressmaking, vol. 9, p. 22, 1922); the angle: ${OWN}`,
} as const;

/** A line that changes its bend more often than any pattern curve does. */
export const WOBBLE = {
  /** Half the height of the waves. */
  valueMm: 0.8,
  /** An S has one change of bend, a cap two: a line with more than this many wavers. */
  mostChanges: 4,
  /** Swings smaller than this are drawing, not wavering. */
  swingDeg: 4,
  source: `a traced line wavers by half a millimetre: ${COMMON}; ${OWN}`,
} as const;

/** The raw edge of a hem against the garment it is turned up onto. */
export const HEM_TURN: LimitMm = {
  valueMm: 3,
  source:
    'hemlines are cut to 3 mm (I. Vilumsone-Nemes, Industrial Cutting of Textile Materials, table 13.1, p. 210); the allowance mirrors the leg (blog.fabrics-store.com/?p=32999)',
};
