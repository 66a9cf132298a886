// One least-squares problem over several photos of the same table: a camera for each photo, one place, height and bow for
// each card however many photos show it, one print. What single photos know of a card adds up here instead of being
// averaged afterwards. Photos of one phone at one setting share their lens up to what wanders between shots.
import { BODY, BODY_COUNT } from './bodyLayout.ts';
import { bodySurface, restingLiftMm } from './bodySurface.ts';
import { type Camera, projectInto } from './cameraModel.ts';
import { CAMERA_STEP, CAMERA_STEP_COUNT, stepped } from './cameraSteps.ts';
import type { LeastSquaresProblem } from './levenbergMarquardt.ts';
import {
  type Body,
  DIFFERENCE_STEPS,
  FOLD_GUARD_ROWS,
  type LensPrior,
  lensRows,
  type TapedDistance,
  tapedResidual,
  UNSEEN_SIGMAS,
  writeFoldGuard,
} from './planeProblem.ts';

/** A body's shape and stiffness; where it was seen stands in the views. */
export type JointBody = Omit<Body, 'pointsMm' | 'seenPx'>;

/** The points of one body in one photo. */
export interface JointView {
  readonly shot: number;
  readonly body: number;
  /** x, y pairs, millimetres in the body's own axes. */
  readonly pointsMm: Float64Array;
  /** x, y pairs, photo pixels, same order. */
  readonly seenPx: Float64Array;
}

export interface JointShot {
  /** Where this photo's camera step counts from. */
  readonly base: Camera;
  /** Prior on ln focal step and lens terms; about the numbers of shot `tiedTo` when that is not null. */
  readonly lens: LensPrior;
  readonly tiedTo: number | null;
  readonly cornerSigmaPx: number;
  /** Outermost radius that is used, half diagonals. */
  readonly usedRadius: number;
  /** Between points picked by hand in this photo. */
  readonly taped: readonly TapedDistance[];
}

/** A printed point: body millimetres as in the views. */
export interface BodyPoint {
  readonly body: number;
  readonly xMm: number;
  readonly yMm: number;
}

/** One distance measured with a tape between two printed points; no photo need show both. */
export interface TapedBodies {
  readonly from: BodyPoint;
  readonly to: BodyPoint;
  readonly lengthMm: number;
  readonly sigmaMm: number;
}

export interface JointModel {
  /** The first body is the frame. */
  readonly bodies: readonly JointBody[];
  readonly shots: readonly JointShot[];
  readonly views: readonly JointView[];
  readonly taped: readonly TapedBodies[];
  readonly principalSigmaRatio: number;
  readonly printSigmaRatio: number;
}

/** Order of the numbers: two print errors, seven numbers a body, then one camera step a photo. */
const JOINT_PRINT_AT = 0;
const FIRST_BODY_AT = 2;

export function jointBodyAt(index: number): number {
  return FIRST_BODY_AT + BODY_COUNT * index;
}

export function jointCameraAt(model: Pick<JointModel, 'bodies'>, shot: number): number {
  return jointBodyAt(model.bodies.length) + CAMERA_STEP_COUNT * shot;
}

export function jointCount(model: Pick<JointModel, 'bodies' | 'shots'>): number {
  return jointCameraAt(model, model.shots.length);
}

export interface JointProblem extends LeastSquaresProblem {
  /** Full-vector index of each free number. */
  readonly free: readonly number[];
  readonly full: (parameters: ArrayLike<number>) => Float64Array;
  readonly cameraAt: (full: Float64Array, shot: number) => Camera;
  readonly priorSigma: (fullIndex: number) => number;
}

/** Which rows a number moves: those of some views, and the priors. */
type Owner = { readonly kind: 'print' } | { readonly kind: 'body' | 'shot'; readonly index: number };

/** Builds the problem; numbers that are held fixed keep their value in `fixed` (a full vector). */
export function jointProblem(model: JointModel, fixed: Float64Array): JointProblem {
  const { views, bodies, shots } = model;
  const sigmas = priorSigmas(model);
  const free = sigmas.flatMap((sigma, index) => (sigma > 0 ? [index] : []));
  const starts: number[] = [];
  let pairCount = 0;
  for (const view of views) {
    starts.push(pairCount);
    pairCount += view.pointsMm.length / 2;
  }
  const priors = priorRows(model, sigmas);
  const residualCount = 2 * pairCount + priors.count;
  const scratch = Float64Array.from(fixed);
  const full = (parameters: ArrayLike<number>): Float64Array => {
    for (let i = 0; i < free.length; i++) scratch[free[i]!] = parameters[i]!;
    return scratch;
  };
  const cameraAt = (vector: Float64Array, shot: number): Camera => {
    const at = jointCameraAt(model, shot);
    return stepped(shots[shot]!.base, vector.subarray(at, at + CAMERA_STEP_COUNT));
  };
  const camerasAt = (vector: Float64Array): Camera[] => shots.map((_, shot) => cameraAt(vector, shot));

  const writeView = (vector: Float64Array, cameras: readonly Camera[], index: number, out: Float64Array): void => {
    const { shot, body, pointsMm, seenPx } = views[index]!;
    const surface = bodySurface(bodies[body]!, vector, JOINT_PRINT_AT, jointBodyAt(body));
    const camera = cameras[shot]!;
    const sigmaPx = shots[shot]!.cornerSigmaPx;
    const at = 2 * starts[index]!;
    for (let k = 0; k < pointsMm.length; k += 2) {
      surface.place(pointsMm[k]!, pointsMm[k + 1]!);
      const seen = projectInto(camera, surface.x, surface.y, surface.heightMm, out, at + k);
      out[at + k] = seen ? (out[at + k]! - seenPx[k]!) / sigmaPx : UNSEEN_SIGMAS;
      out[at + k + 1] = seen ? (out[at + k + 1]! - seenPx[k + 1]!) / sigmaPx : UNSEEN_SIGMAS;
    }
  };

  const residuals = (parameters: Float64Array, out: Float64Array): void => {
    const vector = full(parameters);
    const cameras = camerasAt(vector);
    views.forEach((_, index) => {
      writeView(vector, cameras, index, out);
    });
    priors.write(vector, cameras, out, 2 * pairCount);
  };

  const jacobian = (parameters: Float64Array, out: Float64Array): void => {
    const n = free.length;
    out.fill(0);
    const plus = new Float64Array(residualCount);
    const minus = new Float64Array(residualCount);
    for (let column = 0; column < n; column++) {
      const index = free[column]!;
      const owner = ownerOf(model, index);
      const moved = views.flatMap((view, i) => (moves(owner, view) ? [i] : []));
      const vector = full(parameters);
      const value = vector[index]!;
      const h = differenceStep(model, index);
      for (const [sign, target] of [
        [1, plus],
        [-1, minus],
      ] as const) {
        vector[index] = value + sign * h;
        const cameras = camerasAt(vector);
        for (const i of moved) writeView(vector, cameras, i, target);
        priors.write(vector, cameras, target, 2 * pairCount);
      }
      vector[index] = value;
      const difference = (row: number): void => {
        out[row * n + column] = (plus[row]! - minus[row]!) / (2 * h);
      };
      for (const i of moved) {
        const from = 2 * starts[i]!;
        for (let row = from; row < from + views[i]!.pointsMm.length; row++) difference(row);
      }
      for (let row = 2 * pairCount; row < residualCount; row++) difference(row);
    }
  };

  return {
    parameterCount: free.length,
    residualCount,
    pairCount,
    residuals,
    jacobian,
    free,
    full,
    cameraAt,
    priorSigma: (fullIndex) => sigmas[fullIndex]!,
  };
}

function ownerOf(model: JointModel, index: number): Owner {
  if (index < FIRST_BODY_AT) return { kind: 'print' };
  const camerasAt = jointCameraAt(model, 0);
  return index < camerasAt
    ? { kind: 'body', index: Math.floor((index - FIRST_BODY_AT) / BODY_COUNT) }
    : { kind: 'shot', index: Math.floor((index - camerasAt) / CAMERA_STEP_COUNT) };
}

function moves(owner: Owner, view: JointView): boolean {
  return owner.kind === 'print' || view[owner.kind] === owner.index;
}

function differenceStep(model: JointModel, index: number): number {
  const owner = ownerOf(model, index);
  switch (owner.kind) {
    case 'print':
      return DIFFERENCE_STEPS.ratio;
    case 'body':
      return index - jointBodyAt(owner.index) === BODY.turn ? DIFFERENCE_STEPS.turnRad : DIFFERENCE_STEPS.mm;
    case 'shot': {
      const number = index - jointCameraAt(model, owner.index);
      if (number < CAMERA_STEP.shift) return DIFFERENCE_STEPS.turnRad;
      return number < CAMERA_STEP.logFocal ? DIFFERENCE_STEPS.mm : DIFFERENCE_STEPS.ratio;
    }
  }
}

/** Prior standard deviation of every number: 0 fixed, Infinity free. */
function priorSigmas({ bodies, shots, principalSigmaRatio, printSigmaRatio }: JointModel): number[] {
  const free = Number.POSITIVE_INFINITY;
  const sigmas = [printSigmaRatio, printSigmaRatio];
  bodies.forEach(({ liftSigmaMm, bowSigmaMm }, index) => {
    const place = index === 0 ? 0 : free;
    sigmas.push(place, place, place, liftSigmaMm, bowSigmaMm, bowSigmaMm, bowSigmaMm);
  });
  for (const { lens } of shots) {
    sigmas.push(free, free, free, free, free, free);
    for (let k = 0; k < lens.mean.length; k++) sigmas.push(Math.sqrt(lens.covariance[k]![k]!));
    sigmas.push(principalSigmaRatio, principalSigmaRatio);
  }
  return sigmas;
}

function placeOnTable(
  model: JointModel,
  vector: Float64Array,
  { body, xMm, yMm }: BodyPoint,
): readonly [number, number] {
  const surface = bodySurface(model.bodies[body]!, vector, JOINT_PRINT_AT, jointBodyAt(body));
  surface.place(xMm, yMm);
  return [surface.x, surface.y];
}

interface PriorRows {
  readonly count: number;
  readonly write: (vector: Float64Array, cameras: readonly Camera[], out: Float64Array, at: number) => void;
}

/** The rows that hold numbers to what is known of them, in a fixed order. */
function priorRows(model: JointModel, sigmas: readonly number[]): PriorRows {
  const { bodies, shots, taped } = model;
  const plain = [JOINT_PRINT_AT, JOINT_PRINT_AT + 1];
  shots.forEach((_, shot) => {
    const at = jointCameraAt(model, shot) + CAMERA_STEP.principal;
    plain.push(at, at + 1);
  });
  const held = plain.filter((index) => sigmas[index]! > 0);
  const lenses = shots.map(({ lens }) => lensRows(lens));
  const count =
    held.length +
    4 * bodies.length +
    taped.length +
    shots.reduce((sum, shot, i) => sum + lenses[i]!.rows.length + FOLD_GUARD_ROWS + shot.taped.length, 0);
  const write: PriorRows['write'] = (vector, cameras, out, at) => {
    let row = at;
    for (const index of held) out[row++] = vector[index]! / sigmas[index]!;
    bodies.forEach(({ liftSigmaMm, bowSigmaMm }, index) => {
      const own = jointBodyAt(index);
      const bow = own + BODY.bow;
      out[row++] = liftSigmaMm > 0 ? (vector[own + BODY.lift]! - restingLiftMm(vector, bow)) / liftSigmaMm : 0;
      for (let k = 0; k < 3; k++) out[row++] = bowSigmaMm > 0 ? vector[bow + k]! / bowSigmaMm : 0;
    });
    for (const { from, to, lengthMm, sigmaMm } of taped) {
      const a = placeOnTable(model, vector, from);
      const b = placeOnTable(model, vector, to);
      out[row++] = (Math.hypot(a[0] - b[0], a[1] - b[1]) - lengthMm) / sigmaMm;
    }
    shots.forEach(({ lens, tiedTo, taped: picked, usedRadius }, shot) => {
      const own = jointCameraAt(model, shot) + CAMERA_STEP.logFocal;
      const other = tiedTo === null ? null : jointCameraAt(model, tiedTo) + CAMERA_STEP.logFocal;
      const { numbers, rows } = lenses[shot]!;
      for (const weights of rows) {
        let sum = 0;
        weights.forEach((weight, k) => {
          const number = numbers[k]!;
          sum += weight * (vector[own + number]! - lens.mean[number]! - (other === null ? 0 : vector[other + number]!));
        });
        out[row++] = sum;
      }
      row = writeFoldGuard(cameras[shot]!, usedRadius, out, row);
      for (const tape of picked) out[row++] = tapedResidual(cameras[shot]!, tape);
    });
  };
  return { count, write };
}
