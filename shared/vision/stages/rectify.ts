// Stage: the photo as it would look from straight above without a lens, at a chosen size of a table millimetre. Good for
// finding things and for showing them; nothing is measured in it: lengths come from the photo through the plane solution.
import { type PhotoPointPx, photoPx, type TablePointMm, tableMm } from '../../base/points.ts';
import { fail, ok, type Result } from '../../base/result.ts';
import type { FloatImage, Photo, RgbImage } from '../image.ts';
import type { PixelSize, StripMap } from '../opencv/warps.ts';
import { lensSlope } from '../plane/cameraModel.ts';
import { type PlaneSolution, photoFromTable, tableFromPhoto } from '../plane/planeSolution.ts';
import type { TablePicture } from '../segment/tablePicture.ts';
import type { StageContext } from '../stageContext.ts';

export interface RectifyOptions {
  /** Wanted size of one rectified pixel; made coarser when the picture would exceed `largestPixels`. */
  readonly mmPerPixel: number;
  readonly largestPixels: number;
}

export const RECTIFY_DEFAULTS: RectifyOptions = { mmPerPixel: 0.5, largestPixels: 2_000_000 };

const SANE = {
  /** Points along each rim of the photo from which the visible part of the table is found. */
  rimPoints: 24,
  /** Table farther off than this many times the distance at the middle is seen too flat to be of use. */
  largestStretch: 3,
  /** Where the lens map is flatter than this it is extrapolated, not known. */
  smallestLensSlope: 0.3,
  /** The map is exact on a grid of this many rectified pixels and linear in between; the error is far below a pixel. */
  mapGridPx: 16,
  /** Grey of what the photo does not show. */
  outside: 0,
} as const;

/**
 * Rectifies a photo over the part of the table that it shows usefully.
 * Fails when the solution sees no table at all within the photo.
 */
export function rectify(
  photo: Photo,
  solution: PlaneSolution,
  options: RectifyOptions,
  ctx: Pick<StageContext, 'cv'>,
): Result<TablePicture> {
  const bounds = visibleBounds(solution);
  if (bounds === null)
    return fail(
      'table-unseen',
      'The photo is taken too flat over the table to be straightened. Hold the camera more directly above the piece.',
    );
  const wide = bounds.right - bounds.left;
  const high = bounds.bottom - bounds.top;
  const mmPerPx = Math.max(options.mmPerPixel, Math.sqrt((wide * high) / options.largestPixels));
  const widthPx = Math.max(1, Math.floor(wide / mmPerPx));
  const heightPx = Math.max(1, Math.floor(high / mmPerPx));
  const originMm = tableMm(bounds.left, bounds.top);
  // Averaged down first, so that thin lines do not alias where the result is coarser than the photo.
  const factor = Math.max(1, Math.floor(mmPerPx / solution.mmPerPixel));
  const source = shrunk(photo.rgb, factor);
  const seen = new Uint8Array(widthPx * heightPx);
  const wholeMap = photoMaps(solution, originMm, mmPerPx, { widthPx, heightPx }, 1 / factor);
  const mapOf: StripMap = (fromRow, rows) => {
    const map = wholeMap(fromRow, rows);
    seen.set(seenIn(map.mapX, map.mapY, source), fromRow * widthPx);
    return map;
  };
  return ok({
    rgb: ctx.cv.remapRgb(source, { widthPx, heightPx }, mapOf, SANE.outside),
    mmPerPx,
    originMm,
    seen,
  });
}

/** Means of `factor` x `factor` pixels; what is left over at the right and at the bottom is dropped. */
function shrunk(rgb: RgbImage, factor: number): RgbImage {
  if (factor === 1) return rgb;
  const widthPx = Math.floor(rgb.widthPx / factor);
  const heightPx = Math.floor(rgb.heightPx / factor);
  const data = new Uint8Array(3 * widthPx * heightPx);
  for (let y = 0; y < heightPx; y++) shrunkRow(data, y, widthPx, rgb, factor);
  return { widthPx, heightPx, data };
}

function shrunkRow(
  out: Uint8Array,
  row: number,
  widthPx: number,
  { data, widthPx: wide }: RgbImage,
  factor: number,
): void {
  const count = factor * factor;
  const half = count >> 1;
  const end = 3 * (row + 1) * widthPx;
  for (let to = 3 * row * widthPx, from = 3 * row * factor * wide; to < end; to += 3, from += 3 * factor) {
    let [red, green, blue] = [half, half, half];
    for (let k = 0, line = from; k < factor; k++, line += 3 * wide)
      for (let at = line; at < line + 3 * factor; at += 3) {
        red += data[at]!;
        green += data[at + 1]!;
        blue += data[at + 2]!;
      }
    out[to] = red / count;
    out[to + 1] = green / count;
    out[to + 2] = blue / count;
  }
}

/** 1 where the picture shows the photo, 0 beyond its rim. */
function seenIn(mapX: FloatImage, mapY: FloatImage, source: RgbImage): Uint8Array {
  const seen = new Uint8Array(mapX.data.length);
  const xs = mapX.data;
  const ys = mapY.data;
  const right = source.widthPx - 1;
  const bottom = source.heightPx - 1;
  for (let i = 0; i < seen.length; i++) {
    const x = xs[i]!;
    const y = ys[i]!;
    if (x >= 0 && y >= 0 && x <= right && y <= bottom) seen[i] = 1;
  }
  return seen;
}

interface Bounds {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** The table rectangle that the photo shows, cut where the view gets too flat or the lens is not known. */
function visibleBounds(solution: PlaneSolution): Bounds | null {
  const { widthPx, heightPx } = solution.camera;
  const middle = photoPx((widthPx - 1) / 2, (heightPx - 1) / 2);
  const middleMm = tableFromPhoto(solution, middle);
  if (!Number.isFinite(middleMm[0])) return null;
  const stretchLimit = SANE.largestStretch * pixelStretch(solution, middle);
  let bounds: Bounds = { left: middleMm[0], right: middleMm[0], top: middleMm[1], bottom: middleMm[1] };
  for (const rim of rimOf(widthPx, heightPx)) {
    const point = farthestSane(solution, middle, rim, stretchLimit);
    bounds = {
      left: Math.min(bounds.left, point[0]),
      right: Math.max(bounds.right, point[0]),
      top: Math.min(bounds.top, point[1]),
      bottom: Math.max(bounds.bottom, point[1]),
    };
  }
  return bounds.right > bounds.left && bounds.bottom > bounds.top ? bounds : null;
}

function rimOf(widthPx: number, heightPx: number): PhotoPointPx[] {
  const rim: PhotoPointPx[] = [];
  for (let k = 0; k <= SANE.rimPoints; k++) {
    const x = ((widthPx - 1) * k) / SANE.rimPoints;
    const y = ((heightPx - 1) * k) / SANE.rimPoints;
    rim.push(photoPx(x, 0), photoPx(x, heightPx - 1), photoPx(0, y), photoPx(widthPx - 1, y));
  }
  return rim;
}

/** Table point of the sane photo point nearest to the rim on the way from the middle. */
function farthestSane(
  solution: PlaneSolution,
  middle: PhotoPointPx,
  rim: PhotoPointPx,
  stretchLimit: number,
): TablePointMm {
  let last = tableFromPhoto(solution, middle);
  for (let k = 1; k <= SANE.rimPoints; k++) {
    const t = k / SANE.rimPoints;
    const at = photoPx(middle[0] + t * (rim[0] - middle[0]), middle[1] + t * (rim[1] - middle[1]));
    const point = tableFromPhoto(solution, at);
    const sane =
      Number.isFinite(point[0]) &&
      pixelStretch(solution, at) < stretchLimit &&
      lensSlope(solution.camera, radiusOf(solution, at)) > SANE.smallestLensSlope;
    if (!sane) return last;
    last = point;
  }
  return last;
}

/** Largest table distance that one photo pixel covers at a place; NaN compares as not sane. */
function pixelStretch(solution: PlaneSolution, [x, y]: PhotoPointPx): number {
  const here = tableFromPhoto(solution, photoPx(x, y));
  const right = tableFromPhoto(solution, photoPx(x + 1, y));
  const down = tableFromPhoto(solution, photoPx(x, y + 1));
  return Math.hypot(right[0] - here[0], right[1] - here[1], down[0] - here[0], down[1] - here[1]);
}

function radiusOf({ camera }: PlaneSolution, [x, y]: PhotoPointPx): number {
  const half = Math.hypot(camera.widthPx, camera.heightPx) / 2;
  return Math.hypot(x - (camera.widthPx - 1) / 2, y - (camera.heightPx - 1) / 2) / half;
}

/** For every rectified pixel its pixel-centre place in the photo's smaller copy (`ratio` = its size over the photo's). */
function photoMaps(
  solution: PlaneSolution,
  originMm: TablePointMm,
  mmPerPixel: number,
  { widthPx, heightPx }: PixelSize,
  ratio: number,
): StripMap {
  const step = SANE.mapGridPx;
  const columns = Math.ceil(widthPx / step) + 1;
  const rows = Math.ceil(heightPx / step) + 1;
  const gridX = new Float64Array(columns * rows);
  const gridY = new Float64Array(columns * rows);
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const table = tableMm(originMm[0] + column * step * mmPerPixel, originMm[1] + row * step * mmPerPixel);
      const seen = photoFromTable(solution, table);
      gridX[row * columns + column] = (seen[0] + 0.5) * ratio - 0.5;
      gridY[row * columns + column] = (seen[1] + 0.5) * ratio - 0.5;
    }
  return (fromRow, stripRows) => {
    const mapX = new Float32Array(widthPx * stripRows);
    const mapY = new Float32Array(widthPx * stripRows);
    for (let row = 0; row < stripRows; row++) {
      const y = fromRow + row;
      const at = Math.floor(y / step) * columns;
      const share = y / step - Math.floor(y / step);
      for (let x = 0; x < widthPx; x += step) {
        const end = Math.min(step, widthPx - x);
        betweenNodes(gridX, at + x / step, columns, share, mapX, row * widthPx + x, end);
        betweenNodes(gridY, at + x / step, columns, share, mapY, row * widthPx + x, end);
      }
    }
    const size = { widthPx, heightPx: stripRows };
    return { mapX: { ...size, data: mapX }, mapY: { ...size, data: mapY } };
  };
}

/** The stretch of a row between two nodes of the grid, `share` of the way down to the next row of nodes. */
function betweenNodes(
  grid: Float64Array,
  node: number,
  columns: number,
  share: number,
  out: Float32Array,
  from: number,
  count: number,
): void {
  const left = grid[node]! * (1 - share) + grid[node + columns]! * share;
  const right = grid[node + 1]! * (1 - share) + grid[node + columns + 1]! * share;
  const slope = (right - left) / SANE.mapGridPx;
  for (let k = 0; k < count; k++) out[from + k] = left + slope * k;
}
