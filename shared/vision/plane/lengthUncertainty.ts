// How sure a length is. Every independent way in which camera, lens, cards and print may be off by one sigma is played
// through, and the change of the length is what counts: frame and gauge drop out by themselves, and what two lengths of
// one photo share is known. Propagation as in JCGM 100:2008, 5.2 (correlated input), by differences.
import { type PhotoPointPx, photoPx } from '../../base/points.ts';
import { type Camera, tableFromPhotoVia } from './cameraModel.ts';
import { stepped } from './cameraSteps.ts';
import { squareRootColumns } from './linearAlgebra.ts';
import type { PlaneSolution } from './planeSolution.ts';

export interface LengthOptions {
  /** Height of the measured thing above the table. */
  readonly heightMm: number;
  /** Standard deviation of that height: paper does not lie perfectly flat. */
  readonly flatnessSigmaMm: number;
}

/**
 * Pattern paper smoothed by hand: its rims still rise by some tenths of a millimetre. With 0.1 mm 91 % of the length errors on
 * simulated photos (a third of the pieces bowed by 0.3 to 1 mm) lay within two sigma, with 0.25 mm 96 %.
 */
export const FLAT_PAPER: LengthOptions = { heightMm: 0, flatnessSigmaMm: 0.25 };

export interface LengthUncertainty {
  readonly lengthMm: number;
  /** Standard uncertainty of the length, everything that comes from camera, cards and print. */
  readonly sigmaMm: number;
  /** The part that is not the common scale error of the photo. */
  readonly localSigmaMm: number;
}

/** Play-through of one photo's uncertainty; make it once, ask it for many lengths. */
export interface ErrorModes {
  readonly camera: Camera;
  readonly options: LengthOptions;
  readonly modes: readonly ErrorMode[];
  /** Relative change of the common scale in each mode. */
  readonly scaleChanges: readonly number[];
  /** Relative standard uncertainty of the scale that everything in the photo shares. */
  readonly scaleSigmaRatio: number;
}

/** A way in which the reading may be off: the length changes by `factor` x (through `up` - through `down`). */
interface ErrorMode {
  readonly up: Camera;
  readonly down: Camera;
  /** Lifted above the measuring height while going `up`. */
  readonly lift: { readonly mm: number; readonly of: 'line' | 'first-point' | 'last-point' };
  readonly factor: number;
}

/** The common scale is taken over this many lines each way across the middle of the picture... */
const SCALE_LINES = 5;
/** ...and over this share of its width and height. */
const SCALE_REGION_RATIO = 0.7;

/** The part of a solution that lengths need; the rest of it may not exist yet. */
export type Readings = Pick<PlaneSolution, 'camera' | 'covariance' | 'rivals'>;

export function errorModes({ camera, covariance, rivals }: Readings, options: LengthOptions): ErrorModes {
  const rivalWeight = rivals.reduce((sum, rival) => sum + rival.weight, 0);
  const modes = modesOf(camera, covariance, 1 - rivalWeight);
  for (const rival of rivals) {
    modes.push(...modesOf(rival.camera, rival.covariance, rival.weight));
    // Another reading moves the length as a whole: the variance between readings, weighed.
    modes.push({ up: rival.camera, down: camera, lift: NO_LIFT, factor: Math.sqrt(rival.weight) });
  }
  // The paper as a whole does not lie where it is believed to lie, and its ends do so each on its own.
  for (const of of ['line', 'first-point', 'last-point'] as const)
    modes.push({ up: camera, down: camera, lift: { mm: options.flatnessSigmaMm, of }, factor: 1 });
  const lines = scaleLines(camera);
  const lengths = lines.map((line) => polylineMm(camera, line, options.heightMm, NO_LIFT));
  const seen = lines.filter((_, i) => Number.isFinite(lengths[i]!));
  const total = lengths.reduce((sum, length) => sum + (Number.isFinite(length) ? length : 0), 0);
  const changes = modes.map((mode) =>
    // A lifted end belongs to one line, never to the scale.
    mode.lift.of !== 'line' ? 0 : seen.reduce((sum, line) => sum + changeOf(mode, line, options), 0) / total,
  );
  const squared = changes.reduce((sum, change) => sum + change * change, 0);
  const scaleSigmaRatio = Number.isFinite(squared) ? Math.sqrt(squared) : Number.POSITIVE_INFINITY;
  return { camera, options, modes, scaleChanges: changes, scaleSigmaRatio };
}

/** Length of a polyline (photo pixels) with its standard uncertainty. NaN where the line leaves the table. */
export function lengthUncertainty(errors: ErrorModes, line: readonly PhotoPointPx[]): LengthUncertainty {
  const lengthMm = polylineMm(errors.camera, line, errors.options.heightMm, NO_LIFT);
  let total = 0;
  let local = 0;
  errors.modes.forEach((mode, k) => {
    const change = changeOf(mode, line, errors.options);
    total += change * change;
    local += (change - errors.scaleChanges[k]! * lengthMm) ** 2;
  });
  // A one-sigma change that turns the line over the horizon leaves nothing known about its length.
  const known = (squared: number): number => (Number.isFinite(squared) ? Math.sqrt(squared) : Number.POSITIVE_INFINITY);
  return { lengthMm, sigmaMm: known(total), localSigmaMm: known(local) };
}

/** Half the length, pixels, of the short lines by which a place is judged. */
const TRUST_REACH_PX = 60;

/**
 * Relative standard uncertainty of a short length at a place of the photo, the worse of two directions: the map that
 * shows where a length is trustworthy. Infinity where the table is not seen.
 */
export function lengthSigmaRatioAt(errors: ErrorModes, at: PhotoPointPx): number {
  const across = [photoPx(at[0] - TRUST_REACH_PX, at[1]), photoPx(at[0] + TRUST_REACH_PX, at[1])];
  const along = [photoPx(at[0], at[1] - TRUST_REACH_PX), photoPx(at[0], at[1] + TRUST_REACH_PX)];
  const ratios = [across, along].map((line) => {
    const { lengthMm, sigmaMm } = lengthUncertainty(errors, line);
    return sigmaMm / lengthMm;
  });
  const worst = Math.max(...ratios);
  return Number.isFinite(worst) ? worst : Number.POSITIVE_INFINITY;
}

function modesOf(camera: Camera, covariance: Readings['covariance'], weight: number): ErrorMode[] {
  return squareRootColumns(covariance).map((column) => ({
    up: stepped(camera, column),
    down: stepped(
      camera,
      column.map((value) => -value),
    ),
    lift: NO_LIFT,
    factor: Math.sqrt(weight) / 2,
  }));
}

const NO_LIFT: ErrorMode['lift'] = { mm: 0, of: 'line' };

function changeOf(mode: ErrorMode, line: readonly PhotoPointPx[], { heightMm }: LengthOptions): number {
  const { up, down, lift, factor } = mode;
  return factor * (polylineMm(up, line, heightMm, lift) - polylineMm(down, line, heightMm, NO_LIFT));
}

function polylineMm(camera: Camera, line: readonly PhotoPointPx[], heightMm: number, lift: ErrorMode['lift']): number {
  let length = 0;
  let last: readonly [number, number] | undefined;
  line.forEach((point, k) => {
    const lifted = lift.of === 'line' || (lift.of === 'first-point' ? k === 0 : k === line.length - 1);
    const next = tableFromPhotoVia(camera, point, lifted ? heightMm + lift.mm : heightMm);
    if (last !== undefined) length += Math.hypot(next[0] - last[0], next[1] - last[1]);
    last = next;
  });
  return length;
}

/** Lines across the middle of the picture over which the common scale is taken. */
export function scaleLines(camera: Camera): PhotoPointPx[][] {
  const low = (1 - SCALE_REGION_RATIO) / 2;
  const lines: PhotoPointPx[][] = [];
  for (let k = 0; k < SCALE_LINES; k++) {
    const at = low + (SCALE_REGION_RATIO * k) / (SCALE_LINES - 1);
    const x = at * camera.widthPx;
    const y = at * camera.heightPx;
    lines.push([photoPx(low * camera.widthPx, y), photoPx((1 - low) * camera.widthPx, y)]);
    lines.push([photoPx(x, low * camera.heightPx), photoPx(x, (1 - low) * camera.heightPx)]);
  }
  return lines;
}
