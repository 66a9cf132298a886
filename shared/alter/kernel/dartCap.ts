// The edge across the mouth of a dart. When the dart is folded its intake lies over the piece beside it, so the edge of the
// intake must be the mirror image of the edge that it covers: first about the leg, then about the middle of the dart.
import type { Point } from '../../base/points.ts';
import { parameterAtLength } from '../../geometry/arcLength.ts';
import {
  type CubicPath,
  endOf,
  endTangent,
  joinPaths,
  pointAt,
  polylinePath,
  reversePath,
  segmentCount,
  slicePath,
  startOf,
  transformPath,
} from '../../geometry/cubicPath.ts';
import { intersectLine } from '../../geometry/intersect.ts';
import type { Affine } from '../../geometry/transform.ts';
import { add, distance, dot, scale, sub, unit } from '../../geometry/vector.ts';

export interface Mouth {
  readonly apex: Point;
  /** Where the legs meet the edge, in the order of the edge. */
  readonly legs: readonly [Point, Point];
}

/**
 * The edge from the first leg to the second when the intake is pressed toward the start of the edge: `before` is the edge up
 * to the first leg, in its own direction. With the dart folded, the result covers `before` exactly.
 */
export function capToward(before: CubicPath, { apex, legs }: Mouth): CubicPath {
  const middle = unit(add(unit(sub(legs[0], apex)), unit(sub(legs[1], apex))));
  const covered = reversePath(before);
  const folded = transformPath(mirrorAbout(apex, legs[0]), covered);
  const half = upTo(folded, apex, add(apex, middle));
  const mirrored = reversePath(transformPath(mirrorAbout(apex, add(apex, middle)), half));
  const cap = joinPaths([half, mirrored]);
  return [legs[0], ...cap.slice(1, -1), legs[1]];
}

/** The same when the intake is pressed toward the end: `after` is the edge from the second leg on. */
export function capFrom(after: CubicPath, { apex, legs }: Mouth): CubicPath {
  return reversePath(capToward(reversePath(after), { apex, legs: [legs[1], legs[0]] }));
}

/** The part of the path up to the line, continued straight on where it ends before reaching it. */
function upTo(path: CubicPath, through: Point, and: Point): CubicPath {
  const [t] = intersectLine(through, and, path);
  if (t !== undefined) return slicePath(path, 0, t);
  const tangent = endTangent(path);
  const normal: Point = [-(and[1] - through[1]), and[0] - through[0]];
  const speed = dot(tangent, normal);
  const farMm = speed === 0 ? 0 : dot(sub(through, endOf(path)), normal) / speed;
  const longest = 2 * distance(startOf(path), through);
  if (farMm <= 0 || farMm > longest) return path;
  return joinPaths([path, polylinePath([endOf(path), add(endOf(path), scale(tangent, farMm))])]);
}

function mirrorAbout(a: Point, b: Point): Affine {
  const [ux, uy] = unit(sub(b, a));
  const [p, q] = [ux * ux - uy * uy, 2 * ux * uy];
  return [p, q, q, -p, a[0] - p * a[0] - q * a[1], a[1] - q * a[0] + p * a[1]];
}

/** The edge cut at the mouth of a dart: before the first leg, across, and after the second. Legs in the order of the edge. */
export interface CutAtMouth {
  readonly before: CubicPath;
  readonly after: CubicPath;
  readonly mouth: Mouth;
  readonly fromMm: number;
  readonly toMm: number;
}

export function cutAtMouth(curve: CubicPath, apex: Point, placesMm: readonly [number, number]): CutAtMouth {
  const [fromMm, toMm] = placesMm;
  const [from, to] = [parameterAtLength(curve, fromMm), parameterAtLength(curve, toMm)];
  return {
    before: slicePath(curve, 0, from),
    after: slicePath(curve, to, segmentCount(curve)),
    mouth: { apex, legs: [pointAt(curve, from), pointAt(curve, to)] },
    fromMm,
    toMm,
  };
}
