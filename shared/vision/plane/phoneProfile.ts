// What earlier photos taught about the lens of a phone at one setting: focal length against what the phone itself states,
// and the two lens terms, with their covariance. A prior for later photos, never a fixed value: focus and stabilisation
// move the lens.
import { inverse, Matrix } from 'ml-matrix';
import type { PhotoMetadata } from '../image.ts';
import { CAMERA_STEP } from './cameraSteps.ts';
import { quadratic3 } from './linearAlgebra.ts';
import type { LensPrior } from './planeProblem.ts';
import type { CoreFit } from './solveCore.ts';

export interface PhoneProfile {
  /** Identifies phone and setting; see `profileKey`. */
  readonly key: string;
  readonly make: string;
  readonly model: string;
  readonly lens: string;
  readonly focal35Mm: number;
  /** ln (focal length / stated focal length), k1, k2 (radial model, focal lengths). */
  readonly mean: readonly [number, number, number];
  readonly covariance: readonly (readonly number[])[];
  /** How many photos it was learnt from. */
  readonly photos: number;
}

const PROFILE = {
  /** How much focal length, k1 and k2 wander between photos of one phone (focus, stabilisation); from memory and published instability of phone cameras. */
  wanderSigma: [0.012, 0.01, 0.03],
  /** Chi-square with 3 degrees of freedom at 99.9 %. */
  disagreesAt: 16.3,
  /** A photo teaches when it knows the lens at 0.6 of the half diagonal to this share of the half diagonal (2.5 px at 12 MP). */
  teachesSigmaRatio: 1e-3,
  teachesRadius: 0.6,
} as const;

/** Null when the photo does not say which camera took it at which focal length. */
export function profileKey(metadata: PhotoMetadata): string | null {
  const { make, model, lens, focal35Mm } = metadata;
  if (make === undefined || model === undefined || focal35Mm === undefined) return null;
  return [make, model, lens ?? '', Math.round(focal35Mm), metadata.digitalZoomRatio ?? 1].join('|');
}

/** The profile as a prior, widened by what wanders between photos. */
export function profilePrior(profile: PhoneProfile): LensPrior {
  return { mean: profile.mean, covariance: widened(profile.covariance) };
}

/** Whether a photo solved without the profile (radial lens) contradicts it. */
export function disagrees(profile: PhoneProfile, fit: CoreFit): boolean {
  const { mean, covariance } = lensOf(fit);
  const gap = mean.map((value, i) => value - profile.mean[i]!);
  const sum = widened(profile.covariance).map((row, i) => row.map((value, j) => value + covariance[i]![j]!));
  return quadratic3(sum, gap) > PROFILE.disagreesAt;
}

/**
 * What a photo (solved with the radial lens and without a profile) teaches, joined to what was known; null when the photo
 * knows too little of its lens or does not say which camera took it.
 */
export function learnProfile(fit: CoreFit, metadata: PhotoMetadata, known: PhoneProfile | null): PhoneProfile | null {
  const key = profileKey(metadata);
  if (key === null || fit.model.base.lens !== 'radial') return null;
  const { mean, covariance } = lensOf(fit);
  if (lensSigmaRatio(fit, covariance) > PROFILE.teachesSigmaRatio) return null;
  const fresh: PhoneProfile = {
    key,
    make: metadata.make ?? '',
    model: metadata.model ?? '',
    lens: metadata.lens ?? '',
    focal35Mm: metadata.focal35Mm ?? 0,
    mean,
    covariance,
    photos: 1,
  };
  if (known === null || known.key !== key) return fresh;
  // Each photo is one draw of a wandering lens: both count with their own wander, the mean gets surer.
  const a = inverse(new Matrix(widened(known.covariance)));
  const b = inverse(new Matrix(widened(covariance)));
  const joined = inverse(Matrix.add(a, b));
  const weighted = Matrix.add(a.mmul(Matrix.columnVector([...known.mean])), b.mmul(Matrix.columnVector(mean)));
  const joinedMean = joined.mmul(weighted).getColumn(0);
  return {
    ...fresh,
    mean: [joinedMean[0]!, joinedMean[1]!, joinedMean[2]!],
    covariance: Matrix.add(joined, joined.transpose()).mul(0.5).to2DArray(),
    photos: known.photos + 1,
  };
}

/** How much ln focal and the lens terms wander between photos of one phone, one sigma. */
export const WANDER_SIGMA = PROFILE.wanderSigma;

function widened(covariance: readonly (readonly number[])[]): number[][] {
  return covariance.map((row, i) => row.map((value, j) => value + (i === j ? PROFILE.wanderSigma[i]! ** 2 : 0)));
}

function lensOf(fit: CoreFit): { mean: [number, number, number]; covariance: number[][] } {
  const rows = [CAMERA_STEP.logFocal, CAMERA_STEP.lens, CAMERA_STEP.lens + 1].map((index) => fit.free.indexOf(index));
  const covariance = rows.map((i) => rows.map((j) => fit.covariance.get(i, j)));
  const at = CAMERA_STEP.logFocal;
  return { mean: [fit.full[at]!, fit.full[at + 1]!, fit.full[at + 2]!], covariance };
}

/** Standard deviation of the lens's shift at the judged radius, half diagonals. */
function lensSigmaRatio(fit: CoreFit, covariance: readonly (readonly number[])[]): number {
  const { focalRatio } = fit.camera;
  const r = PROFILE.teachesRadius / focalRatio;
  const g = [0, focalRatio * r ** 3, focalRatio * r ** 5];
  let variance = 0;
  for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) variance += g[i]! * covariance[i]![j]! * g[j]!;
  return Math.sqrt(variance);
}
