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
  /** Marks of the photos that taught it, newest last, so that a photo read twice teaches once. */
  readonly taughtBy: readonly string[];
  /** How often a photo contradicted what was known, so that learning began anew. */
  readonly conflicts: number;
}

const PROFILE = {
  /**
   * How much focal length, k1 and k2 wander between photos of one phone. Focusing from 1.2 to 0.5 m moves a lens of 5-7 mm by
   * 0.3-0.8 % of its focal length. With it the distortion changes by a few hundredths of what the glass has before the
   * camera corrects it (2-4 % at the corners): 2-4 px at the corners of 12 MP, from memory. These terms move them by 4 px.
   */
  wanderSigma: [0.006, 0.0015, 0.0025],
  /** Chi-square with 3 degrees of freedom at 99.9 %. */
  disagreesAt: 16.3,
  /** A photo teaches when it knows the lens at 0.6 of the half diagonal to this share of the half diagonal (2.5 px at 12 MP). */
  teachesSigmaRatio: 1e-3,
  teachesRadius: 0.6,
  /** Photos older than the last so many may teach again; by then one more counts for little. */
  marksKept: 200,
  /** So many photos must agree for each conflict. */
  agreeingAConflict: 2,
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
  return quadratic3(sumOf(widened(profile.covariance), covariance), gapOf(profile.mean, mean)) > PROFILE.disagreesAt;
}

/**
 * Whether what was learnt by itself may be used unasked: photos that state the same phone and setting have contradicted one
 * another too often (several lenses under one name, edited pictures) until enough in a row agree.
 */
export function isSettled({ photos, conflicts }: PhoneProfile): boolean {
  return conflicts === 0 || photos > PROFILE.agreeingAConflict * conflicts;
}

function sumOf(a: readonly (readonly number[])[], b: readonly (readonly number[])[]): number[][] {
  return a.map((row, i) => row.map((value, j) => value + b[i]![j]!));
}

function gapOf(a: readonly number[], b: readonly number[]): number[] {
  return a.map((value, i) => b[i]! - value);
}

/**
 * What a photo (solved with the radial lens and without a profile) teaches by itself; null when it knows too little of its
 * lens or does not say which camera took it.
 */
export function learnProfile(fit: CoreFit, metadata: PhotoMetadata): PhoneProfile | null {
  const key = profileKey(metadata);
  if (key === null || fit.model.base.lens !== 'radial') return null;
  const { mean, covariance } = lensOf(fit);
  if (lensSigmaRatio(fit, covariance) > PROFILE.teachesSigmaRatio) return null;
  return {
    key,
    make: metadata.make ?? '',
    model: metadata.model ?? '',
    lens: metadata.lens ?? '',
    focal35Mm: metadata.focal35Mm ?? 0,
    mean,
    covariance,
    photos: 1,
    taughtBy: [markOf(fit)],
    conflicts: 0,
  };
}

/** What is known after a photo taught: each photo is one draw of a wandering lens, so both count with their own wander. */
export function joinProfiles(known: PhoneProfile | null, fresh: PhoneProfile): PhoneProfile {
  if (known === null || known.key !== fresh.key) return fresh;
  if (fresh.taughtBy.every((mark) => known.taughtBy.includes(mark))) return known;
  if (
    quadratic3(sumOf(widened(known.covariance), widened(fresh.covariance)), gapOf(known.mean, fresh.mean)) >
    PROFILE.disagreesAt
  )
    return { ...fresh, conflicts: known.conflicts + 1 };
  const a = inverse(new Matrix(widened(known.covariance)));
  const b = inverse(new Matrix(widened(fresh.covariance)));
  const joined = inverse(Matrix.add(a, b));
  const weighted = Matrix.add(
    a.mmul(Matrix.columnVector([...known.mean])),
    b.mmul(Matrix.columnVector([...fresh.mean])),
  );
  const mean = joined.mmul(weighted).getColumn(0);
  return {
    ...fresh,
    mean: [mean[0]!, mean[1]!, mean[2]!],
    covariance: Matrix.add(joined, joined.transpose()).mul(0.5).to2DArray(),
    photos: known.photos + fresh.photos,
    conflicts: known.conflicts,
    taughtBy: [...known.taughtBy, ...fresh.taughtBy].slice(-PROFILE.marksKept),
  };
}

/** Two photos never show a card at the very same pixels. */
function markOf({ model }: CoreFit): string {
  return [...model.bodies[0]!.seenPx.slice(0, 4)].map((value) => value.toFixed(2)).join(' ');
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
