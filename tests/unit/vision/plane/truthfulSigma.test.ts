// Is a stated sigma real? Everything that the solver holds as uncertain is drawn from its own priors (bow, lift, print,
// lens, focal length, principal point, corner noise); over many draws the scatter of lengths must be what is stated.
import { describe, expect, it } from 'vitest';
import type { Point } from '../../../../shared/base/points.ts';
import { BODY, bodyAt, fullCount, PRINT_AT } from '../../../../shared/vision/plane/bodyLayout.ts';
import { bodySurface, restingLiftMm } from '../../../../shared/vision/plane/bodySurface.ts';
import { DIAGONAL_35MM } from '../../../../shared/vision/plane/cameraModel.ts';
import { cutCard } from '../../../../shared/vision/plane/cardBodies.ts';
import { errorModes, lengthUncertainty } from '../../../../shared/vision/plane/lengthUncertainty.ts';
import { planeProblem } from '../../../../shared/vision/plane/planeProblem.ts';
import { type LensHypothesis, PLANE_PRIORS } from '../../../../shared/vision/plane/priors.ts';
import {
  type CoreFit,
  type CoreInput,
  cameraCovariance,
  solveCore,
} from '../../../../shared/vision/plane/solveCore.ts';
import { cameraOf, type LaidCard, NO_ERRORS, PHONE, photoOf, Random, seeCards } from '../../../support/planeScene.ts';

const EVEN: LensHypothesis = { lens: 'radial', lensClass: 'even' };
const CORNER_SIGMA_PX = 0.15;
const FOUR: readonly LaidCard[] = [
  { id: 0, atMm: [-430, -300], turnDeg: 12 },
  { id: 1, atMm: [430, -290], turnDeg: -30 },
  { id: 2, atMm: [-420, 300], turnDeg: 95 },
  { id: 3, atMm: [440, 310], turnDeg: 170 },
];

function drawn(cards: readonly LaidCard[], seed: number): { fit: CoreFit; zs: number[] } {
  const random = new Random(seed);
  const { plainTerm, wavyTerm, wavyFirstRatio } = PLANE_PRIORS.even;
  const wave = wavyTerm * random.normal();
  const camera = cameraOf({
    ...PHONE,
    tiltDeg: 18,
    towardsDeg: 50,
    focal35Mm: PHONE.focal35Mm * Math.exp(PLANE_PRIORS.lnFocalWithExif * random.normal()),
    lens: 'radial',
    lensTerms: [plainTerm * random.normal() + wavyFirstRatio * wave, wave],
    principalRatio: [PLANE_PRIORS.principalRatio * random.normal(), PLANE_PRIORS.principalRatio * random.normal()],
  });
  const print = [PLANE_PRIORS.printCheckedRatio * random.normal(), PLANE_PRIORS.printCheckedRatio * random.normal()];
  const flat = seeCards(camera, cards, NO_ERRORS, random);
  const bodies = flat.map((card, i) => {
    const { body, middleMm } = cutCard(card, { xRatio: 1, yRatio: 1, checked: true });
    const vector = new Float64Array(fullCount(1));
    vector.set(print, PRINT_AT);
    const turn = (cards[i]!.turnDeg * Math.PI) / 180;
    const [mx, my] = [middleMm[0] - 46, middleMm[1] - 63]; // from the middle of the 92 x 126 mm card
    const at = bodyAt(0);
    vector[at + BODY.turn] = turn;
    vector[at + BODY.x] = cards[i]!.atMm[0] + Math.cos(turn) * mx - Math.sin(turn) * my;
    vector[at + BODY.y] = cards[i]!.atMm[1] + Math.sin(turn) * mx + Math.cos(turn) * my;
    for (let k = 0; k < 3; k++) vector[at + BODY.bow + k] = body.bowSigmaMm * random.normal();
    vector[at + BODY.lift] = restingLiftMm(vector, at + BODY.bow) + body.liftSigmaMm * random.normal();
    const surface = bodySurface(body, vector, PRINT_AT, at);
    const seenPx = new Float64Array(body.seenPx.length);
    for (let k = 0; k < seenPx.length; k += 2) {
      surface.place(body.pointsMm[k]!, body.pointsMm[k + 1]!);
      const seen = photoOf(camera, surface.x, surface.y, surface.heightMm);
      seenPx[k] = seen[0] + CORNER_SIGMA_PX * random.normal();
      seenPx[k + 1] = seen[1] + CORNER_SIGMA_PX * random.normal();
    }
    return { ...body, seenPx };
  });
  const input: CoreInput = {
    widthPx: camera.widthPx,
    heightPx: camera.heightPx,
    focalRatio: PHONE.focal35Mm / (DIAGONAL_35MM / 2),
    hypothesis: EVEN,
    bodies,
    priors: {
      lnFocalSigma: PLANE_PRIORS.lnFocalWithExif,
      principalSigmaRatio: PLANE_PRIORS.principalRatio,
      printSigmaRatio: PLANE_PRIORS.printCheckedRatio,
      profile: null,
    },
    taped: [],
    cornerSigmaFloorPx: CORNER_SIGMA_PX,
  };
  const fit = solveCore(input)[0];
  if (fit === undefined) throw new Error(`seed ${seed} was not solved`);
  const readings = { camera: fit.camera, covariance: cameraCovariance(fit), rivals: [] };
  const errors = errorModes(readings, { heightMm: 0, flatnessSigmaMm: 0 });
  const zs = LINES.map(([a, b]) => {
    const { lengthMm, sigmaMm } = lengthUncertainty(errors, [photoOf(camera, ...a), photoOf(camera, ...b)]);
    return (lengthMm - Math.hypot(a[0] - b[0], a[1] - b[1])) / sigmaMm;
  });
  return { fit, zs };
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
    ['four cards', FOUR],
    ['two cards', [FOUR[0]!, FOUR[3]!]],
  ] as const)('is the scatter of %s, within 15 in 100', (_, cards) => {
    let sum = 0;
    let count = 0;
    for (let seed = 1; seed <= REALISATIONS; seed++)
      for (const z of drawn(cards, seed).zs) {
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
    const { fit } = drawn(FOUR, 5);
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
