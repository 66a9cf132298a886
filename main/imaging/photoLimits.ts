// What a photo must be to be taken in, and the sentences for what is not.
import { fail, type Result, type Warning } from '../../shared/base/result.ts';
import type { FileKind } from './sniff.ts';

const MEGAPIXEL = 1_000_000;
/** Above this the pictures of all stages would not fit the memory of an ordinary machine. */
const MAX_PIXELS = 120 * MEGAPIXEL;
/** Below this a pixel is over 1 mm on a table of one metre: marks cannot be read. */
const SMALL_PIXELS = 0.3 * MEGAPIXEL;

const NOT_PICTURES: Readonly<Partial<Record<FileKind, string>>> = {
  pdf: 'is a PDF, not a photo; drawings are taken in as SVG',
  svg: 'is a drawing (SVG), not a photo; use import for drawings',
  zip: 'is a zip or set file, not a photo; open it as a set',
};

export function notAPicture(name: string, kind: FileKind): Result<never> {
  const what = NOT_PICTURES[kind] ?? 'is not a picture';
  return fail('not-a-picture', `${name} ${what}; photos are JPEG, PNG, WebP, TIFF or HEIC files.`);
}

export function brokenPicture(name: string): Result<never> {
  return fail('broken-picture', `${name} is cut short or damaged; copy it from the camera again.`);
}

/** Null when the size can be worked with. */
export function sizeRefusal(name: string, widthPx: number, heightPx: number): Result<never> | null {
  const pixels = widthPx * heightPx;
  if (pixels <= MAX_PIXELS) return null;
  const megapixels = Math.round(pixels / MEGAPIXEL);
  return fail(
    'picture-too-large',
    `${name} has ${megapixels} megapixels; at most ${MAX_PIXELS / MEGAPIXEL} can be worked with. Save it smaller, whole and undistorted.`,
  );
}

export function sizeWarnings(name: string, widthPx: number, heightPx: number): readonly Warning[] {
  if (widthPx * heightPx >= SMALL_PIXELS) return [];
  return [
    {
      code: 'photo-small',
      message: `${name} has only ${widthPx} x ${heightPx} pixels, too few to measure well; use the camera's full size.`,
    },
  ];
}
