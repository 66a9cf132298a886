// What kind of file the first bytes announce; names and endings are not believed.

type PictureKind = 'jpeg' | 'png' | 'webp' | 'tiff' | 'heif' | 'avif';
export type FileKind = PictureKind | 'pdf' | 'svg' | 'zip' | 'unknown';

const HEIF_BRANDS = new Set(['heic', 'heix', 'heim', 'heis', 'hevc', 'hevx', 'hevm', 'hevs', 'mif1', 'msf1']);
const AVIF_BRANDS = new Set(['avif', 'avis']);
const SVG_SEARCHED_BYTES = 1024;

/** Magic numbers of the open standards (JPEG T.81, PNG, RIFF/WebP, TIFF 6, ISO/IEC 14496-12 for HEIF). */
export function sniff(bytes: Uint8Array): FileKind {
  const text = (from: number, to: number) => String.fromCharCode(...bytes.subarray(from, to));
  if (bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff) return 'jpeg';
  if (text(0, 8) === '\x89PNG\r\n\x1a\n') return 'png';
  if (text(0, 4) === 'RIFF' && text(8, 12) === 'WEBP') return 'webp';
  if (text(0, 4) === 'II*\0' || text(0, 4) === 'MM\0*') return 'tiff';
  if (text(4, 8) === 'ftyp') {
    const brands = text(8, 64).match(/.{4}/gs) ?? [];
    if (brands.some((brand) => AVIF_BRANDS.has(brand))) return 'avif';
    if (brands.some((brand) => HEIF_BRANDS.has(brand))) return 'heif';
  }
  if (text(0, 5) === '%PDF-') return 'pdf';
  if (text(0, 2) === 'PK') return 'zip';
  return /<svg[\s>]/.test(text(0, SVG_SEARCHED_BYTES)) ? 'svg' : 'unknown';
}
