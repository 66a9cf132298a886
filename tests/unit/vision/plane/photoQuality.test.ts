import { describe, expect, it } from 'vitest';
import { photoQuality } from '../../../../shared/vision/plane/photoQuality.ts';
import type { PlaneSolution } from '../../../../shared/vision/plane/planeSolution.ts';
import { solvePlane } from '../../../../shared/vision/stages/solvePlane.ts';
import { CHECKED } from '../../../support/jointTable.ts';
import {
  type CameraSetup,
  cameraOf,
  type LaidCard,
  NO_ERRORS,
  PHONE,
  Random,
  seeCards,
} from '../../../support/planeScene.ts';

const FOUR: readonly LaidCard[] = [
  { id: 0, atMm: [-430, -300], turnDeg: 12 },
  { id: 1, atMm: [430, -290], turnDeg: -30 },
  { id: 2, atMm: [-420, 300], turnDeg: 95 },
  { id: 3, atMm: [440, 310], turnDeg: 170 },
];

function solved(cards: readonly LaidCard[], setup: Partial<CameraSetup> = {}, cornerSigmaPx = 0.15): PlaneSolution {
  const camera = cameraOf({ ...PHONE, tiltDeg: 8, ...setup });
  const found = seeCards(camera, cards, { ...NO_ERRORS, cornerSigmaPx }, new Random(5));
  const frame = { widthPx: camera.widthPx, heightPx: camera.heightPx, metadata: { focal35Mm: 26 } };
  const plane = solvePlane(frame, found, CHECKED);
  if (!plane.ok) throw new Error(plane.error.sentence);
  return plane.value.solution;
}

const advice = (solution: PlaneSolution, printChecked = true) =>
  photoQuality(solution, printChecked).advice.map(({ code }) => code);

describe('the quality of a photo', () => {
  it('is a map that knows where the cards are', () => {
    const { map, worstRatio } = photoQuality(solved([FOUR[0]!]), true);
    expect(map.sigmaRatios).toHaveLength(map.columns * map.rows);
    expect(map.sigmaRatios[0]!).toBeLessThan(map.sigmaRatios.at(-1)!);
    expect(map.sigmaRatios).toContain(worstRatio);
    expect(worstRatio).toBeGreaterThan(10 * Math.min(...map.sigmaRatios));
  });

  it('has nothing to say about a good photo', () => {
    expect(advice(solved(FOUR))).toEqual([]);
  });

  it('asks for more cards, and where', () => {
    expect(advice(solved([FOUR[0]!]))).toContain('add-cards');
    const { advice: said } = photoQuality(solved([FOUR[0]!, FOUR[2]!]), true);
    expect(said[0]).toMatchObject({ code: 'add-cards' });
    expect(said[0]!.message).toContain('right');
  });

  it('tells cards on a heap from cards spread out', () => {
    const heap = FOUR.map((card) => ({ ...card, atMm: [card.atMm[0] / 4 - 250, card.atMm[1] / 3 - 120] as const }));
    expect(advice(solved(heap))).toContain('spread-cards');
  });

  it('asks for less tilt, for light and for a checked print', () => {
    expect(advice(solved(FOUR, { tiltDeg: 32, distanceMm: 1100 }))).toContain('less-tilt');
    expect(advice(solved(FOUR, {}, 0.7))).toContain('sharper');
    expect(advice(solved(FOUR), false)).toEqual(['check-print']);
  });

  it('asks to go closer when a pixel is half a millimetre', () => {
    expect(advice(solved(FOUR, { distanceMm: 1700 }))).toContain('closer');
  });
});
