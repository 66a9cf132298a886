// A shape carried by a map of the plane, a shape made larger, and a set graded into sizes.
import type { Point } from '../../shared/base/points.ts';
import type { PatternSet, Piece, Shape } from '../../shared/pattern/model.ts';

export type PointMap = (point: Point) => Point;

/** Every point carried along; places along edges stay what they are. */
export function mappedShape(shape: Shape, map: PointMap): Shape {
  return {
    ...shape,
    ring: shape.ring.map((edge) => ({ ...edge, curve: edge.curve.map(map) })),
    darts: shape.darts.map((d) => ({ ...d, legs: [map(d.legs[0]), map(d.legs[1])] as const, apex: map(d.apex) })),
    marks: shape.marks.map((mark) =>
      'at' in mark ? { ...mark, at: map(mark.at) } : { ...mark, from: map(mark.from), to: map(mark.to) },
    ),
    grainline:
      shape.grainline === null
        ? null
        : { ...shape.grainline, from: map(shape.grainline.from), to: map(shape.grainline.to) },
    ...(shape.unsure && { unsure: shape.unsure.map((line) => ({ ...line, points: line.points.map(map) })) }),
  };
}

/** Larger by one ratio, allowances as they were. */
export function scaledShape(shape: Shape, ratio: number): Shape {
  return {
    ...mappedShape(shape, ([x, y]) => [ratio * x, ratio * y]),
    notches: shape.notches.map((n) => ({ ...n, atMm: ratio * n.atMm })),
    pleats: shape.pleats.map((p) => ({ ...p, fromMm: ratio * p.fromMm, toMm: ratio * p.toMm })),
  };
}

/** The base size of every piece, a step larger from size to size. */
export function gradedSet(set: PatternSet, sizes: readonly string[], stepRatio: number): PatternSet {
  const pieces = set.pieces.map((piece): Piece => {
    const shape = piece.shapes[set.baseSize] ?? Object.values(piece.shapes)[0]!;
    const shapes = Object.fromEntries(sizes.map((size, i) => [size, scaledShape(shape, 1 + stepRatio * i)]));
    return { ...piece, shapes };
  });
  return { ...set, sizes, baseSize: sizes[0]!, pieces };
}
