// A plane seen by a pinhole, in closed form: the start of every solve.
// Direct linear transform with normalised points: Hartley and Zisserman, Multiple View Geometry, 2nd ed., algorithm 4.2.
// Two poses of a small or distant plane: Collins and Bartoli, "Infinitesimal plane-based pose estimation", IJCV 2014.
import { Matrix, SingularValueDecomposition } from 'ml-matrix';
import { multiply3, rotationOf } from './cameraModel.ts';

/** Row-major 3 x 3, target from source; null when the points are degenerate (fewer than four, or on one line). */
export function homographyOf(source: Float64Array, target: Float64Array): number[] | null {
  const count = source.length / 2;
  if (count < 4) return null;
  const a = normaliser(source);
  const b = normaliser(target);
  if (a === null || b === null) return null;
  const rows: number[][] = [];
  for (let k = 0; k < source.length; k += 2) {
    const x = (source[k]! - a.x) * a.scale;
    const y = (source[k + 1]! - a.y) * a.scale;
    const u = (target[k]! - b.x) * b.scale;
    const v = (target[k + 1]! - b.y) * b.scale;
    rows.push([x, y, 1, 0, 0, 0, -u * x, -u * y, -u]);
    rows.push([0, 0, 0, x, y, 1, -v * x, -v * y, -v]);
  }
  const { diagonal, rightSingularVectors } = new SingularValueDecomposition(
    new Matrix(rows).transpose().mmul(new Matrix(rows)),
  );
  if (!(diagonal[7]! > DEGENERATE_RATIO * diagonal[0]!)) return null;
  const h = rightSingularVectors.getColumn(8);
  // Undo the normalisation: T_b^-1 H T_a.
  const ta = [a.scale, 0, -a.scale * a.x, 0, a.scale, -a.scale * a.y, 0, 0, 1];
  const tb = [1 / b.scale, 0, b.x, 0, 1 / b.scale, b.y, 0, 0, 1];
  return multiply3(tb, multiply3(h, ta));
}

/** Smallest ratio of the second smallest to the largest singular value (squared) for which four points still span a plane. */
const DEGENERATE_RATIO = 1e-10;

/** Applies a homography to a point; NaN on its horizon. */
export function mapByHomography(h: readonly number[], x: number, y: number): [number, number] {
  const w = h[6]! * x + h[7]! * y + h[8]!;
  return [(h[0]! * x + h[1]! * y + h[2]!) / w, (h[3]! * x + h[4]! * y + h[5]!) / w];
}

/** Positive when the map keeps the sense of turning at the point, negative when it mirrors. */
export function handedness(h: readonly number[], x: number, y: number): number {
  const det =
    h[0]! * (h[4]! * h[8]! - h[5]! * h[7]!) -
    h[1]! * (h[3]! * h[8]! - h[5]! * h[6]!) +
    h[2]! * (h[3]! * h[7]! - h[4]! * h[6]!);
  const w = h[6]! * x + h[7]! * y + h[8]!;
  return Math.sign(det * w);
}

export interface PlanePose {
  readonly rotation: readonly number[];
  readonly translationMm: readonly [number, number, number];
}

/**
 * The two poses of a plane whose homography into ray space (u, v of rays (u, v, 1)) is `h`: the one it says and the one
 * tilted to the other side of the line of sight, which fits nearly as well when the plane is small or far.
 */
export function posesOf(h: readonly number[]): readonly [PlanePose, PlanePose] {
  const n1 = Math.hypot(h[0]!, h[3]!, h[6]!);
  const n2 = Math.hypot(h[1]!, h[4]!, h[7]!);
  const sign = h[8]! < 0 ? -1 : 1;
  const s = (sign * 2) / (n1 + n2);
  const b = h.map((value) => value * s);
  const c1: Vector = [b[0]!, b[3]!, b[6]!];
  const c2: Vector = [b[1]!, b[4]!, b[7]!];
  const translationMm: Vector = [b[2]!, b[5]!, b[8]!];
  const columns = new Matrix([c1, c2, cross(c1, c2)]).transpose();
  const svd = new SingularValueDecomposition(columns);
  const nearest = svd.leftSingularVectors.mmul(svd.rightSingularVectors.transpose());
  const rotation = nearest.to1DArray();
  const normal: Vector = [rotation[2]!, rotation[5]!, rotation[8]!];
  const distance = Math.hypot(...translationMm);
  const sight: Vector = [translationMm[0] / distance, translationMm[1] / distance, translationMm[2] / distance];
  const axis = cross(normal, sight);
  const sine = Math.hypot(...axis);
  const angle = 2 * Math.atan2(sine, normal[0] * sight[0] + normal[1] * sight[1] + normal[2] * sight[2]);
  const k = sine === 0 ? 0 : angle / sine;
  const other = multiply3(rotationOf(k * axis[0], k * axis[1], k * axis[2]), rotation);
  return [
    { rotation, translationMm },
    { rotation: other, translationMm },
  ];
}

type Vector = [number, number, number];

function cross(a: Vector, b: Vector): Vector {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

function normaliser(points: Float64Array): { x: number; y: number; scale: number } | null {
  const count = points.length / 2;
  let x = 0;
  let y = 0;
  for (let k = 0; k < points.length; k += 2) {
    x += points[k]! / count;
    y += points[k + 1]! / count;
  }
  let spread = 0;
  for (let k = 0; k < points.length; k += 2) spread += Math.hypot(points[k]! - x, points[k + 1]! - y) / count;
  return spread > 0 ? { x, y, scale: Math.SQRT2 / spread } : null;
}
