// The one least-squares problem: camera, lens, print scale, and for every card its place, its height and its bow explain
// the corners seen, each number held by what is known of it beforehand. Whatever is uncertain in the world is a parameter
// here with a prior, so that the covariance is truthful by construction instead of by a factor.
import type { PhotoPointPx } from '../../base/points.ts';
import { BODIES_AT, BODY, BODY_COUNT, bodyAt, PRINT_AT } from './bodyLayout.ts';
import { bodySurface, restingLiftMm, surfaceSlopes } from './bodySurface.ts';
import { type Camera, halfDiagonalPx, lensSlope, projectInto, tableFromPhotoVia } from './cameraModel.ts';
import { CAMERA_STEP, CAMERA_STEP_COUNT, stepped } from './cameraSteps.ts';
import type { LeastSquaresProblem } from './levenbergMarquardt.ts';
import { whiteningOf } from './linearAlgebra.ts';
import { POINT_SLOPES_AT, projectionSlopes } from './projectionSlopes.ts';

/** A rigid set of printed points (a card, or an uncut page) and where they were seen. */
export interface Body {
  /** x, y pairs, millimetres in the body's own axes, as printed according to the typed print scale. */
  readonly pointsMm: Float64Array;
  /** x, y pairs, photo pixels, same order. */
  readonly seenPx: Float64Array;
  /** Half the width of the paper the points are printed on; the bow is stated over this distance. */
  readonly halfSizeMm: number;
  /** Middle of that paper in the body's axes; it bows about this point. */
  readonly paperMiddleMm: readonly [number, number];
  /** How far that paper reaches from its middle along x and y. */
  readonly paperReachMm: readonly [number, number];
  /** Standard deviations of the three bow terms; 0 holds the body flat. */
  readonly bowSigmaMm: number;
  /** Standard deviation of its height about the height at which a bowed paper rests on the table; 0 holds it there. */
  readonly liftSigmaMm: number;
}

/** Joint normal prior on (ln focal step, lens term 1, lens term 2); a variance of 0 holds a number at its mean. */
export interface LensPrior {
  readonly mean: readonly [number, number, number];
  readonly covariance: readonly (readonly number[])[];
}

/** What is known beforehand; a standard deviation of 0 holds a number fixed. */
export interface Priors {
  readonly lens: LensPrior;
  readonly principalSigmaRatio: number;
  /** Relative size error of the print, an axis, shared by all bodies. */
  readonly printSigmaRatio: number;
}

/** One distance measured with a tape between two photo points on the table. */
export interface TapedDistance {
  readonly from: PhotoPointPx;
  readonly to: PhotoPointPx;
  readonly lengthMm: number;
  readonly sigmaMm: number;
}

export interface PlaneModel {
  /** Where the camera parameters count from: focal at its prior, no lens terms, centred; its rotation is the chart's origin. */
  readonly base: Camera;
  readonly bodies: readonly Body[];
  readonly priors: Priors;
  readonly taped: readonly TapedDistance[];
  readonly cornerSigmaPx: number;
  /** Outermost radius that is used, half diagonals; the lens must not fold over before it. */
  readonly usedRadius: number;
}

const GUARD = {
  /** Fractions of the used radius at which the lens is asked not to fold. */
  radii: [0.6, 0.8, 1, 1.1],
  slope: 0.3,
  weight: 50,
} as const;

/** Step of the central difference for each number: small against its sigma, large against rounding of the projection. */
export const DIFFERENCE_STEPS = { turnRad: 1e-6, mm: 1e-3, ratio: 1e-6 } as const;

/** ln focal and the two lens terms. */
const LENS_NUMBERS = 3;

/** Residual, in sigmas, of a corner that the trial camera cannot see at all. */
export const UNSEEN_SIGMAS = 1e3;

export interface PlaneProblem extends LeastSquaresProblem {
  readonly model: PlaneModel;
  /** Full-vector index of each free parameter. */
  readonly free: readonly number[];
  readonly full: (parameters: ArrayLike<number>) => Float64Array;
  readonly cameraAt: (full: ArrayLike<number>) => Camera;
  /** Index among the free parameters, or -1 when held fixed. */
  readonly freeIndex: (fullIndex: number) => number;
  /** Prior standard deviation of a free parameter; Infinity when it has none. */
  readonly priorSigma: (fullIndex: number) => number;
}

/** Builds the problem; numbers that are held fixed keep their value in `fixed` (a full vector). */
export function planeProblem(model: PlaneModel, fixed: Float64Array): PlaneProblem {
  const sigmas = priorSigmas(model);
  const free: number[] = [];
  sigmas.forEach((sigma, index) => {
    if (sigma > 0) free.push(index);
  });
  const starts: number[] = [];
  let pairCount = 0;
  for (const body of model.bodies) {
    starts.push(pairCount);
    pairCount += body.pointsMm.length / 2;
  }
  const layout = priorLayout(model, sigmas);
  const residualCount = 2 * pairCount + layout.count;
  const scratch = Float64Array.from(fixed);
  const full = (parameters: ArrayLike<number>): Float64Array => {
    for (let i = 0; i < free.length; i++) scratch[free[i]!] = parameters[i]!;
    return scratch;
  };
  const cameraAt = (vector: ArrayLike<number>): Camera => stepped(model.base, vector);

  const cornersOf = (vector: Float64Array, camera: Camera, index: number, out: Float64Array, at: number): void => {
    const body = model.bodies[index]!;
    const surface = bodySurface(body, vector, PRINT_AT, bodyAt(index));
    for (let k = 0; k < body.pointsMm.length; k += 2) {
      surface.place(body.pointsMm[k]!, body.pointsMm[k + 1]!);
      const seen = projectInto(camera, surface.x, surface.y, surface.heightMm, out, at + k);
      out[at + k] = seen ? (out[at + k]! - body.seenPx[k]!) / model.cornerSigmaPx : UNSEEN_SIGMAS;
      out[at + k + 1] = seen ? (out[at + k + 1]! - body.seenPx[k + 1]!) / model.cornerSigmaPx : UNSEEN_SIGMAS;
    }
  };

  const residuals = (parameters: Float64Array, out: Float64Array): void => {
    const vector = full(parameters);
    const camera = cameraAt(vector);
    for (let i = 0; i < model.bodies.length; i++) cornersOf(vector, camera, i, out, 2 * starts[i]!);
    layout.write(vector, camera, out, 2 * pairCount);
  };

  const columns = new Int32Array(fixed.length).fill(-1);
  free.forEach((index, column) => {
    columns[index] = column;
  });

  /** Slopes of the corners, two rows each: through the placed point to the body's numbers, and to the camera's. */
  const cornerRows = (vector: Float64Array, out: Float64Array): void => {
    const n = free.length;
    const projection = projectionSlopes(model.base, vector);
    model.bodies.forEach((body, index) => {
      const surface = bodySurface(body, vector, PRINT_AT, bodyAt(index));
      const placed = surfaceSlopes(body, vector, PRINT_AT, bodyAt(index));
      for (let k = 0; k < body.pointsMm.length; k += 2) {
        surface.place(body.pointsMm[k]!, body.pointsMm[k + 1]!);
        if (!projection.at(surface.x, surface.y, surface.heightMm)) continue;
        placed.at(body.pointsMm[k]!, body.pointsMm[k + 1]!);
        const row = (2 * starts[index]! + k) * n;
        writeRow(projection.x, placed.values, columns, bodyAt(index), model.cornerSigmaPx, out, row);
        writeRow(projection.y, placed.values, columns, bodyAt(index), model.cornerSigmaPx, out, row + n);
      }
    });
  };

  const jacobian = (parameters: Float64Array, out: Float64Array): void => {
    const n = free.length;
    out.fill(0);
    const vector = full(parameters);
    cornerRows(vector, out);
    const plus = new Float64Array(layout.count);
    const minus = new Float64Array(layout.count);
    const unmoved = cameraAt(vector);
    for (let column = 0; column < n; column++) {
      const index = free[column]!;
      const value = vector[index]!;
      const h = differenceStep(index);
      const movesCamera = index < CAMERA_STEP_COUNT;
      vector[index] = value + h;
      layout.write(vector, movesCamera ? cameraAt(vector) : unmoved, plus, 0);
      vector[index] = value - h;
      layout.write(vector, movesCamera ? cameraAt(vector) : unmoved, minus, 0);
      vector[index] = value;
      for (let row = 0; row < layout.count; row++)
        out[(2 * pairCount + row) * n + column] = (plus[row]! - minus[row]!) / (2 * h);
    }
  };

  return {
    parameterCount: free.length,
    residualCount,
    pairCount,
    residuals,
    jacobian,
    model,
    free,
    full,
    cameraAt,
    freeIndex: (fullIndex) => free.indexOf(fullIndex),
    priorSigma: (fullIndex) => sigmas[fullIndex]!,
  };
}

/** One row of corner slopes: the camera's numbers, then the print's and the body's through the placed point. */
function writeRow(
  slopes: Float64Array,
  placed: Float64Array,
  columns: Int32Array,
  body: number,
  sigmaPx: number,
  out: Float64Array,
  row: number,
): void {
  for (let number = 0; number < CAMERA_STEP_COUNT; number++) {
    const column = columns[number]!;
    if (column >= 0) out[row + column] = slopes[number]! / sigmaPx;
  }
  for (let number = 0; number < 2 + BODY_COUNT; number++) {
    const column = columns[number < 2 ? PRINT_AT + number : body + number - 2]!;
    if (column < 0) continue;
    let slope = 0;
    for (let c = 0; c < 3; c++) slope += slopes[POINT_SLOPES_AT + c]! * placed[3 * number + c]!;
    out[row + column] = slope / sigmaPx;
  }
}

function differenceStep(index: number): number {
  if (index < CAMERA_STEP.shift) return DIFFERENCE_STEPS.turnRad;
  if (index < CAMERA_STEP.logFocal) return DIFFERENCE_STEPS.mm;
  if (index < BODIES_AT) return DIFFERENCE_STEPS.ratio;
  return (index - BODIES_AT) % BODY_COUNT === BODY.turn ? DIFFERENCE_STEPS.turnRad : DIFFERENCE_STEPS.mm;
}

/** Prior standard deviation of every number of the full vector: 0 fixed, Infinity free. */
function priorSigmas(model: PlaneModel): number[] {
  const { priors } = model;
  const free = Number.POSITIVE_INFINITY;
  const sigmas = [free, free, free, free, free, free];
  for (let k = 0; k < LENS_NUMBERS; k++) sigmas.push(Math.sqrt(priors.lens.covariance[k]![k]!));
  sigmas.push(priors.principalSigmaRatio, priors.principalSigmaRatio, priors.printSigmaRatio, priors.printSigmaRatio);
  model.bodies.forEach((body, index) => {
    const place = index === 0 ? 0 : free; // the first body is the frame
    sigmas.push(place, place, place, body.liftSigmaMm, body.bowSigmaMm, body.bowSigmaMm, body.bowSigmaMm);
  });
  return sigmas;
}

interface PriorLayout {
  readonly count: number;
  readonly write: (vector: Float64Array, camera: Camera, out: Float64Array, at: number) => void;
}

/** The rows that hold parameters to what is known of them, in a fixed order. */
function priorLayout(model: PlaneModel, sigmas: readonly number[]): PriorLayout {
  const { priors, bodies, taped } = model;
  const shared: number[] = [];
  for (let index = CAMERA_STEP.principal; index < BODIES_AT; index++) if (sigmas[index]! > 0) shared.push(index);
  const lens = lensRows(priors.lens);
  const count = shared.length + lens.rows.length + FOLD_GUARD_ROWS + 4 * bodies.length + taped.length;
  const write = (vector: Float64Array, camera: Camera, out: Float64Array, at: number): void => {
    let row = at;
    for (const index of shared) out[row++] = vector[index]! / sigmas[index]!;
    for (const weights of lens.rows) {
      let sum = 0;
      for (let k = 0; k < weights.length; k++)
        sum += weights[k]! * (vector[CAMERA_STEP.logFocal + lens.numbers[k]!]! - priors.lens.mean[lens.numbers[k]!]!);
      out[row++] = sum;
    }
    row = writeFoldGuard(camera, model.usedRadius, out, row);
    bodies.forEach((body, index) => {
      const own = bodyAt(index);
      const bow = own + BODY.bow;
      out[row++] =
        body.liftSigmaMm > 0 ? (vector[own + BODY.lift]! - restingLiftMm(vector, bow)) / body.liftSigmaMm : 0;
      for (let k = 0; k < 3; k++) out[row++] = body.bowSigmaMm > 0 ? vector[bow + k]! / body.bowSigmaMm : 0;
    });
    for (const tape of taped) out[row++] = tapedResidual(camera, tape);
  };
  return { count, write };
}

/** How many rows writeFoldGuard fills. */
export const FOLD_GUARD_ROWS = GUARD.radii.length;

/** Rows that ask the lens not to fold over within the used radius; gives the row after them. */
export function writeFoldGuard(camera: Camera, usedRadius: number, out: Float64Array, at: number): number {
  let row = at;
  for (const fraction of GUARD.radii)
    out[row++] = GUARD.weight * Math.max(0, GUARD.slope - lensSlope(camera, fraction * usedRadius));
  return row;
}

/** Distance between the ends as the camera sees it, against the tape, in sigmas. */
export function tapedResidual(camera: Camera, { from, to, lengthMm, sigmaMm }: TapedDistance): number {
  const a = tableFromPhotoVia(camera, from, 0);
  const b = tableFromPhotoVia(camera, to, 0);
  const gap = (Math.hypot(a[0] - b[0], a[1] - b[1]) - lengthMm) / sigmaMm;
  return Number.isFinite(gap) ? gap : UNSEEN_SIGMAS;
}

/** Rows that turn the free lens numbers into independent sigmas. */
export function lensRows(prior: LensPrior): {
  readonly numbers: readonly number[];
  readonly rows: readonly number[][];
} {
  const numbers = [0, 1, 2].filter((k) => prior.covariance[k]![k]! > 0);
  return { numbers, rows: whiteningOf(numbers.map((i) => numbers.map((j) => prior.covariance[i]![j]!))) };
}

/** Distance of the outermost of these photo points from the picture's centre, half diagonals. */
export function outermostRadius(camera: Camera, bodies: readonly Pick<Body, 'seenPx'>[]): number {
  let radius = 0;
  for (const body of bodies)
    for (let k = 0; k < body.seenPx.length; k += 2)
      radius = Math.max(
        radius,
        Math.hypot(body.seenPx[k]! - (camera.widthPx - 1) / 2, body.seenPx[k + 1]! - (camera.heightPx - 1) / 2),
      );
  return radius / halfDiagonalPx(camera);
}
