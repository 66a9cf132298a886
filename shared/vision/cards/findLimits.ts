// The numbers that decide whether something in a photo is a reference card and whether one of its corners counts.

/** Long sides to which a photo is reduced for the search, pixels; the coarse one is for codes that fill the photo. */
export const SEARCH_LONG_SIDES_PX = { fine: 1600, coarse: 640 } as const;

/** With fewer cards than this the search is repeated at full size: small cards vanish when the photo is reduced. */
export const ENOUGH_CARDS = 2;

/** Odd windows of the adaptive threshold: one for thin code cells, one for wide ones. Dark is this far below the mean. */
export const THRESHOLD_WINDOWS_PX = [13, 41] as const;
export const THRESHOLD_OFFSET = 6;

export const QUAD_LIMITS = {
  /** Rims shorter than this many pixels cannot hold 8 cells a side. */
  minRimPx: 44,
  /** Area by squared rim length: 1/16 for a square, 0.055 at a tilt of 50 degrees; below 0.028 it is a line. */
  minCompactnessRatio: 0.028,
  /** Tolerance of the polygon by the rim's length; lens curvature of a side stays well below. */
  polygonToleranceRatio: 0.03,
  /** Share of each side next to its ends that is left out of the line fit: thresholding rounds corners. */
  endTrimRatio: 0.15,
  /** The rim runs through the centres of the outermost dark pixels, half a pixel inside the edge. */
  rimInsetPx: 0.5,
} as const;

export const CODE_LIMITS = {
  /** Least grey levels between the code's dark border and the white round it. */
  minContrast: 12,
  /** Shares of the border cells that must be dark and of the white ring that must be light; the rest may be covered. */
  minDarkBorderRatio: 0.85,
  minLightRingRatio: 0.7,
  /** With this few wrong bits a square is a code for certain, also when its chequer cannot be measured. */
  certainWrongBits: 1,
} as const;

export const SADDLE_LIMITS = {
  /** Radius of the window by the side of a square: past 0.3 uneven light begins to pull. */
  windowRatio: 0.3,
  /** Small squares need a window of some pixels all the same, up to this share of the square. */
  minRadiusPx: 3.5,
  smallWindowRatio: 0.45,
  maxRadiusPx: 12,
  /** A square smaller than this leaves no window. */
  minSquarePx: 5.5,
  /** How far a saddle may lie from its prediction, by the side of a square: half would be half way to an edge's middle. */
  maxShiftRatio: 0.35,
  maxSteps: 20,
  /** A step below this changes nothing that is measured. */
  convergedPx: 0.002,
  /** Where the four squares round a saddle are looked at, by the side of a square. */
  squareProbeRatio: 0.3,
  /** Least contrast between its light and dark squares: by the contrast of the code, and in grey levels. */
  minContrastRatio: 0.3,
  minContrast: 8,
} as const;

export const CHEQUER_LIMITS = {
  /** Saddles that make a card measurable, and the columns and rows that they must span. */
  minSaddles: 12,
  minSpan: 3,
  /** A saddle is dropped when it is off the smooth lattice by this many robust sigmas, and by this many pixels. */
  outlierSigmas: 4.5,
  outlierFloorPx: 0.25,
  /** Root mean square residual to a flat card, by the side of a square, that speaks of a bent card. */
  bentRatio: 0.06,
  bentFloorPx: 0.6,
} as const;
