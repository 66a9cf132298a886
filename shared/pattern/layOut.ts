// Where pieces lie on a sheet so that none covers another: rows from left to right, tallest first, nothing turned.
import type { Point } from '../base/points.ts';
import type { Box } from './pieceLines.ts';

export interface LaidOut {
  /** Added to each piece's own coordinates, in the order of the boxes given. */
  readonly offsetsMm: readonly Point[];
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Rows of boxes no wider than widthMm (a wider single box makes the sheet wider), gapMm apart and from the rim. */
export function layOut(boxes: readonly Box[], widthMm: number, gapMm: number): LaidOut {
  const order = boxes.map((_, i) => i).sort((a, b) => heightOf(boxes[b]!) - heightOf(boxes[a]!) || a - b);
  const offsetsMm: Point[] = boxes.map(() => [0, 0]);
  let x = gapMm;
  let y = gapMm;
  let rowMm = 0;
  let usedMm = 0;
  for (const i of order) {
    const box = boxes[i]!;
    const width = box[2] - box[0];
    if (x > gapMm && x + width + gapMm > widthMm) {
      x = gapMm;
      y += rowMm + gapMm;
      rowMm = 0;
    }
    offsetsMm[i] = [x - box[0], y - box[1]];
    x += width + gapMm;
    usedMm = Math.max(usedMm, x);
    rowMm = Math.max(rowMm, heightOf(box));
  }
  return { offsetsMm, widthMm: Math.max(usedMm, 2 * gapMm), heightMm: y + rowMm + gapMm };
}

function heightOf(box: Box): number {
  return box[3] - box[1];
}
