// The camera: pinhole with square pixels, a focal length and a radial lens, looking at the plane of the table.
// Lengths in the picture are in half diagonals, so that the numbers mean the same at every resolution.
// Division model: Fitzgibbon, "Simultaneous linear estimation of multiple view geometry and lens distortion", CVPR 2001.
// Radial model: the two-term polynomial of Brown, "Close-range camera calibration", 1971.
import { type PhotoPointPx, type Point, photoPx, type TablePointMm, tableMm } from '../../base/points.ts';

/** `division`: r_u = r_d / (1 + a r_d^2), r in half diagonals. `radial`: r_d = r_u (1 + a r_u^2 + b r_u^4), r in focal lengths. */
export type LensKind = 'none' | 'division' | 'radial';

/** Camera and pose as plain data. The table frame has x right, y down as seen from above, so z points into the table. */
export interface Camera {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly lens: LensKind;
  /** Row-major 3 x 3, camera from table. */
  readonly rotation: readonly number[];
  /** Table origin in camera axes. */
  readonly translationMm: readonly [number, number, number];
  /** Focal length in half diagonals of the picture. */
  readonly focalRatio: number;
  readonly lensTerms: readonly [number, number];
  /** Offset of the principal point from the picture's centre, half diagonals. */
  readonly principalRatio: readonly [number, number];
}

/** Diagonal of the 36 x 24 mm frame that "35 mm equivalent" refers to. */
export const DIAGONAL_35MM = 43.2666;

const NEWTON_STEPS = 12;
/** Below this slope the radial polynomial is close to folding over; Newton must not divide by it. */
const NEWTON_SLOPE_FLOOR = 0.2;
/** Smallest value under the root of the division model; below it the point is outside the lens. */
const DIVISION_ROOT_FLOOR = 1e-9;
/** Points nearer to the camera plane than this are behind it for every practical purpose. */
export const NEAREST_DEPTH_MM = 1e-3;

export function halfDiagonalPx(frame: { readonly widthPx: number; readonly heightPx: number }): number {
  return Math.sqrt(frame.widthPx * frame.widthPx + frame.heightPx * frame.heightPx) / 2; // hypot is slow in the solver's loop
}

/** Picture centre in pixel-centre coordinates. */
export function centrePx(frame: { readonly widthPx: number; readonly heightPx: number }): Point {
  return [(frame.widthPx - 1) / 2, (frame.heightPx - 1) / 2];
}

/** Factor from undistorted to distorted radius at undistorted radius squared `r2` (in focal lengths). */
function distortionFactor(camera: Camera, r2: number): number {
  const [a, b] = camera.lensTerms;
  if (camera.lens === 'radial') return 1 + r2 * (a + b * r2);
  if (camera.lens === 'division') {
    const root = 1 - 4 * a * r2 * camera.focalRatio * camera.focalRatio;
    return 2 / (1 + Math.sqrt(Math.max(root, DIVISION_ROOT_FLOOR)));
  }
  return 1;
}

/** Pixels (in half diagonals) by the direction of a ray, and how that scale changes. */
export interface RadialSlopes {
  /** Focal length times distortion factor. */
  readonly scale: number;
  readonly byR2: number;
  readonly byLogFocal: number;
  readonly byTerm1: number;
  readonly byTerm2: number;
}

/** Scale of the picture at undistorted radius squared `r2` (in focal lengths), with its derivatives. */
export function radialSlopes(camera: Camera, r2: number): RadialSlopes {
  const [a, b] = camera.lensTerms;
  const f = camera.focalRatio;
  const factor = distortionFactor(camera, r2);
  const scale = factor * f;
  if (camera.lens === 'radial')
    return { scale, byR2: f * (a + 2 * b * r2), byLogFocal: scale, byTerm1: f * r2, byTerm2: f * r2 * r2 };
  if (camera.lens === 'none') return { scale, byR2: 0, byLogFocal: scale, byTerm1: 0, byTerm2: 0 };
  // factor = 2 / (1 + root), root^2 = 1 - 4 a r2 f^2
  const root = Math.sqrt(Math.max(1 - 4 * a * r2 * f * f, DIVISION_ROOT_FLOOR));
  const byTerm1 = (f * factor * factor * r2 * f * f) / root;
  const byR2 = (f * factor * factor * a * f * f) / root;
  return { scale, byR2, byLogFocal: scale + 2 * r2 * byR2, byTerm1, byTerm2: 0 };
}

/** Factor from distorted to undistorted radius at distorted radius `rd` (in focal lengths). */
function undistortionFactor(camera: Camera, rd: number): number {
  const [a, b] = camera.lensTerms;
  if (camera.lens === 'division') {
    const half = rd * camera.focalRatio;
    return 1 / (1 + a * half * half);
  }
  if (camera.lens === 'none' || rd === 0) return 1;
  let r = rd;
  for (let step = 0; step < NEWTON_STEPS; step++) {
    const r2 = r * r;
    const slope = Math.max(NEWTON_SLOPE_FLOOR, 1 + r2 * (3 * a + 5 * b * r2));
    const next = r - (r * (1 + r2 * (a + b * r2)) - rd) / slope;
    r = Math.min(Math.max(next, 0), 3 * rd);
  }
  return r / rd;
}

/**
 * Slope of the map from undistorted to distorted radius at distorted radius `halfDiagonals`; 1 without a lens,
 * 0 or less where the map folds over.
 */
export function lensSlope(camera: Camera, halfDiagonals: number): number {
  const [a, b] = camera.lensTerms;
  if (camera.lens === 'division') {
    const q = a * halfDiagonals * halfDiagonals;
    // d r_u / d r_d = (1 - q) / (1 + q)^2; both signs fold, so both factors guard.
    return Math.min(1 - q, 1 + q);
  }
  if (camera.lens === 'none') return 1;
  const r = halfDiagonals / camera.focalRatio;
  return 1 + r * r * (3 * a + 5 * b * r * r);
}

/**
 * Projects a point `heightMm` above the table into the photo, written to out[at], out[at + 1] (pixels).
 * Returns false, writing NaN, when the point lies behind the camera.
 */
export function projectInto(
  camera: Camera,
  xMm: number,
  yMm: number,
  heightMm: number,
  out: Float64Array,
  at: number,
): boolean {
  const m = camera.rotation;
  const t = camera.translationMm;
  const depth = m[6]! * xMm + m[7]! * yMm - m[8]! * heightMm + t[2];
  if (!(depth > NEAREST_DEPTH_MM)) {
    out[at] = Number.NaN;
    out[at + 1] = Number.NaN;
    return false;
  }
  const u = (m[0]! * xMm + m[1]! * yMm - m[2]! * heightMm + t[0]) / depth;
  const v = (m[3]! * xMm + m[4]! * yMm - m[5]! * heightMm + t[1]) / depth;
  const scale = distortionFactor(camera, u * u + v * v) * camera.focalRatio;
  const half = halfDiagonalPx(camera);
  out[at] = (camera.widthPx - 1) / 2 + half * (camera.principalRatio[0] + scale * u);
  out[at + 1] = (camera.heightPx - 1) / 2 + half * (camera.principalRatio[1] + scale * v);
  return true;
}

/** Photo point of a table point `heightMm` above the table; NaN when it lies behind the camera. */
export function photoFromTableVia(camera: Camera, point: TablePointMm, heightMm: number): PhotoPointPx {
  const out = new Float64Array(2);
  projectInto(camera, point[0], point[1], heightMm, out, 0);
  return photoPx(out[0]!, out[1]!);
}

/** Table point seen at a photo point, on the plane `heightMm` above the table; NaN when the ray misses the plane. */
export function tableFromPhotoVia(camera: Camera, point: PhotoPointPx, heightMm: number): TablePointMm {
  const [u, v] = undistorted(camera, point);
  const m = camera.rotation;
  const t = camera.translationMm;
  // Ray in table axes: direction d = R^T (u, v, 1), origin c = -R^T t; z is positive into the table.
  const dz = m[2]! * u + m[5]! * v + m[8]!;
  const cz = -(m[2]! * t[0] + m[5]! * t[1] + m[8]! * t[2]);
  const s = (-heightMm - cz) / dz;
  if (!(s > 0)) return tableMm(Number.NaN, Number.NaN);
  const x = m[0]! * (s * u - t[0]) + m[3]! * (s * v - t[1]) + m[6]! * (s - t[2]);
  const y = m[1]! * (s * u - t[0]) + m[4]! * (s * v - t[1]) + m[7]! * (s - t[2]);
  return tableMm(x, y);
}

/** Direction of a photo point in camera axes, (u, v) of the ray (u, v, 1). */
function undistorted(camera: Camera, point: PhotoPointPx): Point {
  const half = halfDiagonalPx(camera);
  const centre = centrePx(camera);
  const u = ((point[0] - centre[0]) / half - camera.principalRatio[0]) / camera.focalRatio;
  const v = ((point[1] - centre[1]) / half - camera.principalRatio[1]) / camera.focalRatio;
  const factor = undistortionFactor(camera, Math.hypot(u, v));
  return [u * factor, v * factor];
}

/** Rotation matrix (row-major) of a rotation vector in radians (Rodrigues). */
export function rotationOf(x: number, y: number, z: number): number[] {
  const angle = Math.hypot(x, y, z);
  const a = angle === 0 ? 1 : Math.sin(angle) / angle;
  const half = angle === 0 ? 1 : Math.sin(angle / 2) / (angle / 2);
  const b = (half * half) / 2;
  return [
    1 - b * (y * y + z * z),
    b * x * y - a * z,
    b * x * z + a * y,
    b * x * y + a * z,
    1 - b * (x * x + z * z),
    b * y * z - a * x,
    b * x * z - a * y,
    b * y * z + a * x,
    1 - b * (x * x + y * y),
  ];
}

/** Product of two row-major 3 x 3 matrices. */
export function multiply3(a: readonly number[], b: readonly number[]): number[] {
  const out: number[] = [];
  for (let row = 0; row < 3; row++)
    for (let column = 0; column < 3; column++)
      out.push(a[3 * row]! * b[column]! + a[3 * row + 1]! * b[3 + column]! + a[3 * row + 2]! * b[6 + column]!);
  return out;
}
