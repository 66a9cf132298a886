// Pictures as plain typed arrays: what the stages hand to one another. No library type leaves its wrapper.
import type { Point } from '../base/points.ts';

/** Grey picture, uint8, row-major, widthPx x heightPx. */
export interface GrayImage {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly data: Uint8Array;
}

/** Colour picture, uint8, interleaved R G B, row-major, 3 x widthPx x heightPx. sRGB. */
export interface RgbImage {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly data: Uint8Array;
}

/** What the camera wrote about itself; every field may be missing. */
export interface PhotoMetadata {
  /** Focal length as 35 mm equivalent (43.27 mm diagonal), when EXIF states it or it can be derived. */
  readonly focal35Mm?: number;
  readonly make?: string;
  readonly model?: string;
  readonly lens?: string;
  readonly digitalZoomRatio?: number;
}

/** One decoded photo, turned upright. `gray` is the luma of `rgb`. */
export interface Photo {
  readonly name: string;
  readonly gray: GrayImage;
  readonly rgb: RgbImage;
  readonly metadata: PhotoMetadata;
}

/** Bilinear grey value at a point in pixel-centre coordinates; clamped at the rim. */
export function grayAt(image: GrayImage, point: Point): number {
  return bilinear(image, 1, 0, point);
}

/** Red, green and blue, 0 to 255. */
export type Rgb = readonly [number, number, number];

/** Bilinear colour at a point in pixel-centre coordinates; clamped at the rim. */
export function rgbAt(image: RgbImage, point: Point): Rgb {
  return [bilinear(image, 3, 0, point), bilinear(image, 3, 1, point), bilinear(image, 3, 2, point)];
}

/** One of `channels` interleaved channels. */
function bilinear(image: GrayImage | RgbImage, channels: number, channel: number, point: Point): number {
  const x = Math.min(Math.max(point[0], 0), image.widthPx - 1);
  const y = Math.min(Math.max(point[1], 0), image.heightPx - 1);
  const x0 = Math.min(Math.floor(x), image.widthPx - 2);
  const y0 = Math.min(Math.floor(y), image.heightPx - 2);
  const fx = x - x0;
  const fy = y - y0;
  const at = channels * (y0 * image.widthPx + x0) + channel;
  const below = at + channels * image.widthPx;
  const d = image.data;
  const top = d[at]! * (1 - fx) + d[at + channels]! * fx;
  const bottom = d[below]! * (1 - fx) + d[below + channels]! * fx;
  return top * (1 - fy) + bottom * fy;
}

/** One float channel, row-major: gradients, distances, coordinate maps. */
export interface FloatImage {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly data: Float32Array;
}
