// Finds the cameras of several photos and the places of all their cards together, from a start that single photos gave.
// Generic: it knows bodies, views and priors (jointProblem.ts), nothing about cards or phones.
import type { Camera } from './cameraModel.ts';
import { CAMERA_STEP, CAMERA_STEP_COUNT } from './cameraSteps.ts';
import { type JointModel, type JointProblem, jointCameraAt, jointProblem } from './jointProblem.ts';
import { type Loss, minimise, normalAt } from './levenbergMarquardt.ts';
import { invertNormal } from './linearAlgebra.ts';
import { ROBUST, SQUARES } from './solveCore.ts';

export interface JointFit {
  readonly model: JointModel;
  readonly full: Float64Array;
  readonly cameras: readonly Camera[];
  /** Covariance of all camera steps, one photo after the other; rows of numbers held fixed are zero. */
  readonly covariance: readonly (readonly number[])[];
  readonly cost: number;
  /** ln of the evidence (Laplace approximation), up to a constant shared by fits of the same views at the same noise. */
  readonly lnEvidence: number;
  /** Root mean square distance of each view's corners from where they are expected. */
  readonly viewResidualPx: readonly number[];
}

/** The fit from a start; corner noise as the model states it. */
export function solveJoint(model: JointModel, start: Float64Array): JointFit {
  const rough = fitted(model, start, ROBUST);
  const fine = fitted(rough.model, rough.full, SQUARES);
  return summary(fine.model, fine.full);
}

/** The same model with each photo's corner noise as the fit found it, never below its floor. */
export function withNoiseOf({ model, full, viewResidualPx }: JointFit, floorsPx: readonly number[]): JointModel {
  const problem = jointProblem(model, full);
  // Every number uses up one equation; the prior rows give back about as many as there are numbers with priors.
  const unknowns = problem.free.filter((index) => !Number.isFinite(problem.priorSigma(index))).length;
  const left = 1 - unknowns / Math.max(unknowns + 1, 2 * problem.pairCount);
  const shots = model.shots.map((shot, index) => {
    let sum = 0;
    let corners = 0;
    model.views.forEach((view, i) => {
      if (view.shot !== index) return;
      sum += (viewResidualPx[i]! ** 2 * view.pointsMm.length) / 2;
      corners += view.pointsMm.length / 2;
    });
    return { ...shot, cornerSigmaPx: Math.max(floorsPx[index]!, Math.sqrt(sum / (2 * corners * left))) };
  });
  return { ...model, shots };
}

function fitted(model: JointModel, start: Float64Array, loss: Loss): { model: JointModel; full: Float64Array } {
  const problem = jointProblem(model, start);
  const minimum = minimise(
    problem,
    Float64Array.from(problem.free, (index) => start[index]!),
    loss,
  );
  return rebased(model, problem, Float64Array.from(problem.full(minimum.parameters)));
}

/** Moves the turns into the base cameras, so that later turns count from here. */
function rebased(
  model: JointModel,
  problem: JointProblem,
  full: Float64Array,
): { model: JointModel; full: Float64Array } {
  const shots = model.shots.map((shot, index) => {
    const { rotation } = problem.cameraAt(full, index);
    return { ...shot, base: { ...shot.base, rotation } };
  });
  for (let index = 0; index < shots.length; index++) {
    const at = jointCameraAt(model, index);
    full.fill(0, at + CAMERA_STEP.turn, at + CAMERA_STEP.shift);
  }
  return { model: { ...model, shots }, full };
}

function summary(model: JointModel, full: Float64Array): JointFit {
  const problem = jointProblem(model, full);
  const parameters = Float64Array.from(problem.free, (index) => full[index]!);
  const { inverse, lnDeterminant } = invertNormal(normalAt(problem, parameters, SQUARES), problem.parameterCount);
  const residuals = new Float64Array(problem.residualCount);
  problem.residuals(parameters, residuals);
  const cost = residuals.reduce((sum, r) => sum + r * r, 0);
  let row = 0;
  const viewResidualPx = model.views.map((view) => {
    let sum = 0;
    for (let k = 0; k < view.pointsMm.length; k++) sum += residuals[row++]! ** 2;
    return Math.sqrt((2 * sum) / view.pointsMm.length) * model.shots[view.shot]!.cornerSigmaPx;
  });
  const camerasAt = jointCameraAt(model, 0);
  const size = CAMERA_STEP_COUNT * model.shots.length;
  const covariance = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  problem.free.forEach((i, a) => {
    if (i < camerasAt) return;
    problem.free.forEach((j, b) => {
      if (j >= camerasAt) covariance[i - camerasAt]![j - camerasAt] = inverse.get(a, b);
    });
  });
  return {
    model,
    full: Float64Array.from(full),
    cameras: model.shots.map((_, index) => problem.cameraAt(full, index)),
    covariance,
    cost,
    lnEvidence: -(cost + lnDeterminant + lnPriors(model, problem)) / 2,
    viewResidualPx,
  };
}

/** ln of the determinant of all priors: what more freedom costs. */
function lnPriors(model: JointModel, problem: JointProblem): number {
  let sum = 0;
  for (const index of problem.free) {
    const sigma = problem.priorSigma(index);
    if (Number.isFinite(sigma)) sum += 2 * Math.log(sigma);
  }
  for (const { lens } of model.shots) {
    const [first, both, second] = [lens.covariance[1]![1]!, lens.covariance[1]![2]!, lens.covariance[2]![2]!];
    if (first > 0 && second > 0) sum += Math.log(1 - (both * both) / (first * second));
  }
  return sum;
}
