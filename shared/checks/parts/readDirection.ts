// The direction of a line at one place, read over a stretch of it so that the last millimetre of a tracing does not decide.
import type { Point } from '../../base/points.ts';
import { placeAtLength } from '../../geometry/arcLength.ts';
import type { CubicPath } from '../../geometry/cubicPath.ts';
import { sub, turnDeg } from '../../geometry/vector.ts';

/**
 * Direction in which the path leaves the place `atMm` toward larger (readMm > 0) or smaller (readMm < 0) lengths. Chords
 * over half and all of the stretch, extrapolated to length 0: exact on straight lines and circles. [0, 0] without length.
 */
export function readDirection(path: CubicPath, atMm: number, readMm: number): Point {
  const place = placeAtLength(path, atMm);
  const short = sub(placeAtLength(path, atMm + readMm / 2), place);
  const long = sub(placeAtLength(path, atMm + readMm), place);
  const turnRad = (-turnDeg(short, long) * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turnRad), Math.sin(turnRad)];
  return [cos * short[0] - sin * short[1], sin * short[0] + cos * short[1]];
}

/** Standard uncertainty of the turn between two directions, each read over readMm with independent point errors. */
export function turnSigmaDeg(pointSigmaMm: number, readMm: number): number {
  return readMm === 0 ? 180 : (((2 * pointSigmaMm) / readMm) * 180) / Math.PI;
}
