// The line that is sewn, derived from the line that was traced: the traced line itself, or the cutting line moved inward by
// each edge's allowance with corners extended until they meet. Every sewn length starts here, never on the cutting line.
import type { Point } from '../base/points.ts';
import { pathLengthMm } from '../geometry/arcLength.ts';
import type { CubicPath } from '../geometry/cubicPath.ts';
import { flattenRing } from '../geometry/flatten.ts';
import { offsetRing } from '../geometry/offset.ts';
import { isClockwise } from '../geometry/polygon.ts';
import type { Edge, Shape } from './model.ts';

export interface SeamEdge {
  readonly edge: Edge;
  /** Place in the ring. */
  readonly index: number;
  /** Seamline in the direction of the ring, piece millimetres. */
  readonly path: CubicPath;
  /** Drawn length on the seamline, darts and pleats open. */
  readonly lengthMm: number;
}

export interface Seamline {
  readonly edges: readonly SeamEdge[];
  readonly byId: ReadonlyMap<string, SeamEdge>;
}

const known = new WeakMap<Shape, Seamline>();

/** The seamline of a shape, edge by edge; worked out once for each shape, which never changes. */
export function seamlineOf(shape: Shape): Seamline {
  const before = known.get(shape);
  if (before !== undefined) return before;
  const seamline = build(shape.ring, pathsOf(shape, 0));
  known.set(shape, seamline);
  return seamline;
}

/** The seamline edge, or undefined when the shape has no edge of that id. */
export function seamEdge(shape: Shape, edgeId: string): SeamEdge | undefined {
  return seamlineOf(shape).byId.get(edgeId);
}

/** The edges before and after this one around the ring. */
export function neighbours(shape: Shape, index: number): { readonly before: SeamEdge; readonly after: SeamEdge } {
  const { edges } = seamlineOf(shape);
  return { before: edges.at(index - 1)!, after: edges[(index + 1) % edges.length]! };
}

/** Allowance between the traced line and the seam: none on a fold, none where the seamline itself was traced. */
export function insetMm(shape: Shape, edge: Edge): number {
  return shape.tracedLine === 'seam' || edge.role === 'fold' ? 0 : edge.allowanceMm;
}

const knownSlopes = new WeakMap<Shape, ReadonlyMap<string, number>>();

/**
 * Change of each edge's seamline length per millimetre of error in the assumed allowances (all of them taken to be wrong
 * by the same amount), mm/mm. 0 where every allowance that matters has been said. Positive: a wider allowance makes the
 * seamline longer, as on an armhole; a cap has it negative.
 */
export function allowanceSlope(shape: Shape, edgeId: string): number {
  let slopes = knownSlopes.get(shape);
  if (slopes === undefined) {
    slopes = slopesOf(shape);
    knownSlopes.set(shape, slopes);
  }
  return slopes.get(edgeId) ?? 0;
}

/** A step of one millimetre: small beside every curve of a pattern piece, large beside the rounding of a length. */
const SLOPE_STEP_MM = 1;

function slopesOf(shape: Shape): ReadonlyMap<string, number> {
  const anyAssumed = shape.ring.some((edge) => edge.allowanceAssumed && edge.role !== 'fold');
  if (shape.tracedLine === 'seam' || !anyAssumed) return new Map();
  const wider = pathsOf(shape, SLOPE_STEP_MM);
  return new Map(
    seamlineOf(shape).edges.map(({ edge, index, lengthMm }) => [
      edge.id,
      (pathLengthMm(wider[index]!) - lengthMm) / SLOPE_STEP_MM,
    ]),
  );
}

function pathsOf(shape: Shape, widenAssumedMm: number): readonly (readonly Point[])[] {
  const curves = shape.ring.map((edge) => edge.curve);
  const insets = shape.ring.map((edge) => {
    const inset = insetMm(shape, edge);
    return edge.allowanceAssumed && edge.role !== 'fold' ? inset + widenAssumedMm : inset;
  });
  if (insets.every((inset) => inset === 0)) return curves;
  // The ring runs clockwise by agreement; a set edited by hand may not, and its allowance still lies outside the seam.
  const inward = isClockwise(flattenRing(curves, ORIENTATION_CHORD_MM)) ? -1 : 1;
  return offsetRing(
    curves.map((path, i) => ({ path, distanceMm: inward * insets[i]! })),
    SEAMLINE_TOLERANCE_MM,
  );
}

/** How near the derived seamline follows the exact parallel: a tenth of the best outline a photo gives. */
const SEAMLINE_TOLERANCE_MM = 0.01;
/** Coarse is enough to tell which way round a ring runs. */
const ORIENTATION_CHORD_MM = 1;

function build(ring: readonly Edge[], paths: readonly CubicPath[]): Seamline {
  const edges = ring.map((edge, index) => {
    const path = paths[index]!;
    return { edge, index, path, lengthMm: pathLengthMm(path) };
  });
  return { edges, byId: new Map(edges.map((entry) => [entry.edge.id, entry])) };
}
