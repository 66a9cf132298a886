// What is known before the photo is looked at, each number with its reason. Standard deviations unless said otherwise.
import { halfDiagonalPx, type LensKind } from './cameraModel.ts';
import type { LensPrior, Priors } from './planeProblem.ts';

export const PLANE_PRIORS = {
  /** EXIF "35 mm equivalent" is rounded to whole millimetres (1 %) and breathes with focus (0.5 %); phones measured 1-2 % off. */
  lnFocalWithExif: 0.02,
  /** The same of a picture cut to another shape: 16:9 out of 4:3 keeps the width and loses 8 % of the diagonal. */
  lnFocalCropped: 0.08,
  /** Without EXIF: most phones' main cameras are 24-28 mm, with crops and older ones from 22 to 35. */
  focal35WithoutExifMm: 27,
  lnFocalWithoutExif: 0.25,
  /**
   * Lenses corrected in the camera, as in phones: what is left over, as radial terms in focal lengths. Most leave little
   * (`even`: a few pixels); some leave 10-20 px at 0.6 of the half diagonal of 12 MP in a wavy shape, measured at +0.18
   * and -0.47 on one phone (`wavy`), so there the second term comes with an opposite first one.
   */
  even: { plainTerm: 0.03, wavyTerm: 0.02, wavyFirstRatio: -0.38 },
  wavy: { plainTerm: 0.06, wavyTerm: 0.25, wavyFirstRatio: -0.38 },
  /**
   * Lenses that are not corrected, as in webcams and action cameras. Barrel distortion of 20-30 % at the corners is
   * common: division coefficients of -0.2 to -0.3 half diagonals.
   */
  uncorrected: { division: 0.3, radial: [0.5, 0.5] },
  /** Principal point off the picture's centre, half diagonals: stabilised phone cameras 0.3-1 %, from memory. */
  principalRatio: 0.006,
  /** Relative size error of a print whose check rulers were measured and typed in, and of one whose were not. */
  printCheckedRatio: 4e-4,
  printUncheckedRatio: 1.5e-3,
  /** Bow of a cut card over half its width; matt paper curls by a few tenths of a millimetre. */
  cardBowMm: 0.2,
  /** Height of a card about where its bow lets it rest: paper thickness, threads, dents in the table. */
  cardLiftMm: 0.1,
  /** Bow of an uncut page over half its diagonal. */
  pageBowMm: 0.4,
  pageLiftMm: 0.15,
} as const;

/**
 * Least corner noise that is believed; the noise itself is estimated from each photo. Refined saddles scatter by 0.010-0.02 px
 * in clean photos of two simulated cameras, by 0.07-0.3 px in real ones, print grain included. What the shape of an
 * uncorrected lens leaves over after two terms counts as noise: a share of the half diagonal, from two real lenses.
 */
const CORNER_NOISE = { leastPx: 0.015, uncorrectedRatio: 3.5e-4 } as const;

/** The floor for a photo whose lens may be any of these. */
export function cornerSigmaFloorPx(
  frame: { readonly widthPx: number; readonly heightPx: number },
  lenses: readonly LensHypothesis[],
): number {
  const uncorrected = lenses.some(({ lensClass }) => lensClass === 'uncorrected');
  return Math.max(CORNER_NOISE.leastPx, uncorrected ? CORNER_NOISE.uncorrectedRatio * halfDiagonalPx(frame) : 0);
}

/** What kind of lens is supposed; `even` and `wavy` are corrected in the camera. */
export type LensClass = 'even' | 'wavy' | 'uncorrected';

/** A lens model together with how large its terms may be. */
export interface LensHypothesis {
  readonly lens: LensKind;
  readonly lensClass: LensClass;
}

/** Priors of a photo; the lens terms follow from the class and the lens model tried, or from a phone profile. */
export interface PhotoPriors extends Omit<Priors, 'lens'> {
  readonly lnFocalSigma: number;
  /** Replaces both when the phone is known. */
  readonly profile: LensPrior | null;
}

/** Joint prior on ln focal and the two lens terms; a variance of 0 holds a term at its mean. */
export function lensPrior(priors: PhotoPriors, { lens, lensClass }: LensHypothesis): LensPrior {
  if (priors.profile !== null && lens === 'radial') return priors.profile;
  const focal = priors.lnFocalSigma ** 2;
  const [first, both, second] = termVariances(lens, lensClass);
  return {
    mean: [0, 0, 0],
    covariance: [
      [focal, 0, 0],
      [0, first, both],
      [0, both, second],
    ],
  };
}

/** Variance of the first lens term, covariance, variance of the second. */
function termVariances(lens: LensKind, lensClass: LensClass): readonly [number, number, number] {
  if (lens === 'none') return [0, 0, 0];
  if (lensClass === 'uncorrected') {
    const { division, radial } = PLANE_PRIORS.uncorrected;
    return lens === 'division' ? [division ** 2, 0, 0] : [radial[0] ** 2, 0, radial[1] ** 2];
  }
  const { plainTerm, wavyTerm, wavyFirstRatio } = PLANE_PRIORS[lensClass];
  if (lens === 'division') return [plainTerm ** 2, 0, 0];
  const wavy = wavyTerm ** 2;
  return [plainTerm ** 2 + wavyFirstRatio ** 2 * wavy, wavyFirstRatio * wavy, wavy];
}

/** Lenses worth trying: a corrected lens is even or wavy; an uncorrected one is close to the division model, or polynomial. */
export const LENS_HYPOTHESES: Readonly<Record<'corrected' | 'uncorrected', readonly LensHypothesis[]>> = {
  corrected: [
    { lens: 'radial', lensClass: 'even' },
    { lens: 'radial', lensClass: 'wavy' },
  ],
  uncorrected: [
    { lens: 'division', lensClass: 'uncorrected' },
    { lens: 'radial', lensClass: 'uncorrected' },
  ],
};
