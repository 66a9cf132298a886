// A closed outline as first drawn, before it is measured on the original photo.
import type { TablePointMm } from '../../base/points.ts';

export interface CoarseOutline {
  /** Clockwise on the screen, first point not repeated. */
  readonly polygon: readonly TablePointMm[];
  /** SEEN, COVERED, NOTCH or GAP for every point. */
  readonly state: Uint8Array;
}

/** The outline follows the paper's own edge. */
export const SEEN = 0;
/** Something lies over the edge: bridged. */
export const COVERED = 1;
/** A notch was taken out: the outline runs straight on over it. */
export const NOTCH = 2;
/** The contour had strayed from the edge where nothing showed it: bridged. */
export const GAP = 3;
