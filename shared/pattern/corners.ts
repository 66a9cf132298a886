// Corners of a piece on its seamline: the angle inside the piece where two edges meet, with its uncertainty.
import { memoised } from '../base/memoised.ts';
import type { Point } from '../base/points.ts';
import { placeAtLength } from '../geometry/arcLength.ts';
import { endOf, startOf } from '../geometry/cubicPath.ts';
import { flattenRing } from '../geometry/flatten.ts';
import { isClockwise } from '../geometry/polygon.ts';
import { scale, sub, turnDeg } from '../geometry/vector.ts';
import type { Shape } from './model.ts';
import { pointSigmaOn } from './pointSigma.ts';
import { type SeamEdge, seamlineOf } from './seamline.ts';

export interface Corner {
  readonly before: SeamEdge;
  readonly after: SeamEdge;
  readonly at: Point;
  /** Angle inside the piece, 0 to 360. */
  readonly insideDeg: number;
  readonly sigmaDeg: number;
}

/** A direction at the end of a traced edge is read over this length: shorter and the tracing's wobble decides. */
const READ_OVER_MM = 20;
/** Of a short edge at most this part is read: the rest belongs to the other corner. */
const READ_RATIO = 0.5;

const known = new WeakMap<Shape, readonly Corner[]>();

/** Corner i lies at the end of edge i. Edges without length give no direction and so an angle of 180. */
export function cornersOf(shape: Shape): readonly Corner[] {
  return memoised(known, shape, () => cornersAfresh(shape));
}

function cornersAfresh(shape: Shape): readonly Corner[] {
  const { edges } = seamlineOf(shape);
  const outline = flattenRing(
    edges.map((e) => e.path),
    ORIENTATION_CHORD_MM,
  );
  const handed = isClockwise(outline) ? 1 : -1;
  return edges.map((edge, i) => cornerBetween(shape, edge, edges[(i + 1) % edges.length]!, handed));
}

/** Coarse is enough to tell which way round a ring runs. */
const ORIENTATION_CHORD_MM = 1;

function cornerBetween(shape: Shape, before: SeamEdge, after: SeamEdge, handed: 1 | -1): Corner {
  const arriving = scale(directionFrom(before, 'end'), -1);
  const leaving = directionFrom(after, 'start');
  const insideDeg = 180 - handed * turnDeg(arriving, leaving);
  const readMm = Math.min(readLength(before), readLength(after));
  const sigmasMm = [
    pointSigmaOn(shape, before.edge.id, before.lengthMm - readMm, before.lengthMm),
    pointSigmaOn(shape, after.edge.id, 0, readMm),
  ];
  const sigmaRad = readMm === 0 ? 0 : (Math.SQRT2 * Math.hypot(...sigmasMm)) / readMm;
  const at = endOf(before.path);
  return { before, after, at, insideDeg, sigmaDeg: (sigmaRad * 180) / Math.PI };
}

/**
 * Direction in which the edge leaves the corner. Chords over half and all of the reading length, extrapolated to length 0:
 * exact on straight lines and circles, and not at the mercy of the last millimetre.
 */
function directionFrom(edge: SeamEdge, end: 'start' | 'end'): Point {
  const { path, lengthMm } = edge;
  const readMm = readLength(edge);
  const isStart = end === 'start';
  const corner = isStart ? startOf(path) : endOf(path);
  const short = sub(placeAtLength(path, isStart ? readMm / 2 : lengthMm - readMm / 2), corner);
  const long = sub(placeAtLength(path, isStart ? readMm : lengthMm - readMm), corner);
  const turnRad = (-turnDeg(short, long) * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turnRad), Math.sin(turnRad)];
  return [cos * short[0] - sin * short[1], sin * short[0] + cos * short[1]];
}

function readLength(edge: SeamEdge): number {
  return Math.min(READ_OVER_MM, edge.lengthMm * READ_RATIO);
}
