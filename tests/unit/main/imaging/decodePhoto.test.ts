import { readFileSync } from 'node:fs';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { decodePhoto, examinePhoto, previewPhoto } from '../../../../main/imaging/decodePhoto.ts';

const WIDTH = 48;
const HEIGHT = 32;
const RED = [220, 30, 30];
const GREEN = [30, 200, 40];
const BLUE = [40, 50, 220];
const WHITE = [240, 240, 240];

/** Red and green above, blue and white below. */
const quadrants = Buffer.alloc(3 * WIDTH * HEIGHT);
for (let y = 0; y < HEIGHT; y++) {
  for (let x = 0; x < WIDTH; x++) {
    const colour = y < HEIGHT / 2 ? (x < WIDTH / 2 ? RED : GREEN) : x < WIDTH / 2 ? BLUE : WHITE;
    quadrants.set(colour, 3 * (y * WIDTH + x));
  }
}
const picture = () => sharp(quadrants, { raw: { width: WIDTH, height: HEIGHT, channels: 3 } });

interface Seen {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Colours at the four corners: top left, top right, bottom left, bottom right. */
  readonly corners: readonly number[][];
}

async function seen(bytes: Uint8Array): Promise<Seen> {
  const decoded = await decodePhoto('photo', bytes);
  if (!decoded.ok) throw new Error(decoded.error.sentence);
  const { widthPx, heightPx, data } = decoded.value.photo.rgb;
  const at = (x: number, y: number) => [...data.subarray(3 * (y * widthPx + x), 3 * (y * widthPx + x) + 3)];
  const [right, bottom] = [widthPx - 4, heightPx - 4];
  return { widthPx, heightPx, corners: [at(3, 3), at(right, 3), at(3, bottom), at(right, bottom)] };
}

/** Within what lossy compression of flat colour does. */
function expectColours(found: readonly number[][], wanted: readonly number[][]): void {
  found.flat().forEach((value, i) => {
    expect(Math.abs(value - wanted.flat()[i]!)).toBeLessThanOrEqual(12);
  });
}

describe('a photo is decoded upright in its own colours', () => {
  const upright = [RED, GREEN, BLUE, WHITE];
  for (const [kind, encode] of [
    ['JPEG', () => picture().jpeg({ quality: 95, chromaSubsampling: '4:4:4' }).toBuffer()],
    ['PNG', () => picture().png().toBuffer()],
    ['PNG of 16 bits', () => picture().toColourspace('rgb16').png().toBuffer()],
    ['PNG with transparency', () => picture().ensureAlpha(1).png().toBuffer()],
    ['WebP', () => picture().webp({ lossless: true }).toBuffer()],
    ['TIFF', () => picture().tiff({ compression: 'lzw' }).toBuffer()],
    ['JPEG in CMYK', () => picture().toColourspace('cmyk').jpeg({ quality: 95 }).toBuffer()],
    ['AVIF', () => picture().avif({ lossless: true }).toBuffer()],
  ] as const) {
    it(kind, async () => {
      const { widthPx, heightPx, corners } = await seen(await encode());
      expect([widthPx, heightPx]).toEqual([WIDTH, HEIGHT]);
      if (kind !== 'JPEG in CMYK') expectColours(corners, upright); // print colours have no exact way back
    });
  }

  it('HEIC, as phones write it by default', async () => {
    // Made with heif-enc 1.15 (libheif, x265) from the same quadrants at 96 x 64, quality 90.
    const { widthPx, heightPx, corners } = await seen(readFileSync('tests/fixtures/photos/quadrants.heic'));
    expect([widthPx, heightPx]).toEqual([96, 64]);
    expectColours(corners, upright);
  });

  it('grey pictures become colour pictures of equal channels', async () => {
    const { corners } = await seen(await picture().greyscale().png().toBuffer());
    for (const [r, g, b] of corners) expect([g, b]).toEqual([r, r]);
  });

  // EXIF 2.3, tag 0x0112: which corner of the picture the first stored pixel is.
  const orientations: readonly [number, readonly number[][]][] = [
    [2, [GREEN, RED, WHITE, BLUE]],
    [3, [WHITE, BLUE, GREEN, RED]],
    [4, [BLUE, WHITE, RED, GREEN]],
    [5, [RED, BLUE, GREEN, WHITE]],
    [6, [BLUE, RED, WHITE, GREEN]],
    [7, [WHITE, GREEN, BLUE, RED]],
    [8, [GREEN, WHITE, RED, BLUE]],
  ];
  for (const [orientation, wanted] of orientations) {
    it(`turned by EXIF orientation ${orientation}`, async () => {
      const bytes = await picture()
        .withMetadata({ orientation })
        .jpeg({ quality: 95, chromaSubsampling: '4:4:4' })
        .toBuffer();
      const { widthPx, heightPx, corners } = await seen(bytes);
      expect([widthPx, heightPx]).toEqual(orientation > 4 ? [HEIGHT, WIDTH] : [WIDTH, HEIGHT]);
      expectColours(corners, wanted);
      const examined = await examinePhoto('photo', bytes);
      expect(examined.ok && [examined.value.widthPx, examined.value.heightPx]).toEqual([widthPx, heightPx]);
    });
  }

  it('with grey values that are the luma of its colours (Rec. 601)', async () => {
    const decoded = await decodePhoto('photo', await picture().png().toBuffer());
    if (!decoded.ok) throw new Error(decoded.error.sentence);
    const luma = ([r, g, b]: readonly number[]) => Math.round(0.299 * r! + 0.587 * g! + 0.114 * b!);
    expect(decoded.value.photo.gray.data[0]).toBe(luma(RED));
    expect(decoded.value.photo.gray.data[WIDTH - 1]).toBe(luma(GREEN));
  });
});

describe('the camera’s own words', () => {
  const withExif = () =>
    picture().withExif({ IFD0: { Make: 'Kestrel Optical' }, IFD2: { FocalLengthIn35mmFilm: '26' } });
  for (const [kind, encode] of [
    ['JPEG', () => withExif().jpeg().toBuffer()],
    ['PNG', () => withExif().png().toBuffer()],
    ['WebP', () => withExif().webp().toBuffer()],
    ['HEIC', async () => readFileSync('tests/fixtures/photos/quadrants.heic')],
  ] as const) {
    it(`are read from ${kind}`, async () => {
      const decoded = await decodePhoto('photo', await encode());
      expect(decoded.ok && decoded.value.photo.metadata).toMatchObject({ focal35Mm: 26, make: 'Kestrel Optical' });
    });
  }
});

describe('what is not a photo is refused in one sentence', () => {
  const refusal = async (bytes: Uint8Array) => {
    const decoded = await decodePhoto('thing.jpg', bytes);
    if (decoded.ok) throw new Error('it was accepted');
    expect(decoded.error.sentence).not.toContain('\n');
    return `${decoded.error.code}: ${decoded.error.sentence}`;
  };

  it('text, nothing, a PDF, a drawing', async () => {
    expect(await refusal(Buffer.from('dear diary'))).toBe(
      'not-a-picture: thing.jpg is not a picture; photos are JPEG, PNG, WebP, TIFF or HEIC files.',
    );
    expect(await refusal(new Uint8Array())).toContain('is not a picture');
    expect(await refusal(Buffer.from('%PDF-1.7 …'))).toContain('is a PDF, not a photo; drawings are taken in as SVG');
    expect(await refusal(Buffer.from('<?xml version="1.0"?><svg xmlns="…"/>'))).toContain('is a drawing (SVG)');
  });

  it('a picture cut short, of every kind', async () => {
    const noise = Buffer.from(Array.from({ length: 3 * 64 * 64 }, (_, i) => (i * 7919) % 251));
    const large = () => sharp(noise, { raw: { width: 64, height: 64, channels: 3 } });
    for (const bytes of [
      await large().jpeg().toBuffer(),
      await large().png().toBuffer(),
      await large().webp().toBuffer(),
      await large().tiff().toBuffer(),
      readFileSync('tests/fixtures/photos/quadrants.heic'),
    ]) {
      expect(await refusal(bytes.subarray(0, Math.floor(bytes.length * 0.6)))).toContain('is cut short or damaged');
    }
  });

  it('a picture of 200 megapixels, before any of it is decoded', async () => {
    const png = await sharp({ create: { width: 8, height: 8, channels: 3, background: 'white' } })
      .png()
      .toBuffer();
    // PNG, 11.2.1: IHDR data starts at byte 16 with width and height; its CRC is at 29.
    png.writeUInt32BE(20_000, 16);
    png.writeUInt32BE(10_000, 20);
    png.writeUInt32BE(crc32(png.subarray(12, 29)), 29);
    expect(await refusal(png)).toBe(
      'picture-too-large: thing.jpg has 200 megapixels; at most 120 can be worked with. Save it smaller, whole and undistorted.',
    );
  });
});

describe('a small picture', () => {
  it('is taken in with a warning', async () => {
    const decoded = await decodePhoto('tiny.png', await picture().png().toBuffer());
    expect(decoded.ok && decoded.value.warnings).toEqual([
      { code: 'photo-small', message: expect.stringContaining('tiny.png has only 48 x 32 pixels') },
    ]);
  });
  it('can be shown smaller, never larger', async () => {
    const bytes = await picture().png().toBuffer();
    const smaller = await previewPhoto('photo', bytes, 24);
    expect(smaller.ok && [smaller.value.widthPx, smaller.value.heightPx]).toEqual([24, 16]);
    const larger = await previewPhoto('photo', bytes, 4000);
    expect(larger.ok && [larger.value.widthPx, larger.value.heightPx]).toEqual([WIDTH, HEIGHT]);
  });
});

/** PNG, annex D. */
function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return (crc ^ 0xffffffff) >>> 0;
}
