// A piece cut across and opened (or folded up): everything beyond the line moves by one vector, edges that cross the line
// are redrawn through the gap. What lengthen/shorten lines are for.
import type { Point } from '../../base/points.ts';
import { fail, ok, type Result } from '../../base/result.ts';
import { lengthToParameter, parameterAtLength, pathLengthMm } from '../../geometry/arcLength.ts';
import { type CubicPath, endOf, joinPaths, pointAt, splitAt, startOf } from '../../geometry/cubicPath.ts';
import { intersectLine } from '../../geometry/intersect.ts';
import { nearestOnPath } from '../../geometry/nearest.ts';
import { add, cross, distance, dot, leftNormal, scale, sub } from '../../geometry/vector.ts';
import type { Dart, Edge, OtherMark, Shape } from '../../pattern/model.ts';
import { seamEdge } from '../../pattern/seamline.ts';
import { type Displaced, displacePath, type Still } from './blend.ts';
import { isStraight } from './ends.ts';
import { type Change, fromStart, mouthsOn, type Reshaped, reshape, splitAtPlace } from './reshape.ts';

export interface CutLine {
  readonly through: Point;
  /** Unit direction, square to the line, toward the part that moves. */
  readonly toward: Point;
}

/** A crossing edge is redrawn over at least this much to each side of the line. */
const REACH_MM = 40;
/** Shortening may use up this part of the reach: beyond it the edge would run back on itself. */
const MOST_SHORTENING_RATIO = 0.6;

/** The shape opened by byMm along the line (closed where negative); parts before the line stay as they are. */
export function spreadAcross(shape: Shape, line: CutLine, byMm: number): Result<Reshaped> {
  const move = scale(line.toward, byMm);
  const isBeyond = (point: Point) => dot(sub(point, line.through), line.toward) > 0;
  const shifted = (point: Point): Point => (isBeyond(point) ? add(point, move) : point);
  const changes = new Map<string, Change>();
  for (const edge of shape.ring) {
    const [from, to] = [isBeyond(startOf(edge.curve)), isBeyond(endOf(edge.curve))];
    if (!from && !to) continue;
    if (from && to) {
      const moved = displacePath(edge.curve, { how: 'linear', stations: [{ atRatio: 0, moveMm: move }] });
      changes.set(edge.id, { curve: moved.path, carry: fromStart });
      continue;
    }
    const change = crossing(shape, edge, line, move, from ? 'start' : 'end');
    if (change === null)
      return fail(
        'no-room',
        `The edge "${edge.label}" is too short beside the line for that much; move the line or take less.`,
      );
    changes.set(edge.id, change);
  }
  const darts = new Map(
    shape.darts.map((dart): [string, Dart] => [
      dart.id,
      { ...dart, legs: [shifted(dart.legs[0]), shifted(dart.legs[1])], apex: shifted(dart.apex) },
    ]),
  );
  const { shape: redrawn, carry } = reshape(shape, changes, darts);
  const { grainline } = shape;
  return ok({
    carry,
    shape: {
      ...redrawn,
      grainline: grainline && { ...grainline, from: shifted(grainline.from), to: shifted(grainline.to) },
      marks: shape.marks.map((mark) => shiftedMark(mark, shifted)),
    },
  });
}

function crossing(shape: Shape, edge: Edge, line: CutLine, move: Point, beyond: 'start' | 'end'): Change | null {
  const onLine = add(line.through, leftNormal(line.toward));
  const t = intersectLine(line.through, onLine, edge.curve)[0];
  const seam = seamEdge(shape, edge.id);
  if (t === undefined || seam === undefined) return null;
  const atMm = lengthToParameter(edge.curve, t);
  const part = partBetweenMouths(edge, atMm, mouthsOn(shape, edge.id));
  const still: Point = [0, 0];
  const [start, end] = beyond === 'start' ? [move, still] : [still, move];
  const widened = widenedPart(part.path, atMm - part.fromMm, start, end);
  if (widened === null) return null;
  const shifted = (path: CubicPath, by: Point) => path.map((point) => add(point, by));
  const curve = joinPaths([shifted(part.before, start), widened.path, shifted(part.after, end)]);
  const moveAt = (mm: number): Point => {
    if (mm <= part.fromMm) return start;
    return mm >= part.toMm ? end : widened.moveAt(mm - part.fromMm);
  };
  const place = nearestOnPath(seam.path, pointAt(edge.curve, t)).atMm;
  return { curve, moveAt, carry: splitAtPlace(place) };
}

interface Part {
  readonly before: CubicPath;
  readonly path: CubicPath;
  readonly after: CubicPath;
  readonly fromMm: number;
  readonly toMm: number;
}

/** The part of an edge between its darts that holds the place. */
function partBetweenMouths({ curve }: Edge, atMm: number, mouths: readonly Still[]): Part {
  const totalMm = pathLengthMm(curve);
  const fromMm = Math.max(0, ...mouths.map(({ toMm }) => toMm).filter((mm) => mm <= atMm));
  const toMm = Math.min(totalMm, ...mouths.map((mouth) => mouth.fromMm).filter((mm) => mm >= atMm));
  const [before, rest] = splitAt(curve, parameterAtLength(curve, fromMm));
  const [path, after] = splitAt(rest, parameterAtLength(rest, toMm - fromMm));
  return {
    before: fromMm === 0 ? path.slice(0, 1) : before,
    path,
    after: toMm === totalMm ? path.slice(-1) : after,
    fromMm,
    toMm,
  };
}

/** Straight parts are drawn straight again; curved ones pass the move over within a reach of the line. */
function widenedPart(path: CubicPath, atMm: number, start: Point, end: Point): Displaced | null {
  const byMm = distance(start, end);
  const totalMm = pathLengthMm(path);
  const isLine = isStraight(path);
  const reachMm = Math.min(Math.max(REACH_MM, byMm / MOST_SHORTENING_RATIO), atMm, totalMm - atMm);
  const [low, high] = isLine ? [0, totalMm] : [atMm - reachMm, atMm + reachMm];
  if (byMm > (high - low) * MOST_SHORTENING_RATIO) return null;
  return displacePath(path, {
    how: isLine ? 'linear' : 'smooth',
    stations: [
      { atRatio: low / totalMm, moveMm: start },
      { atRatio: high / totalMm, moveMm: end },
    ],
  });
}

function shiftedMark(mark: OtherMark, shifted: (point: Point) => Point): OtherMark {
  if ('at' in mark) return { ...mark, at: shifted(mark.at) };
  return mark.kind === 'lengthen-shorten' ? mark : { ...mark, from: shifted(mark.from), to: shifted(mark.to) };
}

/** The lengthen/shorten line drawn on the piece, as a cut line that moves the side `toward` points to; null = none drawn. */
export function drawnLine(shape: Shape, toward: Point): CutLine | null {
  for (const mark of shape.marks) {
    if (mark.kind !== 'lengthen-shorten') continue;
    const along = sub(mark.to, mark.from);
    const square = leftNormal(scale(along, 1 / Math.max(Math.hypot(...along), Number.MIN_VALUE)));
    if (cross(along, toward) === 0) continue;
    return { through: mark.from, toward: dot(square, toward) > 0 ? square : scale(square, -1) };
  }
  return null;
}
