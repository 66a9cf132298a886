// The strip along a piece's outline unrolled: columns along the outline, rows across it, sampled from the original photo.
// In it a notch is a short dark streak from the edge, whatever the edge's curve.
import { tableMm } from '../../base/points.ts';
import { grayAt, type Photo } from '../image.ts';
import type { PlaneMap } from '../ink/planeMap.ts';
import { moved } from '../ink/polyline.ts';
import type { OutlineIndex } from './outlineIndex.ts';

export interface EdgeBand {
  readonly columns: number;
  readonly rows: number;
  /** Column pitch along the outline (divides its length). */
  readonly alongMm: number;
  /** Row pitch; row 0 lies at fromMm (inside positive). */
  readonly acrossMm: number;
  readonly fromMm: number;
  /** Grey levels, column by column. */
  readonly levels: Float32Array;
}

export function unrollEdge(
  photo: Photo,
  plane: PlaneMap,
  outline: OutlineIndex,
  frame: { readonly fromMm: number; readonly toMm: number; readonly alongMm: number; readonly acrossMm: number },
): EdgeBand {
  const columns = Math.max(1, Math.round(outline.lengthMm / frame.alongMm));
  const rows = Math.round((frame.toMm - frame.fromMm) / frame.acrossMm) + 1;
  const levels = new Float32Array(columns * rows);
  const alongMm = outline.lengthMm / columns;
  for (let c = 0; c < columns; c++) {
    const { point, along } = outline.placeAt(c * alongMm);
    const inward: readonly [number, number] = [-along[1], along[0]];
    // straight in the photo over a few millimetres
    const a = plane.photoFromTable(tableMm(...moved(point, inward, frame.fromMm)));
    const b = plane.photoFromTable(tableMm(...moved(point, inward, frame.toMm)));
    for (let r = 0; r < rows; r++) {
      const t = r / (rows - 1);
      levels[c * rows + r] = grayAt(photo.gray, [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
    }
  }
  return { columns, rows, alongMm, acrossMm: frame.acrossMm, fromMm: frame.fromMm, levels };
}
