// How the photo place of a point changes with the camera's numbers and with the point itself, in closed form: the chain
// rule through cameraModel.ts. The solver asks for it thousands of times a photo, and differences cost ten times as much.
import { type Camera, halfDiagonalPx, multiply3, NEAREST_DEPTH_MM, radialSlopes, rotationOf } from './cameraModel.ts';
import { CAMERA_STEP, CAMERA_STEP_COUNT, stepped } from './cameraSteps.ts';

/** Place of the table point's own x, y and height among the slopes, after the camera's numbers. */
export const POINT_SLOPES_AT = CAMERA_STEP_COUNT;
const SLOPE_COUNT = CAMERA_STEP_COUNT + 3;

/** Slopes of the rotation matrix are taken by differences, three a solve: the turn's own derivative is unwieldy. */
const TURN_STEP_RAD = 1e-5;

export interface ProjectionSlopes {
  /** Pixels along x and along y for each camera number (cameraSteps.ts), then for the point's x, y and height. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Fills `x` and `y` for a point; false, with all slopes 0, when the point lies behind the camera. */
  at(xMm: number, yMm: number, heightMm: number): boolean;
}

/** @param step the camera step (the first numbers of `step` count) at which the slopes are taken, from `base` */
export function projectionSlopes(base: Camera, step: ArrayLike<number>): ProjectionSlopes {
  const camera = stepped(base, step);
  const { rotation: m, translationMm: t } = camera;
  const turns = turnSlopes(base, step);
  const half = halfDiagonalPx(camera);
  const out = [new Float64Array(SLOPE_COUNT), new Float64Array(SLOPE_COUNT)] as const;
  const [outX, outY] = out;
  return {
    x: outX,
    y: outY,
    at(x, y, heightMm): boolean {
      const z = -heightMm;
      const depth = m[6]! * x + m[7]! * y + m[8]! * z + t[2];
      if (!(depth > NEAREST_DEPTH_MM)) {
        outX.fill(0);
        outY.fill(0);
        return false;
      }
      const u = (m[0]! * x + m[1]! * y + m[2]! * z + t[0]) / depth;
      const v = (m[3]! * x + m[4]! * y + m[5]! * z + t[1]) / depth;
      const { scale, byR2, byLogFocal, byTerm1, byTerm2 } = radialSlopes(camera, u * u + v * v);
      // Pixels by the direction of the ray...
      const xu = half * (scale + 2 * u * u * byR2);
      const xv = half * 2 * u * v * byR2;
      const yv = half * (scale + 2 * v * v * byR2);
      // ...and by the point in camera axes.
      const xs = [xu / depth, xv / depth, -(xu * u + xv * v) / depth] as const;
      const ys = [xv / depth, yv / depth, -(xv * u + yv * v) / depth] as const;
      for (let k = 0; k < 3; k++) {
        const d = turns[k]!;
        const a = d[0]! * x + d[1]! * y + d[2]! * z;
        const b = d[3]! * x + d[4]! * y + d[5]! * z;
        const c = d[6]! * x + d[7]! * y + d[8]! * z;
        outX[CAMERA_STEP.turn + k] = xs[0] * a + xs[1] * b + xs[2] * c;
        outY[CAMERA_STEP.turn + k] = ys[0] * a + ys[1] * b + ys[2] * c;
        outX[CAMERA_STEP.shift + k] = xs[k]!;
        outY[CAMERA_STEP.shift + k] = ys[k]!;
        const sign = k === 2 ? -1 : 1; // the camera sees heights as -z
        outX[POINT_SLOPES_AT + k] = sign * (xs[0] * m[k]! + xs[1] * m[3 + k]! + xs[2] * m[6 + k]!);
        outY[POINT_SLOPES_AT + k] = sign * (ys[0] * m[k]! + ys[1] * m[3 + k]! + ys[2] * m[6 + k]!);
      }
      [byLogFocal, byTerm1, byTerm2].forEach((slope, k) => {
        outX[CAMERA_STEP.logFocal + k] = half * slope * u;
        outY[CAMERA_STEP.logFocal + k] = half * slope * v;
      });
      outX[CAMERA_STEP.principal] = half;
      outY[CAMERA_STEP.principal + 1] = half;
      return true;
    },
  };
}

/** Derivative of the rotation matrix by each number of the turn. */
function turnSlopes(base: Camera, step: ArrayLike<number>): number[][] {
  const turn = [step[0]!, step[1]!, step[2]!] as const;
  return [0, 1, 2].map((axis) => {
    const at = (by: number): number[] => {
      const [a, b, c] = turn.map((value, k) => (k === axis ? value + by : value)) as [number, number, number];
      return multiply3(rotationOf(a, b, c), base.rotation);
    };
    const plus = at(TURN_STEP_RAD);
    const minus = at(-TURN_STEP_RAD);
    return plus.map((value, k) => (value - minus[k]!) / (2 * TURN_STEP_RAD));
  });
}
