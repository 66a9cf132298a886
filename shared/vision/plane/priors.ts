// What is known before the photo is looked at, each number with its reason. Standard deviations unless said otherwise.
import type { LensKind } from './cameraModel.ts';
import type { LensPrior, Priors } from './planeProblem.ts';

export const PLANE_PRIORS = {
  /** EXIF "35 mm equivalent" is rounded to whole millimetres and breathes with focus; phones measured 1-4 % off. */
  lnFocalWithExif: 0.05,
  /** Without EXIF: most phones' main cameras are 24-28 mm, with crops and older ones from 22 to 35. */
  focal35WithoutExifMm: 27,
  lnFocalWithoutExif: 0.25,
  /**
   * Lenses corrected in the camera, as in phones: what is left over. Radial terms, focal lengths. The plain rest is
   * 10-20 px at 0.6 of the half diagonal of 12 MP; the wavy rest was measured at +0.18 and -0.47 on one phone, so the
   * second term comes with an opposite first one.
   */
  corrected: { plainTerm: 0.06, wavyTerm: 0.25, wavyFirstRatio: -0.38 },
  /**
   * Lenses that are not corrected, as in webcams and action cameras. Barrel distortion of 20-30 % at the corners is
   * common: division coefficients of -0.2 to -0.3 half diagonals.
   */
  uncorrected: { division: 0.3, radial: [0.5, 0.5] },
  /** Principal point off the picture's centre, half diagonals: stabilised phone cameras 0.3-1 %, from memory. */
  principalRatio: 0.01,
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

export type LensClass = 'corrected' | 'uncorrected';

/** Priors of a photo; the lens terms follow from the class and the lens model tried, or from a phone profile. */
export interface PhotoPriors extends Omit<Priors, 'lens'> {
  readonly lnFocalSigma: number;
  readonly lensClass: LensClass;
  /** Replaces both when the phone is known. */
  readonly profile: LensPrior | null;
}

/** Joint prior on ln focal and the two lens terms; a variance of 0 holds a term at its mean. */
export function lensPrior(priors: PhotoPriors, lens: LensKind): LensPrior {
  if (priors.profile !== null && lens === 'radial') return priors.profile;
  const focal = priors.lnFocalSigma ** 2;
  const { corrected, uncorrected } = PLANE_PRIORS;
  let terms: readonly [number, number, number] = [0, 0, 0]; // variance, covariance, variance
  if (lens === 'division') {
    const sigma = priors.lensClass === 'corrected' ? corrected.plainTerm : uncorrected.division;
    terms = [sigma ** 2, 0, 0];
  } else if (lens === 'radial' && priors.lensClass === 'corrected') {
    const wavy = corrected.wavyTerm ** 2;
    const first = corrected.wavyFirstRatio;
    terms = [corrected.plainTerm ** 2 + first * first * wavy, first * wavy, wavy];
  } else if (lens === 'radial') {
    terms = [uncorrected.radial[0] ** 2, 0, uncorrected.radial[1] ** 2];
  }
  return {
    mean: [0, 0, 0],
    covariance: [
      [focal, 0, 0],
      [0, terms[0], terms[1]],
      [0, terms[1], terms[2]],
    ],
  };
}

/** The lens model that fits a class: a corrected lens leaves a small wavy rest, an uncorrected one is close to division. */
export function firstLens(lensClass: LensClass): LensKind {
  return lensClass === 'corrected' ? 'radial' : 'division';
}
