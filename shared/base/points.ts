// Points and the frames they live in. Brands guard the signatures where frames have been confused before;
// inside a kernel, and in a piece's own frame (millimetres, y down), a plain Point is enough.

export type Point = readonly [x: number, y: number];

declare const frame: unique symbol;
type PointIn<F extends string> = Point & { readonly [frame]: F };

/** Photo pixels after EXIF orientation: pixel centres at integers, (0, 0) is the centre of the top left pixel, y down. */
export type PhotoPointPx = PointIn<'photo-px'>;
/** The plane of the table, millimetres, y down as seen from above; origin and turn belong to one shot. */
export type TablePointMm = PointIn<'table-mm'>;

export function photoPx(x: number, y: number): PhotoPointPx {
  return [x, y] as unknown as PhotoPointPx; // the only place where a brand is made
}

export function tableMm(x: number, y: number): TablePointMm {
  return [x, y] as unknown as TablePointMm; // the only place where a brand is made
}
