// Scenes whose every uncertain quantity is drawn from the solver's own priors (bow, lift, print, lens, focal length, principal
// point, corner noise), solved: what a stated sigma is held against.

import { BODY, bodyAt, fullCount, PRINT_AT } from '../../shared/vision/plane/bodyLayout.ts';
import { bodySurface, restingLiftMm } from '../../shared/vision/plane/bodySurface.ts';
import type { Camera } from '../../shared/vision/plane/cameraModel.ts';
import { DIAGONAL_35MM } from '../../shared/vision/plane/cameraModel.ts';
import { cutCard } from '../../shared/vision/plane/cardBodies.ts';
import { type ErrorModes, errorModes } from '../../shared/vision/plane/lengthUncertainty.ts';
import { type LensHypothesis, PLANE_PRIORS } from '../../shared/vision/plane/priors.ts';
import { type CoreFit, type CoreInput, cameraCovariance, solveCore } from '../../shared/vision/plane/solveCore.ts';
import { cameraOf, type LaidCard, NO_ERRORS, PHONE, photoOf, Random, seeCards } from './planeScene.ts';

export const EVEN: LensHypothesis = { lens: 'radial', lensClass: 'even' };
export const CORNER_SIGMA_PX = 0.15;
export const FOUR_CARDS: readonly LaidCard[] = [
  { id: 0, atMm: [-430, -300], turnDeg: 12 },
  { id: 1, atMm: [430, -290], turnDeg: -30 },
  { id: 2, atMm: [-420, 300], turnDeg: 95 },
  { id: 3, atMm: [440, 310], turnDeg: 170 },
];

export interface DrawnScene {
  /** The true camera. */
  readonly camera: Camera;
  readonly input: CoreInput;
  /** Goes on where the scene's own draws ended. */
  readonly random: Random;
}

export interface DrawnPlane extends DrawnScene {
  readonly fit: CoreFit;
  readonly errors: ErrorModes;
}

export function drawnPlane(cards: readonly LaidCard[], seed: number): DrawnPlane {
  const scene = drawnScene(cards, seed);
  const fit = solveCore(scene.input)[0];
  if (fit === undefined) throw new Error(`seed ${seed} was not solved`);
  return { ...scene, fit, errors: errorsOf(fit) };
}

/** What the camera and the cards bring into a length; the paper lies flat. */
export function errorsOf(fit: CoreFit): ErrorModes {
  const readings = { camera: fit.camera, covariance: cameraCovariance(fit), rivals: [] };
  return errorModes(readings, { heightMm: 0, flatnessSigmaMm: 0 });
}

export function drawnScene(cards: readonly LaidCard[], seed: number): DrawnScene {
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
  return { camera, input, random };
}
