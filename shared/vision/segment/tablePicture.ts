// The table seen straight from above, in true scale: what the segmentation works on. Segmenting in millimetres
// instead of photo pixels makes every size below mean the same in every photo.
import { type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import type { RgbImage } from '../image.ts';

export interface TablePicture {
  readonly rgb: RgbImage;
  readonly mmPerPx: number;
  /** Table place of the centre of the top left pixel. */
  readonly originMm: Point;
  /** 1 where the photo really shows the table, 0 outside the photo; all of it when left out. */
  readonly seen?: Uint8Array;
}

export function tableFromPicturePx(picture: TablePicture, xPx: number, yPx: number): TablePointMm {
  return tableMm(picture.originMm[0] + xPx * picture.mmPerPx, picture.originMm[1] + yPx * picture.mmPerPx);
}

export function picturePxFromTable(picture: TablePicture, at: Point): Point {
  return [(at[0] - picture.originMm[0]) / picture.mmPerPx, (at[1] - picture.originMm[1]) / picture.mmPerPx];
}
