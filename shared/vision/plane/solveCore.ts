// Finds camera, lens, print and card placements that explain the corners best, with the covariance of what it found.
// Generic: it knows bodies with printed points and priors, nothing about cards, pages or phones. Order that converges:
// pose of the largest body, the others one after the other with the lens held tight, then everything together, robustly,
// then again without the corners that do not belong, with the corner noise re-estimated from what is left over.
import type { Matrix } from 'ml-matrix';
import { photoPx } from '../../base/points.ts';
import { BODY_COUNT, bodyAt, fullCount } from './bodyLayout.ts';
import { type Camera, centrePx, halfDiagonalPx, tableFromPhotoVia } from './cameraModel.ts';
import { CAMERA_STEP, CAMERA_STEP_COUNT, stepped } from './cameraSteps.ts';
import { homographyOf, type PlanePose, posesOf } from './homography.ts';
import { type Loss, minimise, normalAt } from './levenbergMarquardt.ts';
import { invertNormal } from './linearAlgebra.ts';
import {
  type Body,
  outermostRadius,
  type PlaneModel,
  type PlaneProblem,
  type Priors,
  planeProblem,
  type TapedDistance,
} from './planeProblem.ts';
import { type LensHypothesis, lensPrior, type PhotoPriors } from './priors.ts';

export interface CoreInput {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Expected focal length, half diagonals. */
  readonly focalRatio: number;
  readonly hypothesis: LensHypothesis;
  /** Largest in the photo first; the first is the frame. */
  readonly bodies: readonly Body[];
  /** Everything but the lens, whose prior goes with the lens model. */
  readonly priors: PhotoPriors;
  readonly taped: readonly TapedDistance[];
  /** Corner noise is never believed to be smaller than this. */
  readonly cornerSigmaFloorPx: number;
}

export interface CoreFit {
  readonly camera: Camera;
  /** Camera, print and body numbers (bodyLayout.ts), the camera part relative to `model.base`. */
  readonly full: Float64Array;
  /** Free parameters' covariance, and which number each row is. */
  readonly covariance: Matrix;
  readonly free: readonly number[];
  readonly model: PlaneModel;
  /** Squared residuals plus squared prior residuals at the minimum, in sigmas. */
  readonly cost: number;
  /** ln of the evidence (Laplace approximation), up to a constant shared by fits of the same corners at the same sigma. */
  readonly lnEvidence: number;
  readonly cornerSigmaPx: number;
  /** For every input body: which of its corners were used. */
  readonly used: readonly (readonly boolean[])[];
  /** Root mean square distance of each body's used corners from where they are expected. */
  readonly residualPx: readonly number[];
  /** Squared distance of every input corner, used or not. */
  readonly squaredPx: readonly (readonly number[])[];
}

const CORE_TUNING = {
  /** Soft-L1 changes from square to linear here, in sigmas of a 2-D residual. */
  robustScale: 3,
  /** Corners farther than this (per axis sigmas, 2-D residual) are dropped before the final fit... */
  dropAtSigmas: 4,
  /** ...when they are as far off as this: what is less is the paper's shape, and the corner noise grows to hold it. */
  dropAtLeastPx: 0.2,
  /** While cards are added, focal length and lens are held this much tighter than their priors... */
  tightFactor: 0.2,
  /** ...and corners count as this noisy, because bow and print are still left out. */
  roughSigmaPx: 0.6,
  /** Corner noise of the first, robust fit of everything. */
  firstSigmaPx: 0.1,
  /** A tilt whose rough fit is worse by this many squared (rough) sigmas is not followed further. */
  hopelessCost: 60,
  /** The corner noise is re-estimated this often; it settles after one. */
  noiseRounds: 2,
  /** Re-estimation needs this many more equations than unknowns to mean anything. */
  smallestDof: 5,
  /** A body keeps at least this many corners, or none is dropped. */
  fewestCorners: 4,
} as const;

/** Median of the squared length of a 2-D normal residual with sigma 1 per axis (Rayleigh: 2 ln 2). */
const RAYLEIGH_MEDIAN_SQUARED = 2 * Math.LN2;

export const SQUARES: Loss = { kind: 'squares' };
export const ROBUST: Loss = { kind: 'soft-l1', scale: CORE_TUNING.robustScale };

/**
 * All distinct readings of the corners, best first: one, or two when both tilts of the plane are possible.
 * Empty when the first body's corners are degenerate.
 */
export function solveCore(input: CoreInput): CoreFit[] {
  const base = baseCamera(input);
  const first = input.bodies[0];
  if (first === undefined) return [];
  const rays = rayPoints(base, first.seenPx);
  const homography = homographyOf(first.pointsMm, rays);
  if (homography === null) return [];
  const fits = addBodies(input, base, posesOf(homography)).map((start) => refine(input, start.base, start.full));
  fits.sort((a, b) => b.lnEvidence - a.lnEvidence);
  const [best, other] = fits;
  if (best === undefined || !Number.isFinite(best.cost)) return [];
  return other !== undefined && isOtherTilt(best, other) && Number.isFinite(other.lnEvidence) ? [best, other] : [best];
}

/** Refits from a known reading with other priors, lens or bodies of the same layout. */
export function refitCore(input: CoreInput, from: CoreFit): CoreFit {
  const base = { ...baseCamera(input), rotation: from.camera.rotation, translationMm: from.model.base.translationMm };
  const full = Float64Array.from(from.full);
  full[CAMERA_STEP.logFocal]! += Math.log(from.model.base.focalRatio / input.focalRatio);
  if (from.model.base.lens !== input.hypothesis.lens) full.fill(0, CAMERA_STEP.lens, CAMERA_STEP.principal);
  return refine(input, base, full);
}

function baseCamera(input: CoreInput): Camera {
  return {
    widthPx: input.widthPx,
    heightPx: input.heightPx,
    lens: input.hypothesis.lens,
    rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1],
    translationMm: [0, 0, 0],
    focalRatio: input.focalRatio,
    lensTerms: [0, 0],
    principalRatio: [0, 0],
  };
}

function priorsOf(input: CoreInput): Priors {
  return { ...input.priors, lens: lensPrior(input.priors, input.hypothesis) };
}

function rayPoints(camera: Camera, seenPx: Float64Array): Float64Array {
  const centre = centrePx(camera);
  const scale = 1 / (halfDiagonalPx(camera) * camera.focalRatio);
  return seenPx.map((value, k) => (value - centre[k % 2]!) * scale);
}

interface Reading {
  readonly base: Camera;
  readonly full: Float64Array;
  /** Cost of the fit that led here. */
  readonly cost: number;
}

/** Moves the turn into the base camera, so that later turns count from here. */
function rebased(problem: PlaneProblem, full: Float64Array): Omit<Reading, 'cost'> {
  const camera = problem.cameraAt(full);
  const next = Float64Array.from(full);
  next.fill(0, CAMERA_STEP.turn, CAMERA_STEP.shift);
  return { base: { ...problem.model.base, rotation: camera.rotation }, full: next };
}

function fitted(model: PlaneModel, start: Float64Array, loss: Loss): Reading & { readonly problem: PlaneProblem } {
  const problem = planeProblem(model, start);
  const minimum = minimise(
    problem,
    Float64Array.from(problem.free, (index) => start[index]!),
    loss,
  );
  return { problem, cost: minimum.cost, ...rebased(problem, Float64Array.from(problem.full(minimum.parameters))) };
}

/** Adds one body after the other to each pose of the first, flat and with a stiff lens, and gives up poses that do not fit. */
function addBodies(input: CoreInput, camera: Camera, poses: readonly PlanePose[]): Reading[] {
  const priors = priorsOf(input);
  const tight: Priors = {
    lens: {
      mean: priors.lens.mean,
      covariance: priors.lens.covariance.map((row) => row.map((value) => value * CORE_TUNING.tightFactor ** 2)),
    },
    principalSigmaRatio: 0,
    printSigmaRatio: 0,
  };
  const sigmaPx = CORE_TUNING.roughSigmaPx;
  const flat = input.bodies.map((body) => ({ ...body, bowSigmaMm: 0, liftSigmaMm: 0 }));
  let readings: Reading[] = poses.map((pose) => {
    const full = new Float64Array(fullCount(1));
    full.set(pose.translationMm, CAMERA_STEP.shift);
    full.set(priors.lens.mean, CAMERA_STEP.logFocal);
    return { base: { ...camera, rotation: pose.rotation }, full, cost: Number.POSITIVE_INFINITY };
  });
  for (let count = 1; count <= flat.length; count++) {
    const bodies = flat.slice(0, count);
    readings = readings.map(({ base, full }) => {
      const model = modelOf(input, base, bodies, tight, sigmaPx);
      const start = new Float64Array(fullCount(count));
      start.set(full);
      if (count > 1) start.set(placeOf(stepped(base, start), bodies[count - 1]!), bodyAt(count - 1));
      return fitted(model, start, ROBUST);
    });
    const lowest = Math.min(...readings.map(({ cost }) => cost));
    readings = readings.filter(({ cost }) => cost - lowest < CORE_TUNING.hopelessCost);
  }
  return readings;
}

function modelOf(
  input: CoreInput,
  base: Camera,
  bodies: readonly Body[],
  priors: Priors,
  cornerSigmaPx: number,
): PlaneModel {
  const usedRadius = outermostRadius(base, bodies);
  return { base, bodies, priors, taped: input.taped, cornerSigmaPx, usedRadius };
}

/** Turn and place of a body whose corners are seen through a camera already known: the rigid fit in the plane. */
function placeOf(camera: Camera, body: Body): [number, number, number] {
  const n = body.pointsMm.length / 2;
  let ax = 0;
  let ay = 0;
  let bx = 0;
  let by = 0;
  const seen: number[] = [];
  for (let k = 0; k < body.pointsMm.length; k += 2) {
    const point = tableFromPhotoVia(camera, photoPx(body.seenPx[k]!, body.seenPx[k + 1]!), 0);
    seen.push(point[0], point[1]);
    ax += body.pointsMm[k]! / n;
    ay += body.pointsMm[k + 1]! / n;
    bx += point[0] / n;
    by += point[1] / n;
  }
  let along = 0;
  let across = 0;
  for (let k = 0; k < seen.length; k += 2) {
    const px = body.pointsMm[k]! - ax;
    const py = body.pointsMm[k + 1]! - ay;
    along += px * (seen[k]! - bx) + py * (seen[k + 1]! - by);
    across += px * (seen[k + 1]! - by) - py * (seen[k]! - bx);
  }
  const turn = Math.atan2(across, along);
  if (!Number.isFinite(turn)) return [0, 0, 0];
  const cos = Math.cos(turn);
  const sin = Math.sin(turn);
  return [turn, bx - cos * ax + sin * ay, by - sin * ax - cos * ay];
}

/** The whole problem from a good start: robust, drop what does not belong, least squares, noise re-estimated. */
function refine(input: CoreInput, base: Camera, start: Float64Array): CoreFit {
  const firstPx = Math.max(input.cornerSigmaFloorPx, CORE_TUNING.firstSigmaPx);
  let reading: Reading = fitted(modelOf(input, base, input.bodies, priorsOf(input), firstPx), start, ROBUST);
  const all = cornerResidualsPx(input, reading);
  const noisePx = Math.max(input.cornerSigmaFloorPx, Math.sqrt(medianOf(all.flat()) / RAYLEIGH_MEDIAN_SQUARED));
  const limit = Math.max(CORE_TUNING.dropAtSigmas * noisePx, CORE_TUNING.dropAtLeastPx) ** 2;
  const used = all.map((body) => {
    const keep = body.map((squared) => squared <= limit);
    return keep.filter(Boolean).length >= CORE_TUNING.fewestCorners ? keep : body.map(() => true);
  });
  const bodies = input.bodies.map((body, i) => keepCorners(body, used[i]!));
  let sigmaPx = noisePx;
  for (let round = 0; ; round++) {
    const model = modelOf(input, reading.base, bodies, priorsOf(input), sigmaPx);
    const fit = fitted(model, reading.full, SQUARES);
    reading = fit;
    const report = summarise(input, { ...model, base: fit.base }, fit.full, used);
    if (round >= CORE_TUNING.noiseRounds) return report.fit;
    if (report.dof < CORE_TUNING.smallestDof) return report.fit;
    const next = Math.max(input.cornerSigmaFloorPx, Math.sqrt(report.sumSquaredPx / report.dof));
    if (Math.abs(next / sigmaPx - 1) < NOISE_SETTLED_RATIO) return report.fit;
    sigmaPx = next;
  }
}

/** A change of the estimated corner noise below this share changes no sigma that anybody could see. */
const NOISE_SETTLED_RATIO = 0.02;

function summarise(
  input: CoreInput,
  model: PlaneModel,
  full: Float64Array,
  used: readonly (readonly boolean[])[],
): { fit: CoreFit; dof: number; sumSquaredPx: number } {
  const problem = planeProblem(model, full);
  const parameters = Float64Array.from(problem.free, (index) => full[index]!);
  const normal = normalAt(problem, parameters, SQUARES);
  const { inverse, lnDeterminant } = invertNormal(normal, problem.parameterCount);
  const residuals = new Float64Array(problem.residualCount);
  problem.residuals(parameters, residuals);
  const cost = residuals.reduce((sum, r) => sum + r * r, 0);
  let sum = 0;
  for (let row = 0; row < 2 * problem.pairCount; row++) sum += residuals[row]! ** 2;
  // Each parameter uses up one equation, minus the share that its prior supplies.
  let dof = 2 * problem.pairCount - problem.parameterCount;
  let lnPriors = 0;
  problem.free.forEach((index, k) => {
    const sigma = problem.priorSigma(index);
    if (!Number.isFinite(sigma)) return;
    dof += Math.min(1, inverse.get(k, k) / sigma ** 2);
    lnPriors += 2 * Math.log(sigma);
  });
  const terms = model.priors.lens.covariance;
  const [first, both, second] = [terms[1]![1]!, terms[1]![2]!, terms[2]![2]!];
  if (first > 0 && second > 0) lnPriors += Math.log(1 - (both * both) / (first * second));
  // A dropped corner counts as one that lies just at the limit, so that dropping never buys evidence.
  const droppedCost = used.flat().filter((keep) => !keep).length * CORE_TUNING.dropAtSigmas ** 2;
  const squaredPx = cornerResidualsPx(input, { base: model.base, full });
  const residualPx = squaredPx.map((squares, i) => {
    const kept = squares.filter((_, k) => used[i]![k]!);
    return Math.sqrt(kept.reduce((total, s) => total + s, 0) / Math.max(1, kept.length));
  });
  const fit: CoreFit = {
    camera: problem.cameraAt(full),
    full: Float64Array.from(full),
    covariance: inverse,
    free: problem.free,
    model,
    cost,
    lnEvidence:
      -(cost + droppedCost + lnDeterminant + lnPriors) / 2 - 2 * used.flat().length * Math.log(model.cornerSigmaPx),
    cornerSigmaPx: model.cornerSigmaPx,
    used,
    residualPx,
    squaredPx,
  };
  return { fit, dof, sumSquaredPx: sum * model.cornerSigmaPx ** 2 };
}

/** Squared distance, pixels, of every corner of every body from where the reading expects it. */
function cornerResidualsPx(input: CoreInput, reading: Omit<Reading, 'cost'>): number[][] {
  const problem = planeProblem(modelOf(input, reading.base, input.bodies, priorsOf(input), 1), reading.full);
  const out = new Float64Array(problem.residualCount);
  problem.residuals(
    Float64Array.from(problem.free, (index) => reading.full[index]!),
    out,
  );
  let pair = 0;
  return input.bodies.map((body) =>
    Array.from({ length: body.pointsMm.length / 2 }, () => {
      const squared = out[2 * pair]! ** 2 + out[2 * pair + 1]! ** 2;
      pair++;
      return squared;
    }),
  );
}

function keepCorners(body: Body, keep: readonly boolean[]): Body {
  const pick = (values: Float64Array): Float64Array => values.filter((_, k) => keep[k >> 1]!);
  return { ...body, pointsMm: pick(body.pointsMm), seenPx: pick(body.seenPx) };
}

function medianOf(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? 0;
}

/** Tilts closer than this are one reading found twice: no photo of cards knows its tilt better than to a degree or so. */
const SAME_TILT_RAD = 0.03;

/** Whether two readings differ by which side of the line of sight the plane tilts to. */
export function isOtherTilt(a: CoreFit, b: CoreFit): boolean {
  const dx = a.camera.rotation[2]! - b.camera.rotation[2]!;
  const dy = a.camera.rotation[5]! - b.camera.rotation[5]!;
  return Math.hypot(dx, dy) > SAME_TILT_RAD;
}

/** Covariance of the camera step (CAMERA_STEP_COUNT square); rows of numbers held fixed are zero. */
export function cameraCovariance(fit: CoreFit): number[][] {
  const rows = Array.from({ length: CAMERA_STEP_COUNT }, () => new Array<number>(CAMERA_STEP_COUNT).fill(0));
  fit.free.forEach((i, a) => {
    if (i >= CAMERA_STEP_COUNT) return;
    fit.free.forEach((j, b) => {
      if (j < CAMERA_STEP_COUNT) rows[i]![j] = fit.covariance.get(a, b);
    });
  });
  return rows;
}

/** Turn, x, y, lift and bow terms of one body. */
export function bodyNumbers(fit: CoreFit, index: number): Float64Array {
  return fit.full.slice(bodyAt(index), bodyAt(index) + BODY_COUNT);
}
