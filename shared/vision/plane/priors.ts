// What is known before the photo is looked at, each number with its reason. Standard deviations unless said otherwise.
import type { LensKind } from './cameraModel.ts';
import type { Priors } from './planeProblem.ts';

export const PLANE_PRIORS = {
  /** EXIF "35 mm equivalent" is rounded to whole millimetres and breathes with focus; phones measured 1-4 % off. */
  lnFocalWithExif: 0.05,
  /** Without EXIF: most phones' main cameras are 24-28 mm, with crops and older ones from 22 to 35. */
  focal35WithoutExifMm: 27,
  lnFocalWithoutExif: 0.25,
  /** Lenses of phones, corrected in the camera; and of webcams and action cameras, which are not. */
  lens: {
    /**
     * Division coefficient, half diagonals: 18 px at 0.6 of the half diagonal of a 12 MP phone photo is 0.033.
     * k1 and k2, focal lengths: the wavy rest that phones leave was measured at +0.18 and -0.47.
     */
    corrected: { division: 0.03, radial: [0.15, 0.45] },
    /** Barrel distortion of 20-30 % at the corners is common: coefficients of -0.2 to -0.3. */
    uncorrected: { division: 0.3, radial: [0.5, 0.5] },
  },
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

export type LensClass = keyof typeof PLANE_PRIORS.lens;

export function lensSigma(lens: LensKind, lensClass: LensClass): readonly [number, number] {
  const terms = PLANE_PRIORS.lens[lensClass];
  if (lens === 'radial') return [terms.radial[0], terms.radial[1]];
  return [lens === 'division' ? terms.division : 0, 0];
}

/** Priors of a photo; the lens terms' sigmas follow from the class and the lens model tried. */
export interface PhotoPriors extends Omit<Priors, 'lensSigma'> {
  readonly lensClass: LensClass;
}
