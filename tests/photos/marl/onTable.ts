// A drafted piece as it is traced: on its cutting line, with its notches, dart legs, arrow or bracket and its name.
import type { Point } from '../../../shared/base/points.ts';
import { alongPolyline, type CubicPath, densePath } from '../cubics.ts';
import type { NotchShape, PieceSpec } from '../pieces.ts';
import { cuttingLine } from './cutLine.ts';
import type { MarlPiece } from './draft.ts';

const BRACKET_MM = 22;

export function pieceOnTable(piece: MarlPiece, notchShape: NotchShape): PieceSpec {
  const curves = cuttingLine(piece.ring);
  const curveOf = new Map(piece.ring.map((edge, i) => [edge.label, curves[i]!]));
  return {
    id: piece.id,
    edges: piece.ring.map((edge, i) => ({ label: edge.label, curve: curves[i]! })),
    notches: piece.notches.map((notch) => {
      const edge = piece.ring.find((candidate) => candidate.label === notch.edge)!;
      const { at, tangent } = alongPolyline(densePath(edge.seam), notch.atMm);
      const outside: Point = [at[0] + tangent[1] * edge.allowanceMm, at[1] - tangent[0] * edge.allowanceMm];
      return {
        edge: notch.edge,
        atMm: nearestAlong(curveOf.get(notch.edge)!, outside),
        count: notch.count,
        shape: notchShape,
      };
    }),
    grainline: piece.grainline && { ...piece.grainline, heads: 2 },
    fold: piece.fold && { ...piece.fold, insideBy: [BRACKET_MM, 0] },
    darts: piece.darts.map((dart) => {
      const cut = densePath(curveOf.get(dart.edge)!);
      return {
        legs: [legEnd(dart.apex, dart.legs[0], cut), legEnd(dart.apex, dart.legs[1], cut)] as const,
        apex: dart.apex,
      };
    }),
    holes: [],
    lines: [],
    texts: [piece.title],
  };
}

/** Arc length along a path of the foot of a point. */
function nearestAlong(path: CubicPath, point: Point): number {
  const dense = densePath(path);
  let best = { away: Infinity, atMm: 0 };
  let walked = 0;
  for (let i = 1; i < dense.length; i++) {
    const [a, b] = [dense[i - 1]!, dense[i]!];
    const step = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const t = Math.min(
      1,
      Math.max(0, ((point[0] - a[0]) * (b[0] - a[0]) + (point[1] - a[1]) * (b[1] - a[1])) / (step * step)),
    );
    const away = Math.hypot(a[0] + t * (b[0] - a[0]) - point[0], a[1] + t * (b[1] - a[1]) - point[1]);
    if (away < best.away) best = { away, atMm: walked + t * step };
    walked += step;
  }
  return best.atMm;
}

/** Where a dart leg, drawn on past the seamline, leaves the paper. */
function legEnd(apex: Point, onSeam: Point, cut: readonly Point[]): Point {
  const d: Point = [onSeam[0] - apex[0], onSeam[1] - apex[1]];
  for (let i = 1; i < cut.length; i++) {
    const [a, b] = [cut[i - 1]!, cut[i]!];
    const e: Point = [b[0] - a[0], b[1] - a[1]];
    const cross = d[0] * e[1] - d[1] * e[0];
    const t = ((a[0] - apex[0]) * e[1] - (a[1] - apex[1]) * e[0]) / cross;
    const s = ((a[0] - apex[0]) * d[1] - (a[1] - apex[1]) * d[0]) / cross;
    if (t > 0 && s >= 0 && s <= 1) return [apex[0] + t * d[0], apex[1] + t * d[1]];
  }
  throw new Error('the dart leg does not reach the cutting line');
}
