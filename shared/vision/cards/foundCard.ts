// One reference card as found in one photo. Measured points are the saddle corners of its chequer, nothing else:
// edges shift with exposure and print bleed, saddles do not.
import type { PhotoPointPx, Point } from '../../base/points.ts';

export interface CardCorner {
  /** Nominal place on the card, card millimetres (origin at the card's top left cut corner, y down, page axes). */
  readonly cardMm: Point;
  readonly photo: PhotoPointPx;
}

export interface FoundCard {
  /** Printed on the card, e.g. "N07". */
  readonly id: string;
  /** Where the card lies on its uncut page, page millimetres; two cards of one page that keep this offset are uncut. */
  readonly onPageMm: Point;
  /** Identifies the page print that the card belongs to (all cards of one page share it). */
  readonly page: number;
  readonly corners: readonly CardCorner[];
  /** The cut outline of the card in the photo, four points, for masking. */
  readonly cutOutline: readonly PhotoPointPx[];
  /** Root mean square residual of the corners to the card's own homography, pixels. */
  readonly homographyResidualPx: number;
  /** Standard uncertainty of one corner an axis, from how smooth the lattice of corners is, pixels. */
  readonly cornerSigmaPx?: number;
}
