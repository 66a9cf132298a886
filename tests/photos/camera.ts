// The simulated camera: where it stands over the table and which table point lands on which photo pixel. World frame:
// the table, x right, y down as seen from above, z away from the viewer, so a point h above the table has z = -h.
import { type PhotoPointPx, type Point, photoPx, type TablePointMm, tableMm } from '../../shared/base/points.ts';
import { distortFactor, type Lens, undistortFactor } from './lens.ts';

export interface CameraSpec {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Focal length as 35 mm equivalent by the diagonal of 43.27 mm. */
  readonly focal35Mm: number;
  readonly lens: Lens;
  /** Principal point minus picture centre, pixels. */
  readonly principalOffsetPx: Point;
  /** The table point on the optical axis. */
  readonly targetMm: Point;
  /** Distance from the camera to the target along the axis. */
  readonly distanceMm: number;
  /** Angle between the axis and the table's normal. */
  readonly tiltDeg: number;
  /** Direction on the table into which the camera leans away from the nadir: 0 = it stands below (+y) and looks up the table. */
  readonly azimuthDeg: number;
  /** Turn about the optical axis. */
  readonly rollDeg: number;
}

export interface Camera {
  readonly spec: CameraSpec;
  readonly focalPx: number;
  readonly centrePx: Point;
  /** Camera position in world millimetres. */
  readonly position: readonly [number, number, number];
  /** Rows: camera x, y, z axes in the world; row-major 3 x 3. */
  readonly axes: readonly number[];
}

export const DIAGONAL_35_MM = Math.hypot(36, 24);

const rad = (deg: number): number => (deg * Math.PI) / 180;

export function makeCamera(spec: CameraSpec): Camera {
  const [st, ct] = [Math.sin(rad(spec.tiltDeg)), Math.cos(rad(spec.tiltDeg))];
  const [sa, ca] = [Math.sin(rad(spec.azimuthDeg)), Math.cos(rad(spec.azimuthDeg))];
  const [sr, cr] = [Math.sin(rad(spec.rollDeg)), Math.cos(rad(spec.rollDeg))];
  // tilt about the picture's x axis, then turn about the table's normal, then roll about the axis
  const right = [ca, sa, 0] as const;
  const down = [-sa * ct, ca * ct, st] as const;
  const forward = [sa * st, -ca * st, ct] as const;
  const mix = (a: readonly number[], b: readonly number[], ka: number, kb: number): number[] =>
    a.map((value, i) => ka * value + kb * b[i]!);
  const axes = [...mix(right, down, cr, sr), ...mix(right, down, -sr, cr), ...forward];
  return {
    spec,
    focalPx: (spec.focal35Mm / DIAGONAL_35_MM) * Math.hypot(spec.widthPx, spec.heightPx),
    centrePx: [(spec.widthPx - 1) / 2 + spec.principalOffsetPx[0], (spec.heightPx - 1) / 2 + spec.principalOffsetPx[1]],
    position: [
      spec.targetMm[0] - forward[0] * spec.distanceMm,
      spec.targetMm[1] - forward[1] * spec.distanceMm,
      -forward[2] * spec.distanceMm,
    ],
    axes,
  };
}

/** The table-to-photo map: pixel of a point `heightAboveMm` over the table. */
export function project(camera: Camera, table: Point, heightAboveMm: number): PhotoPointPx {
  const dx = table[0] - camera.position[0];
  const dy = table[1] - camera.position[1];
  const dz = -heightAboveMm - camera.position[2];
  const a = camera.axes;
  const depth = a[6]! * dx + a[7]! * dy + a[8]! * dz;
  const xu = (a[0]! * dx + a[1]! * dy + a[2]! * dz) / depth;
  const yu = (a[3]! * dx + a[4]! * dy + a[5]! * dz) / depth;
  const factor = distortFactor(camera.spec.lens, Math.hypot(xu, yu)) * camera.focalPx;
  return photoPx(camera.centrePx[0] + xu * factor, camera.centrePx[1] + yu * factor);
}

/** The inverse: the point at `heightAboveMm` over the table that lands on a pixel. */
export function unproject(camera: Camera, photo: Point, heightAboveMm: number): TablePointMm {
  const xd = (photo[0] - camera.centrePx[0]) / camera.focalPx;
  const yd = (photo[1] - camera.centrePx[1]) / camera.focalPx;
  const factor = undistortFactor(camera.spec.lens, Math.hypot(xd, yd));
  const [xu, yu] = [xd * factor, yd * factor];
  const a = camera.axes;
  const along = (-heightAboveMm - camera.position[2]) / (a[2]! * xu + a[5]! * yu + a[8]!);
  return tableMm(
    camera.position[0] + along * (a[0]! * xu + a[3]! * yu + a[6]!),
    camera.position[1] + along * (a[1]! * xu + a[4]! * yu + a[7]!),
  );
}

/** Millimetres of table per pixel at the target, across the line of sight. */
export function mmPerPixelAtTarget(camera: Camera): number {
  return camera.spec.distanceMm / camera.focalPx;
}
