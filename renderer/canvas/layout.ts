// Where each piece lies on the canvas: upright as it is worn, none covering another. Pieces keep their place while they are
// corrected: the lay only changes when a piece comes, goes, or becomes another shape altogether.
import type { Point } from '../../shared/base/points.ts';
import { flattenPath } from '../../shared/geometry/flatten.ts';
import { type Affine, apply, rigid } from '../../shared/geometry/transform.ts';
import { angleDeg, sub } from '../../shared/geometry/vector.ts';
import { normalLabel } from '../../shared/pattern/kinds.ts';
import { layOut } from '../../shared/pattern/layOut.ts';
import type { PatternSet, Shape, Size } from '../../shared/pattern/model.ts';
import { type Box, boxOf } from '../../shared/pattern/pieceLines.ts';

export interface Lay {
  readonly size: Size;
  readonly places: ReadonlyMap<string, Place>;
}

interface Place {
  readonly turnDeg: number;
  /** Piece millimetres → canvas millimetres. */
  readonly canvasFromPiece: Affine;
  /** Of the turned shape before it was moved to its place. */
  readonly box: Box;
}

const CHORD_MM = 1;
/** Room between pieces, for names and allowances. */
const GAP_MM = 70;
/** A sheet of this shape fills the canvas of most windows. */
const WIDTH_TO_HEIGHT = 1.25;
/** Widths tried, against the side of a square that the pieces would fill. */
const WIDTH_RATIOS = [0.9, 1, 1.1, 1.2, 1.35, 1.5, 1.7, 2, 2.4];
/** A piece may grow by this much before the others make room. */
const GROWTH_MM = 60;

export function layPieces(set: PatternSet, size: Size, before: Lay | null): Lay {
  const shapes = set.pieces.flatMap((piece): (readonly [string, Shape])[] => {
    const shape = piece.shapes[size];
    return shape === undefined ? [] : [[piece.id, shape]];
  });
  if (before?.size === size && isStillRight(before, shapes)) return before;
  const turns = shapes.map(([, shape]) => uprightTurnDeg(shape));
  const boxes = shapes.map(([, shape], i) => boxUnder(shape, rigid(turns[i]!, [0, 0])));
  const offsetsMm = bestOffsets(boxes);
  const places = shapes.map(([id], i): [string, Place] => [
    id,
    { turnDeg: turns[i]!, canvasFromPiece: rigid(turns[i]!, offsetsMm[i]!), box: boxes[i]! },
  ]);
  return { size, places: new Map(places) };
}

/** Of several widths of sheet, the lay that can be shown largest. */
function bestOffsets(boxes: readonly Box[]): readonly Point[] {
  const areaMm2 = boxes.reduce(
    (sum, [minX, minY, maxX, maxY]) => sum + (maxX - minX + GAP_MM) * (maxY - minY + GAP_MM),
    0,
  );
  const lays = WIDTH_RATIOS.map((ratio) => layOut(boxes, Math.sqrt(areaMm2) * ratio, GAP_MM));
  const extent = ({ widthMm, heightMm }: (typeof lays)[number]) => Math.max(widthMm, heightMm * WIDTH_TO_HEIGHT);
  return lays.toSorted((a, b) => extent(a) - extent(b))[0]!.offsetsMm;
}

/** The upright box of the traced line after a map. */
export function boxUnder(shape: Shape, map: Affine): Box {
  return boxOf(shape.ring.flatMap((edge) => flattenPath(edge.curve, CHORD_MM)).map((point) => apply(map, point)));
}

function isStillRight(lay: Lay, shapes: readonly (readonly [string, Shape])[]): boolean {
  return (
    lay.places.size === shapes.length &&
    shapes.every(([id, shape]) => {
      const place = lay.places.get(id);
      if (place === undefined) return false;
      const box = boxUnder(shape, rigid(place.turnDeg, [0, 0]));
      return place.box.every((mm, i) => Math.abs(mm - box[i]!) < GROWTH_MM);
    })
  );
}

/** Edges that hang lowest when the garment is worn, the surest first. */
const LOWEST = ['hem', 'waist', 'lower'];

/**
 * The turn (clockwise as seen) that stands a piece as it is worn: grainline or fold upright, hem or waist below. Where nothing
 * says which end is up, the smaller turn; without grain or fold none.
 */
export function uprightTurnDeg(shape: Shape): number {
  const along = uprightLine(shape);
  if (along === null) return 0;
  const toVertical = -90 - angleDeg(along);
  const least = ((((toVertical + 90) % 180) + 180) % 180) - 90;
  const lowest = LOWEST.map((label) => shape.ring.find((edge) => normalLabel(edge.label) === label)).find(
    (edge) => edge !== undefined,
  );
  if (lowest === undefined) return least;
  const turned = rigid(least, [0, 0]);
  const [, minY, , maxY] = boxUnder(shape, turned);
  const middle = boxUnder({ ...shape, ring: [lowest] }, turned);
  const isBelow = (middle[1] + middle[3]) / 2 >= (minY + maxY) / 2;
  return isBelow ? least : least + 180;
}

function uprightLine(shape: Shape): Point | null {
  if (shape.grainline !== null) return sub(shape.grainline.to, shape.grainline.from);
  const fold = shape.ring.find(({ role }) => role === 'fold');
  return fold === undefined ? null : sub(fold.curve.at(-1)!, fold.curve[0]!);
}
