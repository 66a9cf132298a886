// The nest of a piece: its sizes laid on each other, and whether each line keeps its place between the lines of its
// neighbours. All lines may meet at a common point and run in the other order beyond it; one line that leaves the order alone
// was graded wrongly.
import { memoised } from '../base/memoised.ts';
import type { Point } from '../base/points.ts';
import { type CubicPath, cubicPoint, segment, segmentCount } from '../geometry/cubicPath.ts';
import { rigidFit } from '../geometry/rigidFit.ts';
import { distance, leftNormal, lerp, sub, unit } from '../geometry/vector.ts';
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

const known = new WeakMap<Shape, Places>();

/** The sizes of a piece laid on each other by the least squares of equal places; null when its edges differ by size. */
export function lineOrder(piece: Piece, sizes: readonly Size[]): LineOrder | null {
  const traced = sizes.filter((size) => piece.shapes[size] !== undefined);
  const shapes = traced.map((size) => piece.shapes[size]!);
  const ids = shapes.map(({ ring }) => JSON.stringify(ring.map(({ id }) => id)));
  if (new Set(ids).size > 1) return null;
  let worst: OutOfOrder | null = null;
  for (let i = 1; i + 1 < traced.length; i++) {
    const middle = placesOf(shapes[i]!);
    const fromSmallerMm = beyond(placesOf(shapes[i - 1]!), middle);
    const fromLargerMm = beyond(placesOf(shapes[i + 1]!), middle);
    for (let k = 0; k < middle.at.length; k++) {
      const at = middle.at[k]!;
      const fromSmaller = -fromSmallerMm[k]!;
      const toLarger = fromLargerMm[k]!;
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

/** How far each place of another size, laid on this one, lies outward of this one's line. */
function beyond(other: Places, middle: Places): Float64Array {
  const [a, b, c, d, e, f] = rigidFit(other.at, middle.at);
  const byMm = new Float64Array(middle.at.length);
  for (let k = 0; k < byMm.length; k++) {
    const [x, y] = other.at[k]!;
    const at = middle.at[k]!;
    const normal = middle.normals[k]!;
    byMm[k] = (a * x + c * y + e - at[0]) * normal[0] + (b * x + d * y + f - at[1]) * normal[1];
  }
  return byMm;
}

/** The places of a shape, edge by edge, and the normals of its line there. */
interface Places {
  readonly at: Point[];
  readonly normals: Point[];
}

function placesOf(shape: Shape): Places {
  return memoised(known, shape, () => {
    const places: Places = { at: [], normals: [] };
    for (const { path } of seamlineOf(shape).edges) addPlaces(path, places);
    return places;
  });
}

/** Chords for each cubic: their sagitta is the same in every size and cancels when the lines are compared. */
const CHORDS = 6;

function addPlaces(path: CubicPath, { at, normals }: Places): void {
  const points = [path[0]!];
  for (let i = 0; i < segmentCount(path); i++) {
    const cubic = segment(path, i);
    for (let k = 1; k <= CHORDS; k++) points.push(cubicPoint(cubic, k / CHORDS));
  }
  const count = points.length - 1;
  const passed = [0];
  for (let i = 1; i <= count; i++) passed.push(passed[i - 1]! + distance(points[i - 1]!, points[i]!));
  const lengthMm = passed[count]!;
  let chord = 1;
  for (const part of PLACES) {
    while (chord < count && passed[chord]! < part * lengthMm) chord++;
    const from = points[chord - 1]!;
    const to = points[chord]!;
    const chordMm = passed[chord]! - passed[chord - 1]!;
    const ratio = chordMm === 0 ? 0 : (part * lengthMm - passed[chord - 1]!) / chordMm;
    at.push(lerp(from, to, ratio));
    normals.push(leftNormal(unit(sub(to, from))));
  }
}
