// The two maps that the ink stages need from a solved plane, and nothing else of it: easy to fake in a test.
import type { PhotoPointPx, Point, TablePointMm } from '../../base/points.ts';

export interface PlaneMap {
  /** Table point seen at a photo pixel. */
  readonly tableFromPhoto: (photo: PhotoPointPx) => TablePointMm;
  /** Photo pixel of a table point. */
  readonly photoFromTable: (table: TablePointMm) => PhotoPointPx;
  /** Millimetres of table per photo pixel in the middle of the photo. */
  readonly mmPerPixel: number;
}

/** A closed ring on the table, last point not repeated. */
export type TableRing = readonly Point[];
