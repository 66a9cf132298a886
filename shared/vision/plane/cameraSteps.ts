// The camera as a short vector of numbers that a solver may move and a covariance may speak of: a step away from a
// given camera. The order of the numbers is fixed here and nowhere else.
import { type Camera, multiply3, rotationOf } from './cameraModel.ts';

/** Place of each number in a camera step: turn (rad), shift (mm), ln focal, two lens terms, principal point (half diagonals). */
export const CAMERA_STEP = { turn: 0, shift: 3, logFocal: 6, lens: 7, principal: 9 } as const;
export const CAMERA_STEP_COUNT = 11;

/** The camera one step away from `camera`; a zero step gives the same camera. */
export function stepped(camera: Camera, step: ArrayLike<number>): Camera {
  const t = camera.translationMm;
  return {
    ...camera,
    rotation: multiply3(rotationOf(step[0]!, step[1]!, step[2]!), camera.rotation),
    translationMm: [t[0] + step[3]!, t[1] + step[4]!, t[2] + step[5]!],
    focalRatio: camera.focalRatio * Math.exp(step[6]!),
    lensTerms: [camera.lensTerms[0] + step[7]!, camera.lensTerms[1] + step[8]!],
    principalRatio: [camera.principalRatio[0] + step[9]!, camera.principalRatio[1] + step[10]!],
  };
}
