// A closed outline as first drawn, before it is measured on the original photo.
import { type TablePointMm, tableMm } from '../../base/points.ts';
import { resamplePolyline } from '../../geometry/polygon.ts';
import { distance } from '../../geometry/vector.ts';

export interface CoarseOutline {
  /** Clockwise on the screen, first point not repeated. */
  readonly polygon: readonly TablePointMm[];
  /** SEEN, COVERED, NOTCH, GAP or DOUBTED for every point. */
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
/** Measured as any, but whether the paper ends there at all is unsure. */
export const DOUBTED = 4;

/** The outline at even steps, each point with the flag of the stretch it lies in. */
export function evenOutline(outline: CoarseOutline, stepMm: number): CoarseOutline {
  const closed = [...outline.polygon, outline.polygon[0]!];
  const points = resamplePolyline(closed, stepMm)
    .slice(0, -1)
    .map((p) => tableMm(p[0], p[1]));
  const state = new Uint8Array(points.length);
  let total = 0;
  const ends: number[] = [];
  for (let i = 1; i < closed.length; i++) {
    total += distance(closed[i - 1]!, closed[i]!);
    ends.push(total);
  }
  let at = 0;
  for (let i = 0; i < points.length; i++) {
    const along = (i / points.length) * total;
    while (at < ends.length - 1 && ends[at]! < along) at++;
    state[i] = outline.state[at]!;
  }
  return { polygon: points, state };
}
