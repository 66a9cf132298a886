// Is a stated sigma real? Everything that the solver holds as uncertain is drawn from its own priors (bow, lift, print,
// lens, focal length, principal point, corner noise); over many draws the scatter of lengths must be what is stated.
import { describe, expect, it } from 'vitest';
import type { Point } from '../../../../shared/base/points.ts';
import { cutCard } from '../../../../shared/vision/plane/cardBodies.ts';
import { lengthUncertainty } from '../../../../shared/vision/plane/lengthUncertainty.ts';
import { planeProblem } from '../../../../shared/vision/plane/planeProblem.ts';
import { solveCore } from '../../../../shared/vision/plane/solveCore.ts';
import { CORNER_SIGMA_PX, drawnPlane, EVEN, FOUR_CARDS } from '../../../support/drawnPlane.ts';
import { cameraOf, type LaidCard, NO_ERRORS, PHONE, photoOf, Random, seeCards } from '../../../support/planeScene.ts';

function sigmasOff(cards: readonly LaidCard[], seed: number): number[] {
  const { camera, errors } = drawnPlane(cards, seed);
  return LINES.map(([a, b]) => {
    const { lengthMm, sigmaMm } = lengthUncertainty(errors, [photoOf(camera, ...a), photoOf(camera, ...b)]);
    return (lengthMm - Math.hypot(a[0] - b[0], a[1] - b[1])) / sigmaMm;
  });
}

const LINES: readonly (readonly [Point, Point])[] = [
  [
    [-300, -40],
    [320, 60],
  ],
  [
    [-60, -250],
    [20, 240],
  ],
  [
    [100, 50],
    [250, 200],
  ],
];

const REALISATIONS = 200;

describe('the stated sigma of a length', () => {
  it.each([
    ['four cards', FOUR_CARDS],
    ['two cards', [FOUR_CARDS[0]!, FOUR_CARDS[3]!]],
  ] as const)('is the scatter of %s, within 15 in 100', (_, cards) => {
    let sum = 0;
    let count = 0;
    for (let seed = 1; seed <= REALISATIONS; seed++)
      for (const z of sigmasOff(cards, seed)) {
        sum += z * z;
        count += 1;
      }
    const scatterOverStated = Math.sqrt(sum / count);
    expect(scatterOverStated).toBeGreaterThan(0.85);
    expect(scatterOverStated).toBeLessThan(1.15);
  });
});

describe('the derivative of the residuals', () => {
  it('agrees with a difference ten times coarser, extrapolated', () => {
    const { fit } = drawnPlane(FOUR_CARDS, 5);
    const problem = planeProblem(fit.model, fit.full);
    const at = Float64Array.from(problem.free, (index) => fit.full[index]!);
    const jacobian = new Float64Array(problem.residualCount * problem.parameterCount);
    problem.jacobian(at, jacobian);
    const residualsAt = (column: number, step: number): Float64Array => {
      const moved = Float64Array.from(at);
      moved[column]! += step;
      const out = new Float64Array(problem.residualCount);
      problem.residuals(moved, out);
      return out;
    };
    const corners = 2 * problem.pairCount;
    for (let column = 0; column < problem.parameterCount; column++) {
      const index = problem.free[column]!;
      const h = index >= 3 && index < 6 ? 1e-2 : 1e-5;
      const slope = (step: number): number[] => {
        const [plus, minus] = [residualsAt(column, step), residualsAt(column, -step)];
        return Array.from(plus.slice(0, corners), (value, row) => (value - minus[row]!) / (2 * step));
      };
      const [near, far] = [slope(h), slope(2 * h)];
      let largest = 0;
      let worst = 0;
      for (let row = 0; row < corners; row++) {
        const extrapolated = (4 * near[row]! - far[row]!) / 3;
        largest = Math.max(largest, Math.abs(extrapolated));
        worst = Math.max(worst, Math.abs(extrapolated - jacobian[row * problem.parameterCount + column]!));
      }
      expect(worst).toBeLessThan(1e-4 * largest);
    }
  });
});

describe('two tilts that fit one small far card', () => {
  it('are both tried, and the true one wins or stays as a rival', () => {
    const camera = cameraOf({ ...PHONE, tiltDeg: 20, towardsDeg: 120 });
    const noise = { ...NO_ERRORS, cornerSigmaPx: CORNER_SIGMA_PX };
    const [card] = seeCards(camera, [{ id: 0, atMm: [0, 0], turnDeg: 30 }], noise, new Random(3));
    const { body } = cutCard(card!, { xRatio: 1, yRatio: 1, checked: true });
    const fits = solveCore({
      widthPx: camera.widthPx,
      heightPx: camera.heightPx,
      focalRatio: camera.focalRatio,
      hypothesis: EVEN,
      bodies: [body],
      priors: { lnFocalSigma: 0.05, principalSigmaRatio: 0, printSigmaRatio: 0, profile: null },
      taped: [],
      cornerSigmaFloorPx: CORNER_SIGMA_PX,
    });
    const tiltsDeg = fits.map(({ camera: found }) => {
      // The table's normal in the camera; the card's own turn does not change it.
      const [x, y] = [found.rotation[2]! - camera.rotation[2]!, found.rotation[5]! - camera.rotation[5]!];
      return (Math.hypot(x, y) * 180) / Math.PI;
    });
    expect(Math.min(...tiltsDeg)).toBeLessThan(6);
  });
});
