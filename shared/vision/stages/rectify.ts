// Stage: the photo as it would look from straight above without a lens, at a chosen size of a table millimetre. Good for
// finding things and for showing them; nothing is measured in it: lengths come from the photo through the plane solution.
import { type PhotoPointPx, photoPx, type TablePointMm, tableMm } from '../../base/points.ts';
import { fail, ok, type Result } from '../../base/result.ts';
import type { FloatImage, Photo, RgbImage } from '../image.ts';
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
  const source = shrunk(photo.rgb, Math.floor(mmPerPx / solution.mmPerPixel), ctx);
  const maps = photoMaps(solution, originMm, mmPerPx, widthPx, heightPx);
  intoShrunk(maps.mapX, source.widthPx / photo.rgb.widthPx);
  intoShrunk(maps.mapY, source.heightPx / photo.rgb.heightPx);
  const rgb = ctx.cv.remapRgb(source, maps.mapX, maps.mapY, SANE.outside);
  return ok({ rgb, mmPerPx, originMm, seen: seenIn(maps.mapX, maps.mapY, source) });
}

function shrunk(rgb: RgbImage, factor: number, { cv }: Pick<StageContext, 'cv'>): RgbImage {
  if (factor <= 1) return rgb;
  return cv.resizeAreaRgb(rgb, {
    widthPx: Math.round(rgb.widthPx / factor),
    heightPx: Math.round(rgb.heightPx / factor),
  });
}

/** Pixel-centre coordinates of the photo to those of its smaller copy, in place. */
function intoShrunk(map: FloatImage, ratio: number): void {
  for (let i = 0; i < map.data.length; i++) map.data[i] = (map.data[i]! + 0.5) * ratio - 0.5;
}

/** 1 where the picture shows the photo, 0 beyond its rim. */
function seenIn(mapX: FloatImage, mapY: FloatImage, source: RgbImage): Uint8Array {
  const seen = new Uint8Array(mapX.data.length);
  for (let i = 0; i < seen.length; i++) {
    const x = mapX.data[i]!;
    const y = mapY.data[i]!;
    if (x >= 0 && y >= 0 && x <= source.widthPx - 1 && y <= source.heightPx - 1) seen[i] = 1;
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

function photoMaps(
  solution: PlaneSolution,
  originMm: TablePointMm,
  mmPerPixel: number,
  widthPx: number,
  heightPx: number,
): { mapX: FloatImage; mapY: FloatImage } {
  const step = SANE.mapGridPx;
  const columns = Math.ceil(widthPx / step) + 1;
  const rows = Math.ceil(heightPx / step) + 1;
  const gridX = new Float64Array(columns * rows);
  const gridY = new Float64Array(columns * rows);
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const table = tableMm(originMm[0] + column * step * mmPerPixel, originMm[1] + row * step * mmPerPixel);
      const seen = photoFromTable(solution, table);
      gridX[row * columns + column] = seen[0];
      gridY[row * columns + column] = seen[1];
    }
  const mapX = new Float32Array(widthPx * heightPx);
  const mapY = new Float32Array(widthPx * heightPx);
  for (let y = 0; y < heightPx; y++) {
    const row = Math.floor(y / step);
    const fy = y / step - row;
    for (let x = 0; x < widthPx; x++) {
      const column = Math.floor(x / step);
      const fx = x / step - column;
      const at = row * columns + column;
      const w00 = (1 - fx) * (1 - fy);
      const w10 = fx * (1 - fy);
      const w01 = (1 - fx) * fy;
      const w11 = fx * fy;
      const to = y * widthPx + x;
      mapX[to] = w00 * gridX[at]! + w10 * gridX[at + 1]! + w01 * gridX[at + columns]! + w11 * gridX[at + columns + 1]!;
      mapY[to] = w00 * gridY[at]! + w10 * gridY[at + 1]! + w01 * gridY[at + columns]! + w11 * gridY[at + columns + 1]!;
    }
  }
  return { mapX: { widthPx, heightPx, data: mapX }, mapY: { widthPx, heightPx, data: mapY } };
}
