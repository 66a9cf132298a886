// Which part of the canvas plane is seen, as plain data: a centre and a zoom.
import type { Point } from '../../shared/base/points.ts';
import type { Box } from '../../shared/pattern/pieceLines.ts';

export interface Viewport {
  readonly centre: Point;
  readonly pxPerMm: number;
}

export interface ScreenSize {
  readonly widthPx: number;
  readonly heightPx: number;
}

const LEAST_PX_PER_MM = 0.02;
const MOST_PX_PER_MM = 60;
const MARGIN_RATIO = 0.08;

/**
 * The whole box with a margin; a box of no size is shown at one pixel a millimetre.
 * @param coveredPx at the left, under tools, where nothing should lie
 */
export function fitBox([minX, minY, maxX, maxY]: Box, { widthPx, heightPx }: ScreenSize, coveredPx = 0): Viewport {
  const [width, height] = [maxX - minX, maxY - minY];
  const room = 1 - 2 * MARGIN_RATIO;
  const fitting = Math.min(((widthPx - coveredPx) * room) / width, (heightPx * room) / height);
  const pxPerMm = Number.isFinite(fitting) ? clampZoom(fitting) : 1;
  return { centre: [(minX + maxX) / 2 - coveredPx / 2 / pxPerMm, (minY + maxY) / 2], pxPerMm };
}

/** Zoomed by a factor so that the place under the pointer stays where it is. */
export function zoomAt({ centre, pxPerMm }: Viewport, at: Point, factor: number): Viewport {
  const zoomed = clampZoom(pxPerMm * factor);
  const ratio = pxPerMm / zoomed;
  return { pxPerMm: zoomed, centre: [at[0] + (centre[0] - at[0]) * ratio, at[1] + (centre[1] - at[1]) * ratio] };
}

export function pan({ centre, pxPerMm }: Viewport, byPx: Point): Viewport {
  return { pxPerMm, centre: [centre[0] - byPx[0] / pxPerMm, centre[1] - byPx[1] / pxPerMm] };
}

/** The same view after the canvas changed its size: what lay at its top left corner still does. */
export function keepCorner({ centre, pxPerMm }: Viewport, before: ScreenSize, after: ScreenSize): Viewport {
  const byMm = (a: number, b: number) => (a - b) / 2 / pxPerMm;
  return {
    pxPerMm,
    centre: [centre[0] + byMm(after.widthPx, before.widthPx), centre[1] + byMm(after.heightPx, before.heightPx)],
  };
}

/** The place on the canvas under a pixel of the view. */
export function placeAt({ centre, pxPerMm }: Viewport, [x, y]: Point, { widthPx, heightPx }: ScreenSize): Point {
  return [centre[0] + (x - widthPx / 2) / pxPerMm, centre[1] + (y - heightPx / 2) / pxPerMm];
}

/** The pixel of the view over a place on the canvas. */
export function pixelAt({ centre, pxPerMm }: Viewport, [x, y]: Point, { widthPx, heightPx }: ScreenSize): Point {
  return [widthPx / 2 + (x - centre[0]) * pxPerMm, heightPx / 2 + (y - centre[1]) * pxPerMm];
}

/** Between two views, ratio 0 to 1. */
export function between(from: Viewport, to: Viewport, ratio: number): Viewport {
  const mix = (a: number, b: number) => a + (b - a) * ratio;
  return {
    centre: [mix(from.centre[0], to.centre[0]), mix(from.centre[1], to.centre[1])],
    pxPerMm: from.pxPerMm * (to.pxPerMm / from.pxPerMm) ** ratio,
  };
}

function clampZoom(pxPerMm: number): number {
  return Math.min(Math.max(pxPerMm, LEAST_PX_PER_MM), MOST_PX_PER_MM);
}
