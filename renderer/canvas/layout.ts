// Where each piece lies on the canvas. Pieces keep their place while they are corrected: the lay only changes when a piece
// comes, goes, or is traced anew in another size of paper.
import type { Point } from '../../shared/base/points.ts';
import { flattenPath } from '../../shared/geometry/flatten.ts';
import { layOut } from '../../shared/pattern/layOut.ts';
import type { PatternSet, Shape, Size } from '../../shared/pattern/model.ts';
import { type Box, boxOf } from '../../shared/pattern/pieceLines.ts';

export interface Lay {
  readonly key: string;
  readonly offsets: ReadonlyMap<string, Point>;
  readonly boxes: ReadonlyMap<string, Box>;
}

const CHORD_MM = 1;
/** Room between pieces, for names and allowances. */
const GAP_MM = 60;
/** A sheet a little wider than high fills a window best. */
const WIDTH_TO_HEIGHT = 1.7;
/** A piece may grow by this much before the others make room. */
const GROWTH_MM = 80;

export function layPieces(set: PatternSet, size: Size, before: Lay | null): Lay {
  const shapes = set.pieces.flatMap((piece): [string, Shape][] => {
    const shape = piece.shapes[size];
    return shape === undefined ? [] : [[piece.id, shape]];
  });
  const boxes = shapes.map(([, shape]) => shapeBox(shape));
  const key = `${size} ${shapes.map(([id], i) => `${id} ${boxes[i]!.map((mm) => Math.round(mm / GROWTH_MM)).join(' ')}`).join('; ')}`;
  if (before?.key === key) return before;
  if (before !== null && isNear(before, shapes, boxes)) return before;
  const area = boxes.reduce(
    (sum, [minX, minY, maxX, maxY]) => sum + (maxX - minX + GAP_MM) * (maxY - minY + GAP_MM),
    0,
  );
  const { offsetsMm } = layOut(boxes, Math.sqrt(area * WIDTH_TO_HEIGHT), GAP_MM);
  return {
    key,
    offsets: new Map(shapes.map(([id], i) => [id, offsetsMm[i]!])),
    boxes: new Map(shapes.map(([id], i) => [id, boxes[i]!])),
  };
}

/** The upright box of the traced line, piece millimetres. */
export function shapeBox(shape: Shape): Box {
  return boxOf(shape.ring.flatMap((edge) => flattenPath(edge.curve, CHORD_MM)));
}

function isNear(lay: Lay, shapes: readonly [string, Shape][], boxes: readonly Box[]): boolean {
  return (
    lay.offsets.size === shapes.length &&
    shapes.every(([id], i) => {
      const old = lay.boxes.get(id);
      return old?.every((mm, k) => Math.abs(mm - boxes[i]![k]!) < GROWTH_MM) ?? false;
    })
  );
}
