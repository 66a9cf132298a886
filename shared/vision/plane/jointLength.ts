// How sure a length is that several photos saw, each a part of it: the independent ways in which all cameras together may be
// off are played through (as lengthUncertainty.ts does for one photo), so that what the photos share is not counted twice
// and what each brings is not left out.
import type { PhotoPointPx } from '../../base/points.ts';
import { type Camera, tableFromPhotoVia } from './cameraModel.ts';
import { CAMERA_STEP_COUNT, stepped } from './cameraSteps.ts';
import { type LengthOptions, scaleLines } from './lengthUncertainty.ts';
import { squareRootColumns } from './linearAlgebra.ts';

/** Cameras of several photos in one table frame. */
export interface JointReadings {
  readonly cameras: readonly Camera[];
  /** Of all camera steps, one photo after the other. */
  readonly covariance: readonly (readonly number[])[];
  readonly rivals: readonly {
    readonly cameras: readonly Camera[];
    readonly covariance: readonly (readonly number[])[];
    readonly weight: number;
  }[];
}

/** A point of the table as the photos saw it; weights sum to 1. */
export type Witnesses = readonly { readonly shot: number; readonly photo: PhotoPointPx; readonly weight: number }[];

interface JointMode {
  readonly up: readonly Camera[];
  readonly down: readonly Camera[];
  readonly factor: number;
  /** Lifted above the measuring height while going `up`. */
  readonly liftMm: number;
  readonly lifted: 'line' | 'first-point' | 'last-point';
}

export interface JointErrors {
  readonly options: LengthOptions;
  readonly modes: readonly JointMode[];
  /** Relative standard uncertainty of the scale that everything in these photos shares. */
  readonly scaleSigmaRatio: number;
}

export function jointErrors({ cameras, covariance, rivals }: JointReadings, options: LengthOptions): JointErrors {
  const rivalWeight = rivals.reduce((sum, rival) => sum + rival.weight, 0);
  const modes = modesOf(cameras, covariance, 1 - rivalWeight);
  for (const rival of rivals) {
    modes.push(...modesOf(rival.cameras, rival.covariance, rival.weight));
    modes.push({ up: rival.cameras, down: cameras, factor: Math.sqrt(rival.weight), liftMm: 0, lifted: 'line' });
  }
  for (const lifted of ['line', 'first-point', 'last-point'] as const)
    modes.push({ up: cameras, down: cameras, factor: 1, liftMm: options.flatnessSigmaMm, lifted });
  const lines = cameras.flatMap((camera, shot) =>
    scaleLines(camera).map((line) => line.map((photo): Witnesses => [{ shot, photo, weight: 1 }])),
  );
  const lengths = lines.map((line) => pathMm(cameras, line, options.heightMm));
  const seen = lines.filter((_, i) => Number.isFinite(lengths[i]!));
  const total = lengths.reduce((sum, length) => sum + (Number.isFinite(length) ? length : 0), 0);
  let squared = 0;
  for (const mode of modes) {
    if (mode.lifted !== 'line') continue; // a lifted end belongs to one line, never to the scale
    squared += (seen.reduce((sum, line) => sum + changeOf(mode, line, options), 0) / total) ** 2;
  }
  return { options, modes, scaleSigmaRatio: Number.isFinite(squared) ? Math.sqrt(squared) : Number.POSITIVE_INFINITY };
}

/** Standard uncertainty of the length of a line; Infinity when a one-sigma change turns it over the horizon. */
export function jointLengthSigmaMm(errors: JointErrors, line: readonly Witnesses[]): number {
  let squared = 0;
  for (const mode of errors.modes) squared += changeOf(mode, line, errors.options) ** 2;
  return Number.isFinite(squared) ? Math.sqrt(squared) : Number.POSITIVE_INFINITY;
}

function modesOf(cameras: readonly Camera[], covariance: readonly (readonly number[])[], weight: number): JointMode[] {
  return squareRootColumns(covariance).map((column) => ({
    up: cameras.map((camera, shot) => stepped(camera, partOf(column, shot, 1))),
    down: cameras.map((camera, shot) => stepped(camera, partOf(column, shot, -1))),
    factor: Math.sqrt(weight) / 2,
    liftMm: 0,
    lifted: 'line',
  }));
}

function partOf(column: readonly number[], shot: number, sign: 1 | -1): number[] {
  const at = CAMERA_STEP_COUNT * shot;
  return column.slice(at, at + CAMERA_STEP_COUNT).map((value) => sign * value);
}

function changeOf(mode: JointMode, line: readonly Witnesses[], { heightMm }: LengthOptions): number {
  const lift = { mm: mode.liftMm, of: mode.lifted };
  return mode.factor * (pathMm(mode.up, line, heightMm, lift) - pathMm(mode.down, line, heightMm));
}

function pathMm(
  cameras: readonly Camera[],
  line: readonly Witnesses[],
  heightMm: number,
  lift: { readonly mm: number; readonly of: JointMode['lifted'] } = { mm: 0, of: 'line' },
): number {
  let length = 0;
  let lastX = 0;
  let lastY = 0;
  line.forEach((witnesses, k) => {
    const lifted = lift.of === 'line' || (lift.of === 'first-point' ? k === 0 : k === line.length - 1);
    let x = 0;
    let y = 0;
    for (const { shot, photo, weight } of witnesses) {
      const at = tableFromPhotoVia(cameras[shot]!, photo, lifted ? heightMm + lift.mm : heightMm);
      x += weight * at[0];
      y += weight * at[1];
    }
    if (k > 0) length += Math.hypot(x - lastX, y - lastY);
    lastX = x;
    lastY = y;
  });
  return length;
}
