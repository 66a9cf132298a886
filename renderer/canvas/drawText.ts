// Words on the canvas, readable over lines and photos.
import type { Point } from '../../shared/base/points.ts';
import { PALETTE } from './palette.ts';

export interface TextStyle {
  readonly px: number;
  readonly colour: string;
  readonly mmPerPx: number;
  readonly weight: 'bold' | 'normal';
  /** Turned about its middle; absent = upright. */
  readonly turnDeg?: number;
}

/** Centred on the place in both directions. */
export function drawText(
  scope: paper.PaperScope,
  [x, y]: Point,
  words: string,
  { px, colour, mmPerPx, weight, turnDeg = 0 }: TextStyle,
): void {
  for (const halo of [true, false]) {
    const item = new scope.PointText(new scope.Point(x, y));
    item.content = words;
    item.fontFamily = 'system-ui, sans-serif';
    item.fontWeight = weight;
    item.fontSize = px * mmPerPx;
    item.justification = 'center';
    item.position = new scope.Point(x, y);
    if (turnDeg !== 0) item.rotate(turnDeg, new scope.Point(x, y));
    item.fillColor = new scope.Color(halo ? PALETTE.paper : colour);
    if (halo) {
      item.strokeColor = new scope.Color(PALETTE.paper);
      item.strokeWidth = 3 * mmPerPx;
      item.opacity = 0.85;
    }
  }
}
