// The drawn card, rasterised by an independent renderer (librsvg, through the package sharp), read by an independent
// decoder (package js-aruco2 2.0.0), and measured by our own finder against the numbers of the layout.
import { createRequire } from 'node:module';
import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import { cardMmFromUpright, saddleUprightMm } from '../../shared/vision/cards/cardLayout.ts';
import { cardPageSvg, cardSvg } from '../../shared/vision/cards/cardSvg.ts';
import type { GrayImage } from '../../shared/vision/image.ts';
import { findCards } from '../../shared/vision/stages/findCards.ts';
import { testStageContext } from '../support/openCv.ts';

interface ArucoMarker {
  readonly id: number;
  readonly hammingDistance: number;
}

interface Aruco {
  readonly Detector: new (config: {
    dictionaryName: string;
    maxHammingDistance: number;
  }) => { detectImage(widthPx: number, heightPx: number, rgba: Uint8Array): ArucoMarker[] };
}

const { AR } = createRequire(import.meta.url)('js-aruco2') as { AR: Aruco };

const PX_PER_MM = 5;

async function rasterised(svg: string): Promise<{ rgba: Uint8Array; gray: GrayImage }> {
  // The package counts millimetres twice when a density is asked for, so the size is stated in pixels instead.
  const sized = svg.replace(/(width|height)="([\d.]+)mm"/g, (_, side, mm) => `${side}="${Number(mm) * PX_PER_MM}"`);
  const { data, info } = await sharp(Buffer.from(sized))
    .flatten({ background: '#ffffff' })
    .extend({ top: 40, bottom: 40, left: 40, right: 40, background: '#ffffff' })
    .ensureAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  const gray = new Uint8Array(info.width * info.height);
  for (let i = 0; i < gray.length; i++) gray[i] = data[4 * i + 1]!;
  return { rgba: new Uint8Array(data), gray: { widthPx: info.width, heightPx: info.height, data: gray } };
}

describe('a drawn card', () => {
  test.each([0, 7, 18, 33, 47])('N%d shows an independent decoder its own number, without a wrong bit', async (id) => {
    const { rgba, gray } = await rasterised(cardSvg(id));
    const detector = new AR.Detector({ dictionaryName: 'ARUCO_MIP_36h12', maxHammingDistance: 5 });
    const markers = detector.detectImage(gray.widthPx, gray.heightPx, rgba);
    expect(markers.map((marker) => [marker.id, marker.hammingDistance])).toEqual([[id, 0]]);
  });

  test('is found with every saddle where the layout puts it, on the upright and on the turned card', async () => {
    for (const id of [5, 7]) {
      const { gray } = await rasterised(cardSvg(id));
      const rgb = { widthPx: gray.widthPx, heightPx: gray.heightPx, data: new Uint8Array(0) };
      const { cards } = findCards({ name: 'card', gray, rgb, metadata: {} }, { search: 'quick' }, testStageContext());
      expect(cards).toHaveLength(1);
      expect(cards[0]!.corners).toHaveLength(36);
      for (let row = 0; row < 6; row++) {
        for (let column = 0; column < 6; column++) {
          const upright = saddleUprightMm(column, row);
          const mm = cardMmFromUpright(id, upright);
          const corner = cards[0]!.corners.find(({ cardMm }) => cardMm[0] === mm[0] && cardMm[1] === mm[1])!;
          // Millimetre x covers pixel x * 5 + 40 from its left edge; pixel centres are at integers.
          expect(Math.abs(corner.photo[0] - (upright[0] * PX_PER_MM + 39.5))).toBeLessThan(0.05);
          expect(Math.abs(corner.photo[1] - (upright[1] * PX_PER_MM + 39.5))).toBeLessThan(0.05);
        }
      }
    }
  });

  test('lies on its page where its place says, so that an uncut page is one long measure', async () => {
    const { gray } = await rasterised(cardPageSvg('a4', 3));
    const rgb = { widthPx: gray.widthPx, heightPx: gray.heightPx, data: new Uint8Array(0) };
    const { cards, warnings } = findCards(
      { name: 'page', gray, rgb, metadata: {} },
      { search: 'quick' },
      testStageContext(),
    );
    expect(cards.map(({ id }) => id)).toEqual(['N08', 'N09', 'N10', 'N11']);
    expect(warnings).toEqual([]);
    const first = cards[0]!.corners[0]!;
    for (const { onPageMm, corners } of cards) {
      for (const { cardMm, photo } of corners) {
        const dx = (onPageMm[0] + cardMm[0] - first.cardMm[0]) * PX_PER_MM;
        const dy = (onPageMm[1] + cardMm[1] - first.cardMm[1]) * PX_PER_MM;
        expect(Math.hypot(photo[0] - first.photo[0] - dx, photo[1] - first.photo[1] - dy)).toBeLessThan(0.12);
      }
    }
  });
});
