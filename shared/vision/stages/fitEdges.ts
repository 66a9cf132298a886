// Turns a measured outline and its corners into edges: smooth cubic paths from corner to corner, with lengths taken on the
// fitted curve. The length of the measured points themselves would be too long: noise lengthens every polyline.
import { type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import { pathLengthMm } from '../../geometry/arcLength.ts';
import type { CubicPath } from '../../geometry/cubicPath.ts';
import { fitCubicPath } from '../../geometry/fitCubics.ts';
import { flattenPath } from '../../geometry/flatten.ts';
import { resamplePolyline } from '../../geometry/polygon.ts';
import { cross, distance, sub, unit } from '../../geometry/vector.ts';
import { localCurve } from '../outline/localFit.ts';
import type { TracedEdge } from '../traced.ts';
import type { OutlineCorner } from './splitCorners.ts';

export interface FitEdgesOptions {
  /** Standard deviation of one outline point across the outline. */
  readonly pointSigmaMm: number;
  /** Standard uncertainty of a length along a path that the camera and the cards bring in. */
  readonly planeSigmaMm: (path: readonly TablePointMm[]) => number;
}

export interface FittedEdges {
  readonly edges: readonly TracedEdge[];
  /** Closed, clockwise, last point not repeated; chords deviate less than CHORD_MM from the edges. */
  readonly outline: readonly TablePointMm[];
}

const CHORD_MM = 0.015;
const MIN_TOLERANCE_MM = 0.1;
const STEP_MM = 1;
/** Half-length of the piece of edge that smooths one point: noise shrinks by about three, a bend of 30 mm radius is kept. */
const SMOOTH_MM = 8;
/** An edge whose smoothed points stay this near to the chord between its corners is straight. */
const STRAIGHT_MM = 0.15;
const STRAIGHT_RATIO = 0.0006;
/** Points this near to a corner are replaced by the corner. */
const CORNER_SHY_MM = 1;
/** An edge's place is never known better than this share of a point's scatter: lens blur, sharpening and compression shift
 * whole edges alike and do not average out. */
const CORNER_FLOOR_RATIO = 0.8;
/** Outline points share their noise over about this length. */
const CORRELATION_MM = 2;

/**
 * @param outline measured outline, closed, clockwise, notches bridged
 * @param corners of splitCorners for the same outline
 * @returns one edge per corner in the order of the outline; a smooth outline is one closed edge
 */
export function fitEdges(
  outline: readonly TablePointMm[],
  corners: readonly OutlineCorner[],
  options: FitEdgesOptions,
): FittedEdges {
  const runs = corners.length === 0 ? [[...outline, outline[0]!]] : runsBetween(outline, corners);
  const edges = runs.map((run, i) => {
    const curve = curveOf(run, options.pointSigmaMm, corners.length === 0);
    const typed = curve.map(([x, y]) => tableMm(x, y));
    const lengthMm = pathLengthMm(curve);
    const localSigmaMm = localSigma(corners, i, lengthMm, options.pointSigmaMm);
    const sigmaMm = Math.hypot(
      localSigmaMm,
      options.planeSigmaMm(flattenPath(curve, 1).map(([x, y]) => tableMm(x, y))),
    );
    return { id: `e${i + 1}`, curve: typed, lengthMm, sigmaMm, localSigmaMm };
  });
  const dense = edges.flatMap((edge) => flattenPath(edge.curve, CHORD_MM).slice(0, -1));
  return { edges, outline: dense.map(([x, y]) => tableMm(x, y)) };
}

/** Points from corner to corner, the corners themselves at the ends. */
function runsBetween(outline: readonly TablePointMm[], corners: readonly OutlineCorner[]): TablePointMm[][] {
  const n = outline.length;
  const along: number[] = [0];
  for (let i = 1; i <= n; i++) along.push(along[i - 1]! + distance(outline[i - 1]!, outline[i % n]!));
  const total = along[n]!;
  return corners.map((corner, c) => {
    const next = corners[(c + 1) % corners.length]!;
    const from = corner.alongMm;
    const to = next.alongMm > from ? next.alongMm : next.alongMm + total;
    const run: TablePointMm[] = [corner.at];
    for (let i = 0; i < 2 * n; i++) {
      const s = along[i % n]! + (i >= n ? total : 0);
      if (s > from + CORNER_SHY_MM && s < to - CORNER_SHY_MM) run.push(outline[i % n]!);
    }
    run.push(next.at);
    return run;
  });
}

function curveOf(run: readonly TablePointMm[], pointSigmaMm: number, loop: boolean): CubicPath {
  const even = resamplePolyline(run, STEP_MM);
  const smooth = smoothedRun(even, loop);
  const from = smooth[0]!;
  const to = smooth.at(-1)!;
  const toleranceMm = Math.max(MIN_TOLERANCE_MM, pointSigmaMm);
  if (!loop && isStraight(smooth, Math.max(STRAIGHT_MM, pointSigmaMm)))
    return fitCubicPath([from, to], { toleranceMm });
  return fitCubicPath(smooth, { toleranceMm, ...endTangents(smooth, loop) });
}

function endTangents(
  smooth: readonly Point[],
  loop: boolean,
): { startTangent: Point; endTangent: Point } | Record<string, never> {
  if (!loop) return {};
  const tangent = unit(sub(smooth[1]!, smooth.at(-2)!));
  return { startTangent: tangent, endTangent: tangent };
}

/** Every inner point moved onto the parabola through its neighbours; the ends stay. */
function smoothedRun(points: readonly Point[], loop: boolean): Point[] {
  const n = points.length;
  const reach = Math.round(SMOOTH_MM / STEP_MM);
  return points.map((point, i) => {
    if (!loop && (i === 0 || i === n - 1)) return point;
    // toward an end the piece shrinks evenly, so that the end of a bend is not cut
    const half = loop ? Math.min(reach, Math.floor((n - 2) / 2)) : Math.min(reach, Math.max(3, Math.min(i, n - 1 - i)));
    const near: Point[] = [];
    const s: number[] = [];
    for (let k = -half; k <= half; k++) {
      let index = i + k;
      if (loop) index = ((index % (n - 1)) + n - 1) % (n - 1);
      if (index < 0 || index >= n) continue;
      near.push(points[index]!);
      s.push(k * STEP_MM);
    }
    return localCurve(near, s)?.at ?? point;
  });
}

/** True when all points lie along the chord and no slow bow remains: the mean offset of the middle third is small too. */
function isStraight(points: readonly Point[], toleranceMm: number): boolean {
  const from = points[0]!;
  const to = points.at(-1)!;
  const chordMm = distance(from, to);
  if (chordMm === 0) return false;
  const along = unit(sub(to, from));
  const offsets = points.map((point) => cross(along, sub(point, from)));
  const limitMm = Math.max(toleranceMm, STRAIGHT_RATIO * chordMm);
  const third = Math.floor(points.length / 3);
  const middle = offsets.slice(third, points.length - third);
  const meanMm = middle.reduce((sum, value) => sum + value, 0) / Math.max(1, middle.length);
  return offsets.every((offset) => Math.abs(offset) <= 2 * limitMm) && Math.abs(meanMm) <= limitMm;
}

/** What the edge does not share with others: how well its two corners are set along it, and what its noise adds. */
function localSigma(corners: readonly OutlineCorner[], index: number, lengthMm: number, pointSigmaMm: number): number {
  const wanderMm = pointSigmaMm * Math.sqrt(CORRELATION_MM / Math.max(lengthMm, CORRELATION_MM));
  if (corners.length === 0) return wanderMm;
  const start = corners[index]!;
  const end = corners[(index + 1) % corners.length]!;
  return Math.hypot(
    alongSigma(start, start.acrossBeforeMm, start.acrossAfterMm, pointSigmaMm),
    alongSigma(end, end.acrossAfterMm, end.acrossBeforeMm, pointSigmaMm),
    wanderMm,
  );
}

/** Scatter of a corner along one of its edges: the other edge's place over the sine of the turn, and its own over the tangent. */
function alongSigma(corner: OutlineCorner, otherMm: number, ownMm: number, pointSigmaMm: number): number {
  const turn = (Math.abs(corner.turnDeg) * Math.PI) / 180;
  const sine = Math.max(Math.abs(Math.sin(turn)), Math.sin(Math.PI / 12));
  const floor = (value: number): number => Math.max(value, CORNER_FLOOR_RATIO * pointSigmaMm);
  return Math.hypot(floor(otherMm) / sine, (floor(ownMm) * Math.cos(turn)) / sine);
}
