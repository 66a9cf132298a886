// The lines that stand for a piece on paper: cutting line, seamline, notch ticks, darts, grainline, fold, marks and words.
// Geometry only, piece millimetres; how thick or in what colour is the business of each format.
import type { Point } from '../base/points.ts';
import { pointAtLength } from '../geometry/arcLength.ts';
import type { CubicPath } from '../geometry/cubicPath.ts';
import { flattenRing } from '../geometry/flatten.ts';
import { offsetRing } from '../geometry/offset.ts';
import { isClockwise, pointInPolygon, polygonCentroid } from '../geometry/polygon.ts';
import { add, leftNormal, scale } from '../geometry/vector.ts';
import type { CutEntry, Notch, Piece, Shape, Size } from './model.ts';
import { insetMm, seamlineOf } from './seamline.ts';

export interface NotchTicks {
  readonly notch: Notch;
  /** One line for each tick, from the seamline outward (inward where there is no allowance). */
  readonly ticks: readonly (readonly [Point, Point])[];
}

/** Left, top, right and bottom, millimetres. */
export type Box = readonly [minX: number, minY: number, maxX: number, maxY: number];

export interface PieceLines {
  readonly piece: Piece;
  readonly shape: Shape;
  /** The outer line, one path for each edge. */
  readonly cutting: readonly CubicPath[];
  /** The sewn line, one path for each edge; the same paths as `cutting` where nothing lies between them. */
  readonly seam: readonly CubicPath[];
  readonly notches: readonly NotchTicks[];
  /** Edges that lie on the fold of the cloth. */
  readonly folds: readonly CubicPath[];
  /** A place inside the piece, near its middle. */
  readonly middle: Point;
  /** What is written on it, line by line. */
  readonly words: readonly string[];
  /** Holds everything drawn. */
  readonly box: Box;
}

/** The lines of a piece in one size; null when the piece was not traced in that size. */
export function pieceLines(piece: Piece, size: Size): PieceLines | null {
  const shape = piece.shapes[size];
  if (shape === undefined || shape.ring.length === 0) return null;
  const seam = seamlineOf(shape).edges.map(({ path }) => path);
  const cutting = cuttingLine(shape);
  const outline = flattenRing(cutting, OUTLINE_CHORD_MM);
  const notches = shape.notches.flatMap((notch) => ticksOf(shape, notch));
  return {
    piece,
    shape,
    cutting,
    seam,
    notches,
    folds: cutting.filter((_, i) => shape.ring[i]!.role === 'fold'),
    middle: innerMiddle(outline),
    words: [piece.name, `size ${size}`, ...piece.cut.map(cutWords)],
    box: boxOf([...outline, ...notches.flatMap(({ ticks }) => ticks.flat()), ...pointsOf(shape)]),
  };
}

/** The smallest upright box around some points. */
export function boxOf(points: readonly Point[]): Box {
  return points.reduce<Box>(
    ([minX, minY, maxX, maxY], [x, y]) => [Math.min(minX, x), Math.min(minY, y), Math.max(maxX, x), Math.max(maxY, y)],
    [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY],
  );
}

/** Whether two boxes share more than a border. */
export function boxesOverlap(a: Box, b: Box): boolean {
  return a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];
}

/** Fine enough for boxes and for telling inside from outside. */
const OUTLINE_CHORD_MM = 0.1;
/** How near a drawn cutting line follows the exact parallel of a traced seamline. */
const CUTTING_TOLERANCE_MM = 0.01;
/** A tick is at least this long, so that it can be seen on a narrow allowance. */
const LEAST_TICK_MM = 4;
/** Between the ticks of a double notch: about a quarter of an inch. */
const TICK_SPACING_MM = 6.35;

function cuttingLine(shape: Shape): readonly CubicPath[] {
  const traced = shape.ring.map((edge) => edge.curve);
  if (shape.tracedLine === 'cutting') return traced;
  const allowancesMm = shape.ring.map((edge) => (edge.role === 'fold' ? 0 : edge.allowanceMm));
  if (allowancesMm.every((mm) => mm === 0)) return traced;
  const outward = outwardSign(shape);
  return offsetRing(
    traced.map((path, i) => ({ path, distanceMm: outward * allowancesMm[i]! })),
    CUTTING_TOLERANCE_MM,
  );
}

/** 1 where outside is left of travel (a clockwise ring), −1 otherwise. */
function outwardSign(shape: Shape): 1 | -1 {
  return isClockwise(
    flattenRing(
      shape.ring.map((edge) => edge.curve),
      OUTLINE_CHORD_MM,
    ),
  )
    ? 1
    : -1;
}

function ticksOf(shape: Shape, notch: Notch): NotchTicks[] {
  const seam = seamlineOf(shape).byId.get(notch.edge);
  if (seam === undefined) return [];
  const allowanceMm = shape.tracedLine === 'cutting' ? insetMm(shape, seam.edge) : seam.edge.allowanceMm;
  const outward = outwardSign(shape);
  const lengthMm = allowanceMm > 0 ? Math.max(allowanceMm, LEAST_TICK_MM) : -LEAST_TICK_MM;
  const ticks = Array.from({ length: notch.count }, (_, i): readonly [Point, Point] => {
    const atMm = notch.atMm + (i - (notch.count - 1) / 2) * TICK_SPACING_MM;
    const { point, tangent } = pointAtLength(seam.path, atMm);
    return [point, add(point, scale(leftNormal(tangent), outward * lengthMm))];
  });
  return [{ notch, ticks }];
}

function pointsOf(shape: Shape): Point[] {
  const darts = shape.darts.flatMap((dart) => [...dart.legs, dart.apex]);
  const grain = shape.grainline === null ? [] : [shape.grainline.from, shape.grainline.to];
  const marks = shape.marks.flatMap((mark) => ('at' in mark ? [mark.at] : [mark.from, mark.to]));
  return [...darts, ...grain, ...marks];
}

/** The centre of area where it lies inside; on a hollow piece the middle of the widest stretch at that height. */
function innerMiddle(outline: readonly Point[]): Point {
  const centre = polygonCentroid(outline);
  if (pointInPolygon(centre, outline)) return centre;
  const crossings = outline
    .flatMap((a, i) => {
      const b = outline[(i + 1) % outline.length]!;
      if (a[1] <= centre[1] === b[1] <= centre[1]) return [];
      return [a[0] + ((centre[1] - a[1]) / (b[1] - a[1])) * (b[0] - a[0])];
    })
    .sort((a, b) => a - b);
  let best = centre;
  let widestMm = 0;
  for (let i = 0; i + 1 < crossings.length; i += 2) {
    const [from, to] = [crossings[i]!, crossings[i + 1]!];
    if (to - from <= widestMm) continue;
    widestMm = to - from;
    best = [(from + to) / 2, centre[1]];
  }
  return best;
}

function cutWords(entry: CutEntry): string {
  const how = entry.onFold ? ' on the fold' : entry.mirrored ? ' mirrored' : '';
  return `cut ${entry.count}${how}, ${entry.material}`;
}
