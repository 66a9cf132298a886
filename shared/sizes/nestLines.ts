// The nest of a piece: its sizes laid on each other, and whether each line keeps its place between the lines of its
// neighbours. All lines may meet at a common point and run in the other order beyond it; one line that leaves the order alone
// was graded wrongly.
import { memoised } from '../base/memoised.ts';
import type { Point } from '../base/points.ts';
import { type CubicPath, cubicPoint, segment, segmentCount } from '../geometry/cubicPath.ts';
import { rigidFit } from '../geometry/rigidFit.ts';
import { apply } from '../geometry/transform.ts';
import { distance, dot, leftNormal, lerp, sub, unit } from '../geometry/vector.ts';
import type { Piece, Shape, Size } from '../pattern/model.ts';
import { seamlineOf } from '../pattern/seamline.ts';

export interface OutOfOrder {
  readonly edge: string;
  readonly label: string;
  readonly size: Size;
  readonly neighbours: readonly [Size, Size];
  /** How far the line lies beyond both of its neighbours. */
  readonly byMm: number;
  /** In the frame of the shape in `size`. */
  readonly at: Point;
}

export interface LineOrder {
  /** The place of each size in which it strays farthest beyond its neighbours; byMm 0 where the order holds. */
  readonly worst: OutOfOrder | null;
}

/** Places along an edge at which the lines are compared, as parts of its length: corners belong to two edges and are left out. */
const PLACES = [0.125, 0.375, 0.625, 0.875] as const;

const known = new WeakMap<Shape, readonly Place[]>();

/** The sizes of a piece laid on each other by the least squares of equal places; null when its edges differ by size. */
export function lineOrder(piece: Piece, sizes: readonly Size[]): LineOrder | null {
  const traced = sizes.filter((size) => piece.shapes[size] !== undefined);
  const shapes = traced.map((size) => piece.shapes[size]!);
  const ids = shapes.map(({ ring }) => JSON.stringify(ring.map(({ id }) => id)));
  if (new Set(ids).size > 1) return null;
  let worst: OutOfOrder | null = null;
  for (let i = 1; i + 1 < traced.length; i++) {
    const middle = placesOf(shapes[i]!);
    const here = middle.map(({ at }) => at);
    const [smaller, larger] = [shapes[i - 1]!, shapes[i + 1]!].map((shape) => {
      const points = placesOf(shape).map(({ at }) => at);
      const fit = rigidFit(points, here);
      return points.map((p) => apply(fit, p));
    }) as [Point[], Point[]];
    for (const [k, { at, normal }] of middle.entries()) {
      const fromSmaller = dot(sub(at, smaller[k]!), normal);
      const toLarger = dot(sub(larger[k]!, at), normal);
      const byMm = fromSmaller * toLarger < 0 ? Math.min(Math.abs(fromSmaller), Math.abs(toLarger)) : 0;
      if (worst !== null && byMm <= worst.byMm) continue;
      const edge = shapes[i]!.ring[Math.floor(k / PLACES.length)]!;
      worst = {
        edge: edge.id,
        label: edge.label,
        size: traced[i]!,
        neighbours: [traced[i - 1]!, traced[i + 1]!],
        byMm,
        at,
      };
    }
  }
  return { worst };
}

interface Place {
  readonly at: Point;
  readonly normal: Point;
}

function placesOf(shape: Shape): readonly Place[] {
  return memoised(known, shape, () => seamlineOf(shape).edges.flatMap(({ path }) => placesAlong(path)));
}

/** Chords for each cubic: their sagitta is the same in every size and cancels when the lines are compared. */
const CHORDS = 6;

function placesAlong(path: CubicPath): readonly Place[] {
  const count = CHORDS * segmentCount(path);
  const points = [path[0]!];
  for (let i = 0; i < count; i++)
    points.push(cubicPoint(segment(path, Math.floor(i / CHORDS)), ((i % CHORDS) + 1) / CHORDS));
  const passed = [0];
  for (let i = 1; i <= count; i++) passed.push(passed[i - 1]! + distance(points[i - 1]!, points[i]!));
  const lengthMm = passed[count]!;
  let chord = 1;
  return PLACES.map((part) => {
    while (chord < count && passed[chord]! < part * lengthMm) chord++;
    const [from, to] = [points[chord - 1]!, points[chord]!];
    const chordMm = passed[chord]! - passed[chord - 1]!;
    const ratio = chordMm === 0 ? 0 : (part * lengthMm - passed[chord - 1]!) / chordMm;
    return { at: lerp(from, to, ratio), normal: leftNormal(unit(sub(to, from))) };
  });
}
