// Sewn lengths with their uncertainty. A length remembers which of its errors it shares with others (the scale of one shot
// or one print, an allowance assumed throughout), so that a difference of two lengths loses what they have in common.
import type { Measured } from '../base/measured.ts';
import { closedMm, closuresOn } from './darts.ts';
import type { Edge, Shape } from './model.ts';
import { unsureBetween } from './pointSigma.ts';
import { allowanceSlope, type SeamEdge, seamEdge } from './seamline.ts';

export interface Length extends Measured {
  /** Signed standard deviation by error source, millimetres; one source moves all its lengths together. */
  readonly shared: ReadonlyMap<string, number>;
  /** Variance that nothing else shares, mm². */
  readonly ownVarianceMm2: number;
}

export interface MeasureOptions {
  /** How far an assumed allowance may be off, 1 sigma. */
  readonly assumedAllowanceSigmaMm: number;
}

/** The error source of allowances that nobody has said: one habit, taken to be wrong everywhere by the same amount. */
export const ASSUMED_ALLOWANCE = 'allowance:assumed';

export const NO_LENGTH: Length = makeLength(0, new Map(), 0);

export function makeLength(valueMm: number, shared: ReadonlyMap<string, number>, ownVarianceMm2: number): Length {
  let variance = ownVarianceMm2;
  for (const part of shared.values()) variance += part * part;
  return { valueMm, sigmaMm: Math.sqrt(variance), shared, ownVarianceMm2 };
}

/** a + factor × b; shared errors add with their signs, own errors as variances. */
export function addLength(a: Length, b: Length, factor = 1): Length {
  if (a === NO_LENGTH && factor === 1) return b;
  const shared = new Map(a.shared);
  for (const [source, part] of b.shared) shared.set(source, (shared.get(source) ?? 0) + factor * part);
  return makeLength(a.valueMm + factor * b.valueMm, shared, a.ownVarianceMm2 + factor * factor * b.ownVarianceMm2);
}

/** a − b. */
export function subtractLength(a: Length, b: Length): Length {
  return addLength(a, b, -1);
}

/**
 * The sewn length of a stretch of an edge, millimetres along the seamline from the edge's start with darts and pleats
 * open, fromMm ≤ toMm; the mouths inside it are closed. Throws when the shape has no such edge: callers look first.
 */
export function sewnLength(
  shape: Shape,
  edgeId: string,
  stretch: { readonly fromMm: number; readonly toMm: number } | null,
  options: MeasureOptions,
): Length {
  const seam = seamEdge(shape, edgeId);
  if (seam === undefined) throw new Error(`the shape has no edge ${edgeId}`);
  const fromMm = stretch?.fromMm ?? 0;
  const toMm = stretch?.toMm ?? seam.lengthMm;
  const closures = closuresOn(shape, edgeId);
  const valueMm = closedMm(closures, toMm) - closedMm(closures, fromMm);
  const shared = new Map<string, number>();
  for (const { id, sigmaRatio } of shape.accuracy.scaleSources) {
    shared.set(id, (shared.get(id) ?? 0) + valueMm * sigmaRatio);
  }
  const slope = allowanceSlope(shape, edgeId);
  if (slope !== 0) {
    const part = seam.lengthMm === 0 ? 1 : (toMm - fromMm) / seam.lengthMm;
    shared.set(ASSUMED_ALLOWANCE, slope * part * options.assumedAllowanceSigmaMm);
  }
  const mouthsInside = closures.filter((c) => c.toMm > fromMm && c.fromMm < toMm).length;
  const ends = endVariance(shape, seam.edge, fromMm <= 0) + endVariance(shape, seam.edge, toMm >= seam.lengthMm);
  const own = Math.max(ends, doubtVariance(shape, seam, fromMm, toMm));
  return makeLength(valueMm, shared, own + 2 * mouthsInside * shape.accuracy.pointSigmaMm ** 2);
}

/**
 * Doubt about the outline goes into the sigma of sewn lengths here, so that no rule that compares those has to read
 * Shape.unsure: the sigma of an edge holds that of its unsure stretches (vision/outline/doubtSigma.ts), and a part of the edge
 * that such a stretch lies in is no surer than the whole. What is read of single points of the line has its doubt from
 * pointSigma.ts.
 */
function doubtVariance(shape: Shape, seam: SeamEdge, fromMm: number, toMm: number): number {
  const { id, sigmaMm } = seam.edge;
  if (sigmaMm === null) return 0;
  return unsureBetween(shape, id, fromMm, toMm).length > 0 ? sigmaMm ** 2 : 0;
}

/** Variance that one end gives: a corner carries half of the edge's own variance when it is known, a notch one point's. */
function endVariance(shape: Shape, edge: Edge, isCorner: boolean): number {
  const pointVariance = shape.accuracy.pointSigmaMm ** 2;
  return isCorner && edge.sigmaMm !== null ? edge.sigmaMm ** 2 / 2 : pointVariance;
}
