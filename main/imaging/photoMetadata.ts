// What the camera wrote about itself: orientation is the decoders' business, here it is the focal length that the plane
// solver starts from.
import exifr from 'exifr';
import { MM_PER } from '../../shared/base/units.ts';
import type { PhotoMetadata } from '../../shared/vision/image.ts';

/** Diagonal of the 36 x 24 mm frame that "35 mm equivalent" speaks of. */
const FRAME_DIAGONAL_MM = Math.hypot(36, 24);

/** EXIF 2.3, tag 0xA210 FocalPlaneResolutionUnit: 2 = inch, 3 = centimetre (4 and 5 by common extension). */
const UNIT_MM: Readonly<Record<number, number>> = { 2: MM_PER.in, 3: MM_PER.cm, 4: MM_PER.mm, 5: 0.001 };

/** A picture whose sides differ in ratio by more than this from what the camera recorded was cropped afterwards. */
const CROPPED_RATIO = 0.01;

const TAGS = [
  'FocalLength',
  'FocalLengthIn35mmFormat',
  'FocalPlaneXResolution',
  'FocalPlaneYResolution',
  'FocalPlaneResolutionUnit',
  'ExifImageWidth',
  'ExifImageHeight',
  'DigitalZoomRatio',
  'Make',
  'Model',
  'LensModel',
];

/**
 * Reads the tags of a whole file (JPEG, TIFF, HEIC, AVIF, PNG) or of a bare EXIF block. Unreadable or absent tags give an
 * empty record: the solver can do without. `widthPx` and `heightPx` are the picture's, in either order.
 */
export async function readMetadata(bytes: Uint8Array, widthPx: number, heightPx: number): Promise<PhotoMetadata> {
  const tags = await readTags(bytes);
  return tags === null ? {} : metadataFromTags(tags, widthPx, heightPx);
}

/** The tags as exifr names them, unrounded and untranslated. Focal lengths of cropped pictures are left out. */
export function metadataFromTags(
  tags: Readonly<Record<string, unknown>>,
  widthPx: number,
  heightPx: number,
): PhotoMetadata {
  const recorded = [positive(tags.ExifImageWidth), positive(tags.ExifImageHeight)] as const;
  const cropped = recorded[0] && recorded[1] && differs(recorded[0] / recorded[1], widthPx / heightPx);
  const focal35Mm = cropped ? undefined : (positive(tags.FocalLengthIn35mmFormat) ?? derivedFocal35(tags));
  const zoom = positive(tags.DigitalZoomRatio);
  const make = text(tags.Make);
  const model = text(tags.Model);
  const lens = text(tags.LensModel);
  return {
    ...(focal35Mm !== undefined && { focal35Mm }),
    ...(make !== undefined && { make }),
    ...(model !== undefined && { model }),
    ...(lens !== undefined && { lens }),
    ...(zoom !== undefined && { digitalZoomRatio: zoom }),
  };
}

/** Focal length over the sensor's diagonal, from the resolution of the focal plane. */
function derivedFocal35(tags: Readonly<Record<string, unknown>>): number | undefined {
  const focalMm = positive(tags.FocalLength);
  const unitMm = UNIT_MM[positive(tags.FocalPlaneResolutionUnit) ?? 2];
  const perUnitX = positive(tags.FocalPlaneXResolution);
  const perUnitY = positive(tags.FocalPlaneYResolution) ?? perUnitX;
  const width = positive(tags.ExifImageWidth);
  const height = positive(tags.ExifImageHeight);
  if (!focalMm || !unitMm || !perUnitX || !perUnitY || !width || !height) return undefined;
  const diagonalMm = Math.hypot((width / perUnitX) * unitMm, (height / perUnitY) * unitMm);
  return (focalMm * FRAME_DIAGONAL_MM) / diagonalMm;
}

async function readTags(bytes: Uint8Array): Promise<Record<string, unknown> | null> {
  try {
    const tags: unknown = await exifr.parse(bytes, { pick: TAGS, translateValues: false, reviveValues: false });
    return typeof tags === 'object' && tags !== null ? (tags as Record<string, unknown>) : null;
  } catch {
    return null; // damaged tags say nothing about the picture; the solver works without them
  }
}

/** Turning swaps the sides, so either ratio will do. */
function differs(recordedRatio: number, ratio: number): boolean {
  const apart = (a: number, b: number) => Math.abs(a / b - 1) > CROPPED_RATIO;
  return apart(recordedRatio, ratio) && apart(1 / recordedRatio, ratio);
}

function positive(value: unknown): number | undefined {
  return typeof value === 'number' && Number.isFinite(value) && value > 0 ? value : undefined;
}

function text(value: unknown): string | undefined {
  const plain = typeof value === 'string' ? value.replaceAll('\0', '').trim() : '';
  return plain === '' ? undefined : plain;
}
