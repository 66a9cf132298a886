// HEIC and HEIF, which phones write by default, through the wasm build of libheif. It turns the picture upright itself.
import { createRequire } from 'node:module';

/** The little of the library that is used; it ships no types for this entry. */
interface HeifImage {
  readonly get_width: () => number;
  readonly get_height: () => number;
  readonly is_primary: () => boolean | number;
  readonly display: (target: HeifPixels, done: (pixels: HeifPixels | null) => void) => void;
  readonly free: () => void;
}

interface HeifPixels {
  readonly data: Uint8ClampedArray;
  readonly width: number;
  readonly height: number;
}

interface HeifLibrary {
  readonly HeifDecoder: new () => { readonly decode: (bytes: Uint8Array) => readonly HeifImage[] };
}

export interface OpenHeif {
  readonly widthPx: number;
  readonly heightPx: number;
  /** R G B A, upright; null when the picture is damaged. Frees the picture. */
  readonly decode: () => Promise<Uint8ClampedArray | null>;
  readonly free: () => void;
}

let library: HeifLibrary | undefined;

/** Opens the container without decoding; null when there is no picture in it. */
export function openHeif(bytes: Uint8Array): OpenHeif | null {
  library ??= createRequire(import.meta.url)('libheif-js/wasm-bundle') as HeifLibrary;
  const images = new library.HeifDecoder().decode(bytes);
  const image = images.find((one) => Boolean(one.is_primary())) ?? images[0];
  for (const other of images) if (other !== image) other.free();
  if (image === undefined) return null;
  const width = image.get_width();
  const height = image.get_height();
  return {
    widthPx: width,
    heightPx: height,
    decode: () =>
      new Promise((resolve) => {
        image.display({ data: new Uint8ClampedArray(4 * width * height), width, height }, (pixels) => {
          image.free();
          resolve(pixels === null ? null : pixels.data);
        });
      }),
    free: () => image.free(),
  };
}

/** TIFF headers whose first directory follows at once, as every camera writes them: little and big endian. */
const TIFF_STARTS = [
  [0x49, 0x49, 0x2a, 0, 8, 0, 0, 0],
  [0x4d, 0x4d, 0, 0x2a, 0, 0, 0, 8],
];

/**
 * The EXIF block inside a HEIF file, from its TIFF header on; null when there is none. Found by its eight-byte start rather
 * than by the container's item table, whose variants the tag reader does not all know.
 */
export function exifOfHeif(bytes: Uint8Array): Uint8Array | null {
  for (let at = 0; at + 8 <= bytes.length; at++) {
    if (bytes[at] !== 0x49 && bytes[at] !== 0x4d) continue;
    if (TIFF_STARTS.some((start) => start.every((byte, i) => bytes[at + i] === byte))) return bytes.subarray(at);
  }
  return null;
}
