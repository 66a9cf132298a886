// Pieces with corners where a test wants them: straight edges from corner to corner.
import type { Point } from '../../shared/base/points.ts';
import type { Edge, Piece, Shape } from '../../shared/pattern/model.ts';
import { line, pieceOf, rectangle } from './sets.ts';

/** A piece with straight edges between the given corners; each edge is `[id, role]`. */
export function straight(
  id: string,
  kind: Piece['kind'],
  corners: readonly Point[],
  edges: readonly (readonly [label: string, role: Edge['role']])[],
  pointSigma = 0.1,
): Piece {
  const base = rectangle({}, { pointSigma });
  const ring = corners.map((from, i): Edge => {
    const [label, role] = edges[i]!;
    return {
      id: label,
      label,
      role,
      curve: line(from, corners[(i + 1) % corners.length]!),
      allowanceMm: 15,
      allowanceAssumed: false,
      sigmaMm: null,
    };
  });
  return pieceOf(id, kind, { M: { ...base, ring } });
}

/** A ring of straight edges e1, e2, … from corner to corner, as a trace gives them. */
export function tracedRing(corners: readonly Point[]): readonly Edge[] {
  return corners.map((from, i) => ({
    id: `e${i + 1}`,
    label: `e${i + 1}`,
    role: 'seam',
    curve: line(from, corners[(i + 1) % corners.length]!),
    allowanceMm: 10,
    allowanceAssumed: false,
    sigmaMm: 0.1,
  }));
}

/** The piece with something of its shape in size M changed. */
export function changed(p: Piece, change: (shape: Shape) => Partial<Shape>): Piece {
  const shape = p.shapes.M!;
  return { ...p, shapes: { M: { ...shape, ...change(shape) } } };
}

/** The piece with one of its edges redrawn. */
export function withCurve(p: Piece, id: string, curve: readonly Point[]): Piece {
  return changed(p, ({ ring }) => ({ ring: ring.map((edge): Edge => (edge.id === id ? { ...edge, curve } : edge)) }));
}
