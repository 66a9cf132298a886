// Steps back until everything fits the picture, as a person with a phone does.
import type { Point } from '../../shared/base/points.ts';
import { type CameraSpec, makeCamera, project } from './camera.ts';

const NEAREST_MM = 250;
const FARTHEST_MM = 4000;
const HALVINGS = 24;

/** The nearest camera of this kind that sees all points with a margin (share of the picture's width). */
export function frameAll(
  points: readonly Point[],
  spec: Omit<CameraSpec, 'distanceMm' | 'targetMm'>,
  marginRatio: number,
): CameraSpec {
  let target = middleOf(points);
  let distance = FARTHEST_MM;
  // perspective moves the middle of the picture: alternate between distance and aim
  for (let round = 0; round < 4; round++) {
    let [near, far] = [NEAREST_MM, FARTHEST_MM];
    for (let i = 0; i < HALVINGS; i++) {
      const middle = (near + far) / 2;
      if (fits(points, { ...spec, targetMm: target, distanceMm: middle }, marginRatio)) far = middle;
      else near = middle;
    }
    distance = far;
    target = recentre(points, { ...spec, targetMm: target, distanceMm: distance });
  }
  const camera = { ...spec, targetMm: target, distanceMm: distance };
  return fits(points, camera, marginRatio) ? camera : { ...camera, distanceMm: distance * 1.03 };
}

function middleOf(points: readonly Point[]): Point {
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  return [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
}

function fits(points: readonly Point[], spec: CameraSpec, marginRatio: number): boolean {
  const camera = makeCamera(spec);
  const margin = marginRatio * spec.widthPx;
  return points.every((point) => {
    const [x, y] = project(camera, point, 0);
    return x > margin && y > margin && x < spec.widthPx - margin && y < spec.heightPx - margin;
  });
}

/** Aims at the table point in the middle of the pixels' box. */
function recentre(points: readonly Point[], spec: CameraSpec): Point {
  const camera = makeCamera(spec);
  const [x, y] = middleOf(points.map((point) => project(camera, point, 0)));
  const scale = spec.distanceMm / camera.focalPx;
  const [dx, dy] = [(x - camera.centrePx[0]) * scale, (y - camera.centrePx[1]) * scale];
  const a = camera.axes;
  return [spec.targetMm[0] + a[0]! * dx + a[3]! * dy, spec.targetMm[1] + a[1]! * dx + a[4]! * dy];
}
