// What differs between two states of one shape, as lines: for showing a change before it is made, the old lines over the new.
// Geometry only; how they are drawn is the business of the canvas.
import type { Point } from '../base/points.ts';
import { placeAtLength } from '../geometry/arcLength.ts';
import type { CubicPath } from '../geometry/cubicPath.ts';
import { flattenPath } from '../geometry/flatten.ts';
import { nearestOnPath } from '../geometry/nearest.ts';
import { distance } from '../geometry/vector.ts';
import type { Piece, Shape } from './model.ts';
import { type PieceLines, pieceLines } from './pieceLines.ts';
import { seamEdge } from './seamline.ts';

/** Lines of one state that the other does not have, piece millimetres. */
export interface ChangedLines {
  readonly cutting: readonly CubicPath[];
  readonly seam: readonly CubicPath[];
  /** Notch ticks, dart legs and the grainline. */
  readonly strokes: readonly Stroke[];
}
type Stroke = readonly [Point, Point];

/** One place where the change is seen best. Null where there was nothing, or is nothing any more. */
export interface ChangedPlace {
  readonly was: Point | null;
  readonly is: Point | null;
}

export interface ShapeChange {
  readonly was: ChangedLines;
  readonly is: ChangedLines;
  /** Where the outline differs most; where it does not, each mark that does. */
  readonly places: readonly ChangedPlace[];
}

/** Lines that differ by less lie on one another as far as anyone can draw them. */
const SEEN_FROM_MM = 0.05;
const CHORD_MM = 2;

/** Both shapes belong to the piece and lie in the same frame. */
export function shapeChange(piece: Piece, before: Shape, after: Shape): ShapeChange {
  const [was, is] = [linesOf(piece, before), linesOf(piece, after)];
  const outline = outlinePlace(before, after);
  return {
    was: linesBeyond(was, is),
    is: linesBeyond(is, was),
    places: outline === null ? markPlaces(before, after) : [outline],
  };
}

interface AllLines extends ChangedLines {
  readonly shape: Shape;
}

function linesOf(piece: Piece, shape: Shape): AllLines {
  const lines = pieceLines({ ...piece, shapes: { shown: shape } }, 'shown');
  if (lines === null) return { shape, cutting: [], seam: [], strokes: [] };
  const { cutting, seam } = lines;
  return { shape, cutting, seam: seam.filter((path, i) => path !== cutting[i]), strokes: strokesOf(lines, shape) };
}

function strokesOf({ notches }: PieceLines, { darts, grainline }: Shape): readonly Stroke[] {
  return [
    ...notches.flatMap(({ ticks }) => ticks),
    ...darts.flatMap(({ legs, apex }) => legs.map((leg): Stroke => [leg, apex])),
    ...(grainline === null ? [] : [[grainline.from, grainline.to] as const]),
  ];
}

function linesBeyond(one: AllLines, other: AllLines): ChangedLines {
  return {
    cutting: one.cutting.filter((path) => !other.cutting.some((same) => isSameLine(path, same))),
    seam: one.seam.filter((path) => !other.seam.some((same) => isSameLine(path, same))),
    strokes: one.strokes.filter((stroke) => !other.strokes.some((same) => isSameLine(stroke, same))),
  };
}

function isSameLine(a: readonly Point[], b: readonly Point[]): boolean {
  return a.length === b.length && a.every((point, i) => distance(point, b[i]!) < SEEN_FROM_MM);
}

/** The place of the old outline farthest from the new one, or of the new one from the old. */
function outlinePlace(before: Shape, after: Shape): ChangedPlace | null {
  const changed = before.ring.flatMap((edge) => {
    const now = after.ring.find(({ id }) => id === edge.id);
    return now === undefined || isSameLine(edge.curve, now.curve) ? [] : [{ was: edge.curve, is: now.curve }];
  });
  const places = changed.flatMap(({ was, is }) => [
    ...flattenPath(was, CHORD_MM).map((point) => ({ was: point, is: nearestOnPath(is, point).point })),
    ...flattenPath(is, CHORD_MM).map((point) => ({ was: nearestOnPath(was, point).point, is: point })),
  ]);
  let most: { readonly was: Point; readonly is: Point } | null = null;
  let mostMm = SEEN_FROM_MM;
  for (const place of places) {
    const awayMm = distance(place.was, place.is);
    if (awayMm > mostMm) [most, mostMm] = [place, awayMm];
  }
  return most;
}

function markPlaces(before: Shape, after: Shape): readonly ChangedPlace[] {
  return [
    ...pairsById(before.notches, after.notches)
      .filter(([was, is]) => was?.count !== is?.count || was?.edge !== is?.edge || was?.atMm !== is?.atMm)
      .map(([was, is]) => ({ was: was && notchPoint(before, was), is: is && notchPoint(after, is) })),
    ...pairsById(before.darts, after.darts)
      .filter(([was, is]) => was === null || is === null || !isSameLine([...was.legs, was.apex], [...is.legs, is.apex]))
      .map(([was, is]) => ({ was: was?.apex ?? null, is: is?.apex ?? null })),
    ...grainPlace(before, after),
  ];
}

function pairsById<T extends { readonly id: string }>(was: readonly T[], is: readonly T[]) {
  const gone = was.map((one) => [one, is.find(({ id }) => id === one.id) ?? null] as const);
  const come = is.filter((one) => !was.some(({ id }) => id === one.id)).map((one) => [null, one] as const);
  return [...gone, ...come];
}

function notchPoint(shape: Shape, { edge, atMm }: Shape['notches'][number]): Point | null {
  const seam = seamEdge(shape, edge);
  return seam === undefined ? null : placeAtLength(seam.path, atMm);
}

function grainPlace({ grainline: was }: Shape, { grainline: is }: Shape): readonly ChangedPlace[] {
  if (was !== null && is !== null && isSameLine([was.from, was.to], [is.from, is.to])) return [];
  return was === null && is === null ? [] : [{ was: was?.from ?? null, is: is?.from ?? null }];
}
