// From the bytes of a file to an upright 8-bit sRGB picture with its grey values. The number of pixels is judged before
// anything is decoded; whatever is wrong is one sentence.
import sharp from 'sharp';
import { ok, type Result, type Warning } from '../../shared/base/result.ts';
import type { Photo } from '../../shared/vision/image.ts';
import { exifOfHeif, openHeif } from './heif.ts';
import { brokenPicture, notAPicture, sizeRefusal, sizeWarnings } from './photoLimits.ts';
import { readMetadata } from './photoMetadata.ts';
import { sniff } from './sniff.ts';

export interface DecodedPhoto {
  readonly photo: Photo;
  readonly warnings: readonly Warning[];
}

export interface ExaminedPhoto {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly warnings: readonly Warning[];
}

// A worker reads one photo after the other and each once: the library's own cache and threads would only take memory and
// the processor from the other worker.
sharp.cache(false);
sharp.concurrency(1);

/** EXIF orientations above this lie on their side (EXIF 2.3, tag 0x0112: 5-8 swap rows and columns). */
const LAST_UPRIGHT_ORIENTATION = 4;

/** Looks at the header only: is it a picture, how large, upright. */
export async function examinePhoto(name: string, bytes: Uint8Array): Promise<Result<ExaminedPhoto>> {
  const opened = await open(name, bytes);
  if (!opened.ok) return opened;
  opened.value.free();
  const { widthPx, heightPx } = opened.value;
  return ok({ widthPx, heightPx, warnings: sizeWarnings(name, widthPx, heightPx) });
}

/** The whole picture. */
export async function decodePhoto(name: string, bytes: Uint8Array): Promise<Result<DecodedPhoto>> {
  const opened = await open(name, bytes);
  if (!opened.ok) return opened;
  const { widthPx, heightPx } = opened.value;
  const rgb = await opened.value.decodeRgb();
  if (rgb === null) return brokenPicture(name);
  const photo: Photo = {
    name,
    rgb: { widthPx, heightPx, data: rgb },
    gray: { widthPx, heightPx, data: lumaOf(rgb) },
    metadata: await readMetadata(opened.value.exif ?? bytes, widthPx, heightPx),
  };
  return ok({ photo, warnings: sizeWarnings(name, widthPx, heightPx) });
}

/** A JPEG of the upright photo, no side longer than `maxSidePx`. */
export async function previewPhoto(
  name: string,
  bytes: Uint8Array,
  maxSidePx: number,
): Promise<Result<{ readonly bytes: Uint8Array; readonly widthPx: number; readonly heightPx: number }>> {
  const opened = await open(name, bytes);
  if (!opened.ok) return opened;
  const { widthPx, heightPx } = opened.value;
  const rgb = await opened.value.decodeRgb();
  if (rgb === null) return brokenPicture(name);
  const { data, info } = await sharp(rgb, { raw: { width: widthPx, height: heightPx, channels: 3 } })
    .resize({ width: maxSidePx, height: maxSidePx, fit: 'inside', withoutEnlargement: true })
    .jpeg({ quality: 85 })
    .toBuffer({ resolveWithObject: true });
  return ok({ bytes: new Uint8Array(data), widthPx: info.width, heightPx: info.height });
}

/** A picture whose header has been read and found workable. */
interface OpenedPicture {
  readonly widthPx: number;
  readonly heightPx: number;
  /** A bare EXIF block, where the container's own place for it is not known to the tag reader. */
  readonly exif: Uint8Array | null;
  /** Null when the picture is damaged. Called at most once. */
  readonly decodeRgb: () => Promise<Uint8Array | null>;
  /** For who does not decode. */
  readonly free: () => void;
}

async function open(name: string, bytes: Uint8Array): Promise<Result<OpenedPicture>> {
  const kind = sniff(bytes);
  switch (kind) {
    case 'heif':
      return openHeifPicture(name, bytes);
    case 'jpeg':
    case 'png':
    case 'webp':
    case 'tiff':
    case 'avif':
      return openWithSharp(name, bytes);
    default:
      return notAPicture(name, kind);
  }
}

function openHeifPicture(name: string, bytes: Uint8Array): Result<OpenedPicture> {
  const heif = openHeif(bytes);
  if (heif === null) return brokenPicture(name);
  const refusal = sizeRefusal(name, heif.widthPx, heif.heightPx);
  if (refusal !== null) {
    heif.free();
    return refusal;
  }
  return ok({
    widthPx: heif.widthPx,
    heightPx: heif.heightPx,
    exif: exifOfHeif(bytes),
    decodeRgb: async () => {
      const rgba = await heif.decode();
      return rgba === null ? null : rgbOf(rgba);
    },
    free: heif.free,
  });
}

async function openWithSharp(name: string, bytes: Uint8Array): Promise<Result<OpenedPicture>> {
  // The pixel count is judged right below, with a sentence; the library's own limit would only throw.
  const input = () => sharp(bytes, { limitInputPixels: false, failOn: 'error' });
  let header: Awaited<ReturnType<ReturnType<typeof sharp>['metadata']>>;
  try {
    header = await input().metadata();
  } catch {
    return brokenPicture(name); // whatever the library says of a damaged header, the person can do the same about it
  }
  const onItsSide = (header.orientation ?? 1) > LAST_UPRIGHT_ORIENTATION;
  const widthPx = onItsSide ? header.height : header.width;
  const heightPx = onItsSide ? header.width : header.height;
  const refusal = sizeRefusal(name, widthPx, heightPx);
  if (refusal !== null) return refusal;
  return ok({
    widthPx,
    heightPx,
    exif: header.exif === undefined ? null : bareExif(header.exif),
    decodeRgb: async () => {
      try {
        const rgb = await input()
          .rotate()
          .flatten({ background: 'white' })
          .toColourspace('srgb')
          .raw({ depth: 'uchar' })
          .toBuffer({ resolveWithObject: true });
        // A copy, because the library's own memory is freed late and cannot be released. Its toUint8Array would spare the
        // copy, but 0.35.5 never gives back what that decoded into: 36 MB for each photo of 12 MP.
        return rgb.info.channels === 3 ? new Uint8Array(rgb.data) : null;
      } catch {
        return null; // damaged pixels, whatever the library says of them
      }
    },
    free: () => {},
  });
}

/** EXIF blocks in JPEG and WebP start with "Exif" and two zeros; the tag reader wants the TIFF header behind them. */
function bareExif(block: Uint8Array): Uint8Array {
  const prefixed = String.fromCharCode(...block.subarray(0, 6)) === 'Exif\0\0';
  return new Uint8Array(prefixed ? block.subarray(6) : block);
}

function rgbOf(rgba: Uint8ClampedArray): Uint8Array {
  const pixels = rgba.length / 4;
  const rgb = new Uint8Array(3 * pixels);
  for (let i = 0; i < pixels; i++) {
    rgb[3 * i] = rgba[4 * i]!;
    rgb[3 * i + 1] = rgba[4 * i + 1]!;
    rgb[3 * i + 2] = rgba[4 * i + 2]!;
  }
  return rgb;
}

/** Luma by Rec. 601 (0.299, 0.587, 0.114) in 16-bit fixed point. */
function lumaOf(rgb: Uint8Array): Uint8Array {
  const gray = new Uint8Array(rgb.length / 3);
  // In stretches: a function called often is compiled at its second call, one long loop only while it runs.
  for (let from = 0; from < gray.length; from += LUMA_STRETCH_PX) lumaInto(gray, rgb, from, from + LUMA_STRETCH_PX);
  return gray;
}

const LUMA_STRETCH_PX = 8192;

function lumaInto(gray: Uint8Array, rgb: Uint8Array, from: number, to: number): void {
  const end = Math.min(to, gray.length);
  for (let i = from, j = 3 * from; i < end; i++, j += 3) {
    gray[i] = (19595 * rgb[j]! + 38470 * rgb[j + 1]! + 7471 * rgb[j + 2]! + 32768) >> 16;
  }
}
