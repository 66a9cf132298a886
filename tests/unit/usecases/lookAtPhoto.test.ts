import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { decodePhoto } from '../../../main/imaging/decodePhoto.ts';
import type { Taped } from '../../../shared/usecases/captured.ts';
import { lookAtPhoto, type PhotoLook } from '../../../shared/usecases/lookAtPhoto.ts';
import type { Photo } from '../../../shared/vision/image.ts';
import { testStageContext } from '../../support/openCv.ts';

const NAME = '3-front-skirt.jpg';

describe('a look at a photo before it is read', () => {
  let photo: Photo;
  let plain: PhotoLook;
  const look = (taped: readonly Taped[]): PhotoLook => {
    const options = { printScale: { x: 1, y: 1 }, phones: [], taped };
    const looked = lookAtPhoto(photo, options, testStageContext());
    if (!looked.ok) throw new Error(looked.error.sentence);
    return looked.value;
  };
  beforeAll(async () => {
    const bytes = new Uint8Array(readFileSync(`assets/demo/photos/marl-m/${NAME}`));
    const decoded = await decodePhoto(NAME, bytes);
    if (!decoded.ok) throw new Error(decoded.error.sentence);
    photo = decoded.value.photo;
    plain = look([]);
  }, 120_000);

  it('finds the cards, each with the place where a tape is laid, inside its cut line', () => {
    expect(plain.cards).toHaveLength(4);
    for (const { outlinePx, tapeEndPx } of plain.cards) {
      const [xs, ys] = [outlinePx.map(([x]) => x), outlinePx.map(([, y]) => y)];
      expect(tapeEndPx[0]).toBeGreaterThan(Math.min(...xs));
      expect(tapeEndPx[0]).toBeLessThan(Math.max(...xs));
      expect(tapeEndPx[1]).toBeGreaterThan(Math.min(...ys));
      expect(tapeEndPx[1]).toBeLessThan(Math.max(...ys));
    }
    expect(plain.taping).toBeNull();
    expect(plain.phone).toBe('unknown');
    expect(plain.quality.map.sigmaRatios).toHaveLength(plain.quality.map.columns * plain.quality.map.rows);
  });

  it('says what a tape between two points of the photo makes of the scale, and that it is surer', () => {
    const [from, to] = [plain.cards[0]!.tapeEndPx, plain.cards[2]!.tapeEndPx];
    const sigmaMm = 0.05;
    const points = (lengthMm: number): Taped => ({ photo: NAME, fromPx: from, toPx: to, lengthMm, sigmaMm });
    const { seenMm } = look([points(500)]).tapes[0]!;
    // Half a part in a thousand: within what a checked print leaves open.
    const longer = look([points(seenMm * 1.0005)]);
    expect(longer.tapes[0]).toMatchObject({ used: true, seenMm });
    expect(longer.taping!.scaleRatio).toBeGreaterThan(1.0002);
    expect(longer.taping!.scaleRatio).toBeLessThan(1.0005);
    expect(longer.taping!.sigmaRatioAfter).toBeLessThan(longer.taping!.sigmaRatioBefore);
  });

  it('takes a tape between two cards by their names, and leaves one that cannot be right out', () => {
    const [a, b] = [plain.cards[0]!.id, plain.cards[2]!.id];
    const wrong = look([{ from: a, to: b, lengthMm: 100, sigmaMm: 0.5 }]);
    expect(wrong.tapes).toMatchObject([{ typedMm: 100, used: false }]);
    expect(wrong.taping!.scaleRatio).toBe(1);
    expect(wrong.warnings.map(({ code }) => code)).toContain('taped-distance-disagrees');
    const right = look([{ from: a, to: b, lengthMm: wrong.tapes[0]!.seenMm, sigmaMm: 0.5 }]);
    expect(right.tapes).toMatchObject([{ used: true }]);
  });

  it('does not speak of tapes that lie in another photo or between cards that it does not show', () => {
    const other: Taped = { photo: 'other.jpg', fromPx: [1, 1], toPx: [9, 9], lengthMm: 30, sigmaMm: 0.5 };
    expect(look([other]).tapes).toEqual([]);
    expect(look([{ from: 'N90', to: 'N91', lengthMm: 30, sigmaMm: 0.5 }]).tapes).toEqual([]);
  });
});
