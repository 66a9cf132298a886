// The same camera seen from another frame on the table: the frame is turned and shifted, the picture stays.
import type { Affine } from '../../geometry/transform.ts';
import { type Camera, multiply3 } from './cameraModel.ts';
import { CAMERA_STEP, CAMERA_STEP_COUNT } from './cameraSteps.ts';

/** The camera for table points given in a new frame; `oldFromNew` is rigid. */
export function inFrame(camera: Camera, oldFromNew: Affine): Camera {
  const [a, b, c, d] = oldFromNew;
  const shift = shiftOf(camera, oldFromNew);
  const t = camera.translationMm;
  return {
    ...camera,
    rotation: multiply3(camera.rotation, [a, c, 0, b, d, 0, 0, 0, 1]),
    translationMm: [t[0] + shift[0], t[1] + shift[1], t[2] + shift[2]],
  };
}

/**
 * Covariance of the camera's step in the new frame. A turn of the camera about its centre moves a shifted origin too:
 * shift' = shift + turn x (rotation x origin).
 */
export function inFrameCovariance(
  covariance: readonly (readonly number[])[],
  camera: Camera,
  oldFromNew: Affine,
): number[][] {
  const [x, y, z] = shiftOf(camera, oldFromNew);
  const jacobian: number[][] = Array.from({ length: CAMERA_STEP_COUNT }, (_, i) =>
    Array.from({ length: CAMERA_STEP_COUNT }, (__, j): number => (i === j ? 1 : 0)),
  );
  const turned = [
    [0, z, -y],
    [-z, 0, x],
    [y, -x, 0],
  ];
  turned.forEach((row, i) => {
    row.forEach((value, j) => {
      jacobian[CAMERA_STEP.shift + i]![CAMERA_STEP.turn + j] = value;
    });
  });
  return product(product(jacobian, covariance), transposed(jacobian));
}

/** Where the new frame's origin lies, in camera axes, from the old one's. */
function shiftOf({ rotation: m }: Camera, [, , , , e, f]: Affine): readonly [number, number, number] {
  return [m[0]! * e + m[1]! * f, m[3]! * e + m[4]! * f, m[6]! * e + m[7]! * f];
}

function product(a: readonly (readonly number[])[], b: readonly (readonly number[])[]): number[][] {
  return a.map((row) => b[0]!.map((_, j) => row.reduce((sum, value, k) => sum + value * b[k]![j]!, 0)));
}

function transposed(a: readonly (readonly number[])[]): number[][] {
  return a[0]!.map((_, j) => a.map((row) => row[j]!));
}
