// Operations that move pixels: reduce, warp by a homography, warp by a map. Pixel centres are at integers throughout.
import type { FloatImage, GrayImage, RgbImage } from '../image.ts';
import type { CvMat } from './cvLibrary.ts';
import { grayFrom, type MatOwner, rgbFrom, type WithMats } from './matOwner.ts';

export interface PixelSize {
  readonly widthPx: number;
  readonly heightPx: number;
}

export interface Warps {
  /** Reduces by averaging areas. A point (x, y) of the result is ((x + 0.5) * s - 0.5) in the source, s = old / new. */
  resizeArea(image: GrayImage, size: PixelSize): GrayImage;
  /** Samples the source at `sourceFromTarget` (3x3, row-major, pixel-centre coordinates) of every target pixel, bilinear; `outside` beyond the rim. */
  warpPerspective(image: GrayImage, sourceFromTarget: readonly number[], size: PixelSize, outside: number): GrayImage;
  warpPerspectiveRgb(image: RgbImage, sourceFromTarget: readonly number[], size: PixelSize, outside: number): RgbImage;
  /** Samples the source at (mapX, mapY), pixel-centre coordinates, bilinear; `outside` beyond the rim. */
  remap(image: GrayImage, mapX: FloatImage, mapY: FloatImage, outside: number): GrayImage;
  /**
   * The same for a picture of `size`, whose map is asked for strip by strip: a whole one is three times as large as the picture.
   */
  remapRgb(image: RgbImage, size: PixelSize, mapOf: StripMap, outside: number): RgbImage;
}

/** The map of `rows` rows from row `fromRow` on, as wide as the picture. */
export type StripMap = (fromRow: number, rows: number) => { readonly mapX: FloatImage; readonly mapY: FloatImage };

/** Rows of a picture that are mapped at once. */
const STRIP_ROWS = 256;

export function makeWarps(withMats: WithMats): Warps {
  return {
    resizeArea: (image, size) => withMats((own) => grayFrom(resized(own, own.gray(image), size))),
    warpPerspective: (image, matrix, size, outside) =>
      withMats((own) => grayFrom(warped(own, own.gray(image), matrix, size, outside))),
    warpPerspectiveRgb: (image, matrix, size, outside) =>
      withMats((own) => rgbFrom(warped(own, own.rgb(image), matrix, size, outside))),
    remap: (image, mapX, mapY, outside) =>
      withMats((own) => grayFrom(remapped(own, own.gray(image), mapX, mapY, outside))),
    remapRgb: (image, { widthPx, heightPx }, mapOf, outside) => {
      const data = new Uint8Array(3 * widthPx * heightPx);
      for (let row = 0; row < heightPx; row += STRIP_ROWS) {
        const { mapX, mapY } = mapOf(row, Math.min(STRIP_ROWS, heightPx - row));
        const { part, fromRow } = rowsSeen(image, mapY);
        const inPart = { ...mapY, data: mapY.data.map((y) => y - fromRow) };
        withMats((own) => data.set(remapped(own, own.rgb(part), mapX, inPart, outside).data, 3 * row * widthPx));
      }
      return { widthPx, heightPx, data };
    },
  };
}

/** The rows of a picture that a map reaches, one to either side of them too: the library is handed no more than that. */
function rowsSeen(image: RgbImage, { data: ys }: FloatImage): { readonly part: RgbImage; readonly fromRow: number } {
  const { widthPx, heightPx, data } = image;
  let [least, most] = [heightPx - 1, 0];
  for (let i = 0; i < ys.length; i++) {
    const y = ys[i]!;
    if (y < least) least = y;
    if (y > most) most = y;
  }
  const fromRow = Math.min(Math.max(0, Math.floor(least) - 1), heightPx - 1);
  const toRow = Math.max(fromRow + 1, Math.min(heightPx, Math.ceil(most) + 2));
  const part = { widthPx, heightPx: toRow - fromRow, data: data.subarray(3 * fromRow * widthPx, 3 * toRow * widthPx) };
  return { part, fromRow };
}

function resized(own: MatOwner, source: CvMat, size: PixelSize): CvMat {
  const { cv } = own;
  const out = own.empty();
  cv.resize(source, out, new cv.Size(size.widthPx, size.heightPx), 0, 0, cv.INTER_AREA);
  return out;
}

function warped(own: MatOwner, source: CvMat, matrix: readonly number[], size: PixelSize, outside: number): CvMat {
  const { cv } = own;
  const out = own.empty();
  const flags = cv.INTER_LINEAR + cv.WARP_INVERSE_MAP;
  const target = new cv.Size(size.widthPx, size.heightPx);
  const fill = new cv.Scalar(outside, outside, outside, outside);
  cv.warpPerspective(source, out, own.doubles(3, 3, matrix), target, flags, cv.BORDER_CONSTANT, fill);
  return out;
}

function remapped(own: MatOwner, source: CvMat, mapX: FloatImage, mapY: FloatImage, outside: number): CvMat {
  const { cv } = own;
  const out = own.empty();
  const fill = new cv.Scalar(outside, outside, outside, outside);
  cv.remap(source, out, own.float(mapX), own.float(mapY), cv.INTER_LINEAR, cv.BORDER_CONSTANT, fill);
  return out;
}
