// The order of the solver's numbers after the camera: the print's two size errors, then seven numbers a body.
import { CAMERA_STEP_COUNT } from './cameraSteps.ts';

export const PRINT_AT = CAMERA_STEP_COUNT;
export const BODIES_AT = CAMERA_STEP_COUNT + 2;
/** Place of each number of a body: turn (rad), x, y (mm), lift (mm), bow (3 x mm). */
export const BODY = { turn: 0, x: 1, y: 2, lift: 3, bow: 4 } as const;
export const BODY_COUNT = 7;

export function bodyAt(index: number): number {
  return BODIES_AT + BODY_COUNT * index;
}

export function fullCount(bodyCount: number): number {
  return BODIES_AT + BODY_COUNT * bodyCount;
}
