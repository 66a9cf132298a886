import { readFileSync } from 'node:fs';
import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import { decodePhoto } from '../../../main/imaging/decodePhoto.ts';
import { capturePhoto } from '../../../shared/usecases/capture.ts';
import type { Photo } from '../../../shared/vision/image.ts';
import { CHECKED_PRINT } from '../../bench/captureCases.ts';
import { testStageContext } from '../../support/openCv.ts';

const demo = new URL('../../../assets/demo/photos/marl-m/2-sleeve-and-band.jpg', import.meta.url);

async function photoFrom(bytes: Uint8Array): Promise<Photo> {
  const decoded = await decodePhoto('demo.jpg', bytes);
  if (!decoded.ok) throw new Error(decoded.error.sentence);
  return decoded.value.photo;
}

describe('one photo from pixels to pieces', () => {
  test('measures a band of known size and reads its grainline (drafted 304 x 35 with 15 mm allowance all round)', async () => {
    const read = capturePhoto(await photoFrom(readFileSync(demo)), CHECKED_PRINT, testStageContext());
    if (!read.ok) throw new Error(read.error.sentence);
    expect(read.value.captured.pieces).toHaveLength(2);
    const band = read.value.captured.pieces.toSorted((a, b) => a.outline.length - b.outline.length)[0]!;
    const lengths = band.edges.map((edge) => edge.lengthMm).sort((a, b) => a - b);
    for (const [i, trueMm] of [65, 65, 334, 334].entries()) {
      const edge = band.edges.find((e) => e.lengthMm === lengths[i])!;
      expect(Math.abs(edge.lengthMm - trueMm)).toBeLessThan(0.5);
      expect(Math.abs(edge.lengthMm - trueMm)).toBeLessThanOrEqual(3 * edge.sigmaMm);
    }
    expect(band.marks.filter((mark) => mark.kind === 'grainline')).toHaveLength(1);
  });

  test('refuses a mirrored photo and says why', async () => {
    const mirrored = await sharp(readFileSync(demo)).flop().jpeg({ quality: 90 }).toBuffer();
    const read = capturePhoto(await photoFrom(mirrored), CHECKED_PRINT, testStageContext());
    expect(read).toMatchObject({ ok: false, error: { code: 'card-mirrored' } });
  });

  test('refuses a photo whose cards are covered: no scale is guessed', async () => {
    const { widthPx, heightPx } = (await photoFrom(readFileSync(demo))).rgb;
    const cover = {
      create: { width: Math.round(widthPx * 0.24), height: heightPx, channels: 3, background: '#335544' },
    } as const;
    const covered = await sharp(readFileSync(demo))
      .composite([
        { input: cover, left: 0, top: 0 },
        { input: cover, left: widthPx - cover.create.width, top: 0 },
      ])
      .jpeg()
      .toBuffer();
    const read = capturePhoto(await photoFrom(covered), CHECKED_PRINT, testStageContext());
    expect(read).toMatchObject({ ok: false, error: { code: 'no-card' } });
  });
});
