// Every number that decides what counts as ink. Widths and distances are of pens and paper, so they are millimetres on
// the table; grey levels are of 8-bit sRGB. Source of the ridge scale: Steger, "An unbiased detector of curvilinear
// structures", IEEE PAMI 20(2), 1998: sigma >= w / (2 sqrt 3). The rest is common practice or found by trial on rendered
// sheets, as said at each.

export const INK_LIMITS = {
  /** Gaussian sigma of the ridge filter: right for lines of 0.4 to 1.4 mm (pencil to marker). */
  ridgeSigmaMm: 0.4,
  /** Below this the second derivative is only pixel noise. */
  leastRidgeSigmaPx: 1,
  /** How far beside the line the paper is looked at: outside the widest marker and its blur. */
  sideMm: 1.4,
  leastSidePx: 3,
  /** A pixel may be ink when it is darker than both sides by this much... */
  leastDipLevels: 8,
  /** ...and by this share of the paper's level. */
  leastDipRatio: 0.07,
  /** Ridge response (sigma^2 times second derivative, about 0.4 of the contrast) to continue a line. */
  weakResponse: 3.5,
  /** Response that may begin a line. */
  strongResponse: 8,
  /** The sub-pixel centre may lie this far outside the pixel's own half width, so that steps between rows leave no hole. */
  centreReachPx: 0.65,
  /** Lines turn less than this from one pixel to the next. */
  linkTurnDeg: 50,
  /** Shorter chains are specks of noise or paper fibre. */
  leastChainMm: 1.5,
  /** Ends of a chain whose response is below this share of its median are dropped, up to this length. */
  fadedResponseRatio: 0.7,
  fadingEndMm: 1.2,
  /** Both sides of a line on paper have the same colour within this share of the brighter one. */
  sidesDifferRatio: 0.22,
  /** A side darker than the other by this share of the line's depth has ink on it: the width cannot be measured there. */
  sideInkRatio: 0.35,
  /** Share of a chain's points whose sides must agree; shadow edges and crossings spoil a few. */
  sidesAgreeShare: 0.5,
  /** A turn of this much between the stretches before and after a point is a corner of the pen's path. */
  cornerTurnDeg: 35,
  /** The stretch on each side whose direction is compared, and how near to the point it begins. */
  cornerArmFromMm: 0.7,
  cornerArmToMm: 2.4,
  /** Ridge points this near to a corner are pulled inward by the blur of the two arms; they are dropped. */
  cornerTrimMm: 0.8,
} as const;
