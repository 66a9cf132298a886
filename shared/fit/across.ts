// One piece measured straight across the body: from a place on its seamline to where the level line leaves it, with the
// darts that it crosses closed.
import { memoised } from '../base/memoised.ts';
import type { Point } from '../base/points.ts';
import { lengthToParameter, placeAtLength } from '../geometry/arcLength.ts';
import { pointAt } from '../geometry/cubicPath.ts';
import { flattenRing } from '../geometry/flatten.ts';
import { intersectLine } from '../geometry/intersect.ts';
import { pointInPolygon } from '../geometry/polygon.ts';
import { add, cross, dot, leftNormal, lerp, scale, sub, unit } from '../geometry/vector.ts';
import { dartOnSeam } from '../pattern/darts.ts';
import type { Shape } from '../pattern/model.ts';
import { seamEdge, seamlineOf } from '../pattern/seamline.ts';

export interface EdgePlace {
  readonly edge: string;
  /** Millimetres along the seamline from the edge's start, mouths open. */
  readonly atMm: number;
}

export interface Across {
  readonly from: Point;
  readonly to: Point;
  readonly end: EdgePlace;
  /** With the darts it crosses closed. */
  readonly lengthMm: number;
  readonly dartsCrossed: number;
}

/** Below this the level line only grazes the outline beside the place where it starts, as under an arm. Own setting, no source. */
const GRAZED_MM = 15;
/** Coarse is enough to tell inside from outside. */
const OUTLINE_CHORD_MM = 0.5;
/** A dart that lies nearly along the level line is not crossed by it. */
const LENGTHWISE_SINE = 0.5;

const knownOutlines = new WeakMap<Shape, readonly Point[]>();

/**
 * Straight across from a place on the seamline, square to `lengthwise` (a unit vector); null when the place's edge does not
 * exist or the line does not enter the piece.
 */
export function acrossFrom(shape: Shape, place: EdgePlace, lengthwise: Point): Across | null {
  const seam = seamEdge(shape, place.edge);
  if (seam === undefined) return null;
  const from = placeAtLength(seam.path, place.atMm);
  const sideways = leftNormal(lengthwise);
  const crossings = seamlineOf(shape).edges.flatMap(({ edge, path }) =>
    intersectLine(from, add(from, sideways), path).map((t) => {
      const point = pointAt(path, t);
      return { point, awayMm: dot(sub(point, from), sideways), edge: edge.id, path, t };
    }),
  );
  const ways = ([1, -1] as const).flatMap((way) => {
    const ahead = crossings
      .map((c) => ({ ...c, awayMm: way * c.awayMm }))
      .filter(({ awayMm }) => awayMm > GRAZED_MM)
      .toSorted((a, b) => a.awayMm - b.awayMm);
    const end = ahead[0];
    if (end === undefined || !pointInPolygon(lerp(from, end.point, 0.5), outlineOf(shape))) return [];
    return [end];
  });
  const end = ways.toSorted((a, b) => b.awayMm - a.awayMm)[0];
  if (end === undefined) return null;
  const mouths = dartsBetween(shape, from, end.point);
  return {
    from,
    to: end.point,
    end: { edge: end.edge, atMm: lengthToParameter(end.path, end.t) },
    lengthMm: end.awayMm - mouths.reduce((sum, mm) => sum + mm, 0),
    dartsCrossed: mouths.length,
  };
}

function outlineOf(shape: Shape): readonly Point[] {
  return memoised(knownOutlines, shape, () =>
    flattenRing(
      seamlineOf(shape).edges.map(({ path }) => path),
      OUTLINE_CHORD_MM,
    ),
  );
}

/** What each dart takes out of a straight line that crosses both of its legs. */
function dartsBetween(shape: Shape, from: Point, to: Point): readonly number[] {
  const along = unit(sub(to, from));
  return shape.darts.flatMap((dart) => {
    const on = dartOnSeam(shape, dart);
    if (on === null) return [];
    const axis = sub(lerp(on.points[0], on.points[1], 0.5), dart.apex);
    if (axis[0] === 0 && axis[1] === 0) return [];
    if (Math.abs(cross(unit(axis), along)) < LENGTHWISE_SINE) return [];
    const hits = on.points.flatMap((leg) => {
      const at = meeting(from, to, dart.apex, leg);
      return at === null ? [] : [at];
    });
    return hits.length === 2 ? [Math.abs(dot(sub(hits[1]!, hits[0]!), along))] : [];
  });
}

/** Where two stretches cross; null when they do not or run side by side. */
function meeting(a: Point, b: Point, c: Point, d: Point): Point | null {
  const [ab, cd, ac] = [sub(b, a), sub(d, c), sub(c, a)];
  const turn = cross(ab, cd);
  if (turn === 0) return null;
  const [s, t] = [cross(ac, cd) / turn, cross(ac, ab) / turn];
  return s < 0 || s > 1 || t < 0 || t > 1 ? null : add(a, scale(ab, s));
}
