// How surely a single point of the line is known, by where on its edge it lies: what a rule reads of points (a direction, a
// distance, a level) is no surer than the stretch it is read from. Sewn lengths have their own reckoning in measure.ts.
import { isUnseen, UNSURE_SIGMA_MM } from '../base/unsure.ts';
import { pathLengthMm, placeAtLength } from '../geometry/arcLength.ts';
import type { CubicPath } from '../geometry/cubicPath.ts';
import { sub, turnDeg } from '../geometry/vector.ts';
import type { Shape } from './model.ts';
import { seamEdge } from './seamline.ts';
import { type UnsureSpan, unsureSpans } from './unsureSpans.ts';

/**
 * Standard uncertainty of a point of the edge between two places of its seamline, millimetres across the line: that of every
 * outline point, and where an unsure stretch lies between the places, what the line may be off there.
 */
export function pointSigmaOn(shape: Shape, edgeId: string, fromMm: number, toMm: number): number {
  return Math.hypot(shape.accuracy.pointSigmaMm, doubtOn(shape, edgeId, fromMm, toMm));
}

/** A corner, a notch or a dart's leg is set by about this much of the line on either side (vision's corner fit). */
const REACH_MM = 9;

/** The same for one place of the edge. */
export function pointSigmaAt(shape: Shape, edgeId: string, atMm: number): number {
  return pointSigmaOn(shape, edgeId, atMm - REACH_MM, atMm + REACH_MM);
}

/** The same for any point of the outline: the least sure stretch of all. */
export function pointSigmaAround(shape: Shape): number {
  return shape.ring.reduce(
    (worst, { id }) => Math.max(worst, pointSigmaOn(shape, id, 0, Number.POSITIVE_INFINITY)),
    shape.accuracy.pointSigmaMm,
  );
}

/** The part of that which unsure stretches bring in: it is common to all of a stretch, and no mean over points lessens it. */
export function doubtOn(shape: Shape, edgeId: string, fromMm: number, toMm: number): number {
  return unsureBetween(shape, edgeId, fromMm, toMm).reduce((worst, span) => Math.max(worst, spanSigma(shape, span)), 0);
}

/** The unsure stretches that reach between two places of an edge's seamline, in either order, millimetres from its start. */
export function unsureBetween(shape: Shape, edgeId: string, oneMm: number, otherMm: number): readonly UnsureSpan[] {
  if (shape.unsure === undefined) return [];
  const seam = seamEdge(shape, edgeId);
  if (seam === undefined) return [];
  const perTraced = seam.lengthMm / Math.max(pathLengthMm(seam.edge.curve), Number.EPSILON);
  const [fromMm, toMm] = [Math.min(oneMm, otherMm), Math.max(oneMm, otherMm)];
  return unsureSpans(shape).filter(
    (span) => span.edge === edgeId && span.fromMm * perTraced < toMm && span.toMm * perTraced > fromMm,
  );
}

/** A direction beside a stretch is read over this length. */
const BESIDE_MM = 5;

/**
 * Where nothing was seen, the line leads smoothly from one end to the other. Had it a corner there instead, the two would lie
 * up to L θ / 8 apart (L the length of the stretch, θ the turn over it: the height of a triangle over that of the smooth cubic
 * between the same ends and directions); any place between them is as likely, so this over √3 is its standard deviation.
 */
function spanSigma({ ring }: Shape, { edge, fromMm, toMm, reason }: UnsureSpan): number {
  const usualMm = UNSURE_SIGMA_MM[reason];
  if (!isUnseen(reason)) return usualMm;
  const { curve } = ring.find(({ id }) => id === edge)!;
  const turnRad = (Math.abs(turnOver(curve, fromMm, toMm)) * Math.PI) / 180;
  return Math.max(usualMm, ((toMm - fromMm) * turnRad) / (8 * Math.sqrt(3)));
}

/** Turn between the directions just before and just after a stretch, degrees; 0 where it reaches an end of the edge. */
function turnOver(path: CubicPath, fromMm: number, toMm: number): number {
  const place = (mm: number) => placeAtLength(path, mm);
  if (fromMm < BESIDE_MM || toMm > pathLengthMm(path) - BESIDE_MM) return 0;
  return turnDeg(sub(place(fromMm), place(fromMm - BESIDE_MM)), sub(place(toMm + BESIDE_MM), place(toMm)));
}
