// Cards in simulated photos with exact truth: found, told apart, measured without bias, and never found where none are.
import { describe, expect, test } from 'vitest';
import { CUT_CORNERS_UPRIGHT, cardMmFromUpright, saddleUprightMm } from '../../../../shared/vision/cards/cardLayout.ts';
import { type CardsInPhoto, findCards } from '../../../../shared/vision/stages/findCards.ts';
import type { CameraSpec } from '../../../photos/camera.ts';
import { type CardScene, cardPhoto, type LaidCard, truePoint } from '../../../support/cardPhoto.ts';
import { testStageContext } from '../../../support/openCv.ts';

const ctx = testStageContext();

const CAMERA: CameraSpec = {
  widthPx: 720,
  heightPx: 540,
  focal35Mm: 26,
  lens: { model: 'polynomial', k1: 0, k2: 0 },
  principalOffsetPx: [0, 0],
  targetMm: [0, 0],
  distanceMm: 330,
  tiltDeg: 15,
  azimuthDeg: 30,
  rollDeg: 10,
};

const LEFT: LaidCard = { id: 5, middleMm: [-62, -10], turnDeg: 30 };
const RIGHT: LaidCard = { id: 6, middleMm: [65, 5], turnDeg: -100 };

interface Changes extends Partial<Omit<CardScene, 'camera'>> {
  readonly camera?: Partial<CameraSpec>;
}

function sceneOf({ camera, ...rest }: Changes): CardScene {
  return { cards: [LEFT, RIGHT], seed: 7, blurPx: 0.7, noise: 3, ...rest, camera: { ...CAMERA, ...camera } };
}

function found(scene: CardScene): CardsInPhoto {
  return findCards(cardPhoto(scene), { search: 'quick' }, ctx);
}

interface Errors {
  readonly count: number;
  readonly rmsPx: number;
  readonly biasPx: number;
  readonly worstPx: number;
}

/** Measured minus true over all corners of all cards found; rms an axis. */
function errorsOf(scene: CardScene, result: CardsInPhoto): Errors {
  let [count, sumX, sumY, squares, worstPx] = [0, 0, 0, 0, 0];
  for (const card of result.cards) {
    const laid = scene.cards.find(({ id }) => `N0${id}` === card.id)!;
    for (let row = 0; row < 6; row++) {
      for (let column = 0; column < 6; column++) {
        const mm = cardMmFromUpright(laid.id, saddleUprightMm(column, row));
        const corner = card.corners.find(({ cardMm }) => cardMm[0] === mm[0] && cardMm[1] === mm[1]);
        if (corner === undefined) continue;
        const truth = truePoint(scene, laid, saddleUprightMm(column, row));
        const [dx, dy] = [corner.photo[0] - truth[0], corner.photo[1] - truth[1]];
        count++;
        sumX += dx;
        sumY += dy;
        squares += dx * dx + dy * dy;
        worstPx = Math.max(worstPx, Math.hypot(dx, dy));
      }
    }
  }
  return { count, rmsPx: Math.sqrt(squares / (2 * count)), biasPx: Math.hypot(sumX, sumY) / count, worstPx };
}

describe('finding cards', () => {
  test('measures all 72 corners of two cards within 0.1 px rms, without bias', () => {
    const scene = sceneOf({});
    const result = found(scene);
    expect(result.cards.map(({ id }) => id)).toEqual(['N05', 'N06']);
    expect(result.warnings).toEqual([]);
    const errors = errorsOf(scene, result);
    expect(errors.count).toBe(72);
    expect(errors.rmsPx).toBeLessThan(0.05);
    expect(errors.biasPx).toBeLessThan(0.02);
    for (const card of result.cards) {
      expect(card.homographyResidualPx).toBeLessThan(0.1);
      expect(card.cornerSigmaPx).toBeLessThan(0.05);
      expect(card.page).toBe(2);
    }
  });

  test.each([
    { what: 'a tilt of 50 degrees', change: { camera: { tiltDeg: 50, distanceMm: 380 } }, rmsPx: 0.06 },
    {
      what: 'a wide lens with barrel distortion',
      change: {
        camera: { focal35Mm: 18, distanceMm: 235, lens: { model: 'polynomial' as const, k1: -0.15, k2: 0.03 } },
      },
      rmsPx: 0.05,
    },
    { what: 'light that falls to a third across the table', change: { lightPerM: [-5, -2] as const }, rmsPx: 0.08 },
    { what: 'blur of 2.5 px', change: { blurPx: 2.5 }, rmsPx: 0.08 },
    { what: 'ink that bled by 0.3 mm', change: { bleedMm: 0.3 }, rmsPx: 0.05 },
    { what: 'ink that shrank by 0.3 mm', change: { bleedMm: -0.3 }, rmsPx: 0.05 },
    { what: 'a white table', change: { table: 0.8 }, rmsPx: 0.05 },
    { what: 'a black table', change: { table: 0.03 }, rmsPx: 0.05 },
    {
      what: 'codes 20 px wide',
      change: { camera: { distanceMm: 870, tiltDeg: 5 }, noise: 2, blurPx: 0.5 },
      rmsPx: 0.08,
    },
  ])('measures through $what', ({ change, rmsPx }) => {
    const scene = sceneOf(change);
    const result = found(scene);
    expect(result.cards.map(({ id }) => id)).toEqual(['N05', 'N06']);
    const errors = errorsOf(scene, result);
    expect(errors.count).toBeGreaterThanOrEqual(70);
    expect(errors.rmsPx).toBeLessThan(rmsPx);
    expect(errors.biasPx).toBeLessThan(0.02);
    expect(errors.worstPx).toBeLessThan(6 * rmsPx);
  });

  test.each([0, 90, 180, 270])('knows which way round a card turned by %d degrees lies', (turnDeg) => {
    const scene = sceneOf({ cards: [{ id: 7, middleMm: [0, 0], turnDeg }], camera: { widthPx: 480, heightPx: 360 } });
    const result = found(scene);
    const errors = errorsOf(scene, result);
    expect(errors.count).toBe(36);
    expect(errors.worstPx).toBeLessThan(0.3);
  });

  test('reads a card that fills the photo', () => {
    const scene = sceneOf({
      cards: [{ id: 7, middleMm: [0, 0], turnDeg: 80 }],
      camera: { distanceMm: 130, tiltDeg: 5 },
    });
    const errors = errorsOf(scene, found(scene));
    expect(errors.count).toBe(36);
    expect(errors.rmsPx).toBeLessThan(0.05);
  });

  test('measures what is left of a card under a cup and under glare', () => {
    for (const reflectance of [0.3, 1]) {
      const scene = sceneOf({ spots: [{ atMm: [-58, -30], radiusMm: 20, reflectance }] });
      const result = found(scene);
      expect(result.cards).toHaveLength(2);
      const errors = errorsOf(scene, result);
      expect(errors.count).toBeGreaterThan(48);
      expect(errors.count).toBeLessThan(72);
      expect(errors.worstPx).toBeLessThan(0.3);
    }
  });

  test('reports a mirrored card and never uses it', () => {
    const scene = sceneOf({ cards: [{ ...LEFT, mirrored: true }, RIGHT] });
    const result = found(scene);
    expect(result.cards.map(({ id }) => id)).toEqual(['N06']);
    expect(result.mirrored).toBe(1);
    expect(result.warnings.map(({ code }) => code)).toEqual(['card-mirrored']);
    expect(result.warnings[0]!.message).toMatch(/N05/);
  });

  test('says so when a card’s code is seen but its chequer is covered', () => {
    const scene = sceneOf({
      cards: [{ id: 7, middleMm: [0, 0], turnDeg: 0 }],
      spots: [{ atMm: [0, -16], radiusMm: 43, reflectance: 0.4 }],
    });
    const result = found(scene);
    expect(result.cards).toEqual([]);
    expect(result.warnings.map(({ code }) => code)).toEqual(['card-unmeasurable']);
  });

  test('keeps both of two cards with the same number and says so', () => {
    const result = found(sceneOf({ cards: [LEFT, { ...RIGHT, id: 5 }] }));
    expect(result.cards.map(({ id }) => id)).toEqual(['N05', 'N05']);
    expect(result.warnings.map(({ code }) => code)).toEqual(['card-repeated']);
  });

  test('outlines the cut card for masking, corner by corner', () => {
    const scene = sceneOf({});
    const [card] = found(scene).cards;
    const truth = CUT_CORNERS_UPRIGHT.map((corner) => truePoint(scene, LEFT, corner));
    expect(card!.cutOutline).toHaveLength(4);
    for (const [i, [x, y]] of truth.entries()) {
      expect(Math.hypot(card!.cutOutline[i]![0] - x, card!.cutOutline[i]![1] - y)).toBeLessThan(0.5);
    }
  });

  test('finds nothing in pictures smaller than a code', () => {
    for (const [widthPx, heightPx] of [
      [1, 1],
      [2, 40],
      [15, 15],
    ] as const) {
      const gray = { widthPx, heightPx, data: new Uint8Array(widthPx * heightPx).fill(90) };
      const rgb = { widthPx, heightPx, data: new Uint8Array(3 * widthPx * heightPx).fill(90) };
      const result = findCards({ name: 'tiny', gray, rgb, metadata: {} }, { search: 'thorough' }, ctx);
      expect(result).toEqual({ cards: [], warnings: [], mirrored: 0 });
    }
  });
});
