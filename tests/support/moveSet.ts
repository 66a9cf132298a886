// The same set laid down elsewhere: moved, turned or turned over. Nothing that is judged may change by it.
import type { Point } from '../../shared/base/points.ts';
import type { EdgeSpan, PatternSet, Piece, Shape } from '../../shared/pattern/model.ts';
import { seamEdge } from '../../shared/pattern/seamline.ts';
import { mappedShape } from './mapShape.ts';

export function movedSet(set: PatternSet, turnDeg: number, by: Point): PatternSet {
  const turnRad = (turnDeg * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turnRad), Math.sin(turnRad)];
  return withShapes(set, (shape) =>
    mappedShape(shape, ([x, y]) => [cos * x - sin * y + by[0], sin * x + cos * y + by[1]]),
  );
}

/** Turned over: the ring is listed the other way round so that it stays clockwise, and places count from the other end. */
export function mirroredShape(shape: Shape): Shape {
  const length = (edge: string) => seamEdge(shape, edge)?.lengthMm ?? 0;
  const turned = mappedShape(shape, ([x, y]) => [-x, y]);
  return {
    ...turned,
    ring: turned.ring.map((edge) => ({ ...edge, curve: edge.curve.toReversed() })).toReversed(),
    notches: shape.notches.map((n) => ({ ...n, atMm: length(n.edge) - n.atMm })),
    darts: turned.darts.map((d) => ({ ...d, legs: [d.legs[1], d.legs[0]] as const })),
    pleats: shape.pleats.map((p) => ({ ...p, fromMm: length(p.edge) - p.toMm, toMm: length(p.edge) - p.fromMm })),
  };
}

/** Every piece turned over, and the seams with them. */
export function mirroredSet(set: PatternSet): PatternSet {
  const flipped = withShapes(set, mirroredShape);
  const turnSpan = (span: EdgeSpan): EdgeSpan => {
    const piece = set.pieces.find((p) => p.id === span.piece);
    const shape = piece === undefined ? undefined : Object.values(piece.shapes)[0];
    const length = shape === undefined ? 0 : (seamEdge(shape, span.edge)?.lengthMm ?? 0);
    const stretch =
      span.stretch === null ? null : { fromMm: length - span.stretch.toMm, toMm: length - span.stretch.fromMm };
    return { ...span, reversed: !span.reversed, stretch };
  };
  return {
    ...flipped,
    seams: set.seams.map((seam) => ({
      ...seam,
      sides: [seam.sides[0].map(turnSpan), seam.sides[1].map(turnSpan)] as const,
    })),
  };
}

function withShapes(set: PatternSet, change: (shape: Shape) => Shape): PatternSet {
  const all = (shapes: Piece['shapes']) =>
    Object.fromEntries(Object.entries(shapes).map(([size, shape]) => [size, change(shape)]));
  const pieces = set.pieces.map(
    (piece): Piece => ({
      ...piece,
      shapes: all(piece.shapes),
      ...(piece.before === undefined ? {} : { before: all(piece.before) }),
    }),
  );
  return { ...set, pieces };
}
