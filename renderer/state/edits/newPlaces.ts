// Where a mark that is added from a list first lies, so that it can be seen and then moved: the middle of the open edge, the
// middle of the piece.
import type { Point } from '../../../shared/base/points.ts';
import { pathLengthMm, pointAtLength } from '../../../shared/geometry/arcLength.ts';
import { polygonCentroid } from '../../../shared/geometry/polygon.ts';
import type { Shape } from '../../../shared/pattern/model.ts';
import { boxOf } from '../../../shared/pattern/pieceLines.ts';
import { outlineOf } from './outline.ts';

/** A new grainline takes this part of the height of the piece, upright. */
const GRAIN_RATIO = 0.5;

export function placesForNewMarks(
  shape: Shape,
  openEdge: string | null,
): { readonly notch: Point; readonly middle: Point; readonly grain: readonly [Point, Point] } {
  const outline = outlineOf(shape);
  const middle = polygonCentroid(outline);
  const [, minY, , maxY] = boxOf(outline);
  const half = ((maxY - minY) * GRAIN_RATIO) / 2;
  const edge = shape.ring.find(({ id }) => id === openEdge) ?? shape.ring[0]!;
  return {
    notch: pointAtLength(edge.curve, pathLengthMm(edge.curve) / 2).point,
    middle,
    grain: [
      [middle[0], middle[1] + half],
      [middle[0], middle[1] - half],
    ],
  };
}
