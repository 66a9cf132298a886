// How far two things that meet may differ, by preset. Nothing here is floating-point hygiene: these are the numbers that a
// sewer accepts.
import type { LimitDeg, LimitMm } from './row.ts';

export type TolerancePreset = 'home' | 'studio';

export interface Tolerances {
  /** Two edges sewn evenly, section by section between the notches. */
  readonly seam: LimitMm;
  /** A notch against its mate. */
  readonly notch: LimitMm;
  /** The two legs of a dart. */
  readonly dartLegs: LimitMm;
  /** A corner on the fold against the right angle. */
  readonly foldCorner: LimitDeg;
  /** Two corners that meet at a seam, against 180 degrees. */
  readonly joinedCorner: LimitDeg;
  /** Two allowances that lie on each other. */
  readonly allowance: LimitMm;
}

const NOTCH_SOURCE = '1/16 in at home, 1 to 2 mm in the trade: common practice, no source';
const DART_SOURCE = 'equal when folded; 1/16 in is a usual setting: common practice, no source';
const ANGLE_SOURCE = "no published tolerance: this program's own setting";
const ALLOWANCE_SOURCE = '20 mm held to 5 %, BBC Bitesize, Textiles, Accuracy and quality control';

export const TOLERANCES: Readonly<Record<TolerancePreset, Tolerances>> = {
  home: {
    seam: { valueMm: 3.2, source: '1/8 in works for many sewers: Threads #200, 10 Patternwork Skills' },
    notch: { valueMm: 1.6, source: NOTCH_SOURCE },
    dartLegs: { valueMm: 1.6, source: DART_SOURCE },
    foldCorner: { valueDeg: 4, source: ANGLE_SOURCE },
    joinedCorner: { valueDeg: 4, source: ANGLE_SOURCE },
    allowance: { valueMm: 1, source: ALLOWANCE_SOURCE },
  },
  studio: {
    seam: { valueMm: 1.6, source: 'true to 1/16 in: Threads #200, 10 Patternwork Skills' },
    notch: { valueMm: 1.6, source: NOTCH_SOURCE },
    dartLegs: { valueMm: 1.6, source: DART_SOURCE },
    foldCorner: { valueDeg: 3, source: ANGLE_SOURCE },
    joinedCorner: { valueDeg: 3, source: ANGLE_SOURCE },
    allowance: { valueMm: 1, source: ALLOWANCE_SOURCE },
  },
};

/**
 * A line that turns by more than this across a seam shows: blended over 30 mm to either side, the peak stands 1/16 in proud of
 * the true line (30 mm x tan(12/4 deg) = 1.6 mm). A smaller turn is drawn true in a moment, and many never do.
 */
export const TURN_SHOWS: LimitDeg = {
  valueDeg: 12,
  source:
    'geometry: blended over 30 mm, a turn of 12 degrees stands 1/16 in proud, which is what seams are trued to (Threads #200, 10 Patternwork Skills); the 30 mm: common practice, no source',
};

/** A corner this far from smooth or square was drawn so on purpose: V neck, point, vent. */
export const INTENDED_CORNER: LimitDeg = {
  valueDeg: 20,
  source: "V necks, points and vents are exempt; the angle itself: this program's own setting",
};

/** Beyond this an even seam cannot be sewn by pushing one layer along the other: stop instead of mend. */
export const FORCED = {
  beyondMm: 12.7,
  /** Also stop when a difference above `smallMm` is more than this part of the section. */
  beyondRatio: 0.1,
  smallMm: 6.35,
  source:
    '1/4 in is called a real error (fashion-incubator.com, How many notches are too many? pt. 2); 1/2 in or a tenth of the section cannot be pushed in: common practice, no source',
} as const;

/** An edge with a longer stretch than this in no seam is not claimed. */
export const UNCLAIMED: LimitMm = {
  valueMm: 12.7,
  source: 'shorter gaps are ends of stitching: common practice, no source',
};

/** A traced outline whose edges part by more than this is open. */
export const OPEN_OUTLINE: LimitMm = { valueMm: 0.5, source: 'half a pencil line: common practice, no source' };

/** How far an assumed allowance may be from the true one (1 sigma): 6, 10 and 15 mm are all usual. */
export const ASSUMED_ALLOWANCE_SIGMA: LimitMm = {
  valueMm: 3,
  source:
    '1/4, 3/8 and 5/8 in are all usual (Wikipedia, Seam allowance; fashion-incubator.com, The rules on seam allowances)',
};
