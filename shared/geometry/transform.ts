// Affine maps of the plane, named targetFromSource so that compositions chain: aFromB · bFromC.
import type { Point } from '../base/points.ts';

/** x' = a x + c y + e, y' = b x + d y + f. */
export type Affine = readonly [a: number, b: number, c: number, d: number, e: number, f: number];

export const identity: Affine = [1, 0, 0, 1, 0, 0];

export function apply(map: Affine, point: Point): Point {
  const [a, b, c, d, e, f] = map;
  return [a * point[0] + c * point[1] + e, b * point[0] + d * point[1] + f];
}

/** The map that does bFromC first and aFromB after it. */
export function compose(aFromB: Affine, bFromC: Affine): Affine {
  const [a, b, c, d, e, f] = aFromB;
  const [p, q, r, s, t, u] = bFromC;
  return [a * p + c * q, b * p + d * q, a * r + c * s, b * r + d * s, a * t + c * u + e, b * t + d * u + f];
}

/** The inverse map. Throws when the map flattens the plane: the caller made it so. */
export function invert(map: Affine): Affine {
  const [a, b, c, d, e, f] = map;
  const determinant = a * d - b * c;
  if (determinant === 0 || !Number.isFinite(determinant))
    throw new Error('an affine map that flattens the plane has no inverse');
  return [
    d / determinant,
    -b / determinant,
    -c / determinant,
    a / determinant,
    (c * f - d * e) / determinant,
    (b * e - a * f) / determinant,
  ];
}

/** Turn about the origin (positive clockwise as seen on the screen, y down), then move by the offset. */
export function rigid(angleDeg: number, offset: Point): Affine {
  const angleRad = (angleDeg * Math.PI) / 180;
  const cos = Math.cos(angleRad);
  const sin = Math.sin(angleRad);
  return [cos, sin, -sin, cos, offset[0], offset[1]];
}
