// Where the words of a piece stand on paper: inside it and clear of every line a person cuts, sews or lays by.
import type { Point } from '../base/points.ts';
import { flattenRing } from '../geometry/flatten.ts';
import { pointInPolygon } from '../geometry/polygon.ts';
import { distance } from '../geometry/vector.ts';
import { type Box, boxesOverlap, type PieceLines } from './pieceLines.ts';

/** Of a block of words: its middle stands on the first baseline. */
export interface WordsBlock {
  readonly widthMm: number;
  /** Above and below the first baseline. */
  readonly upMm: number;
  readonly downMm: number;
}

/**
 * The middle of the first baseline: the place nearest the middle of the piece from which the block touches no line.
 * Where the piece is too small or too full for that, the middle itself.
 * @param taken other words already there
 */
export function wordsPlace(lines: PieceLines, block: WordsBlock, taken: readonly Box[] = []): Point {
  const outline = flattenRing(lines.cutting, CHORD_MM);
  const segments = obstacles(lines);
  const [minX, minY, maxX, maxY] = lines.box;
  const places: Point[] = [];
  for (let y = minY + block.upMm; y <= maxY - block.downMm; y += STEP_MM) {
    for (let x = minX + block.widthMm / 2; x <= maxX - block.widthMm / 2; x += STEP_MM) places.push([x, y]);
  }
  const nearness = new Map(places.map((place) => [place, distance(place, lines.middle)]));
  const free = places
    .toSorted((a, b) => nearness.get(a)! - nearness.get(b)!)
    .find((place) => {
      const box = blockBox(place, block);
      return (
        !segments.some(([a, b]) => meets(a, b, box)) &&
        !taken.some((other) => boxesOverlap(other, box)) &&
        pointInPolygon(place, outline)
      );
    });
  return free ?? lines.middle;
}

/** The paper that a block of words covers, with a little air. */
export function blockBox([x, y]: Point, { widthMm, upMm, downMm }: WordsBlock): Box {
  return [x - widthMm / 2 - AIR_MM, y - upMm - AIR_MM, x + widthMm / 2 + AIR_MM, y + downMm + AIR_MM];
}

/** Between the places tried; about a letter. */
const STEP_MM = 5;
/** Between words and lines, so that both can be read. */
const AIR_MM = 2;
const CHORD_MM = 0.2;

type Segment = readonly [Point, Point];

function obstacles({ shape, cutting, seam, notches }: PieceLines): Segment[] {
  const rings = [cutting, seam].map((paths) => flattenRing(paths, CHORD_MM));
  const closed = rings.flatMap((ring) => ring.map((point, i): Segment => [point, ring[(i + 1) % ring.length]!]));
  const darts = shape.darts.flatMap(({ legs, apex }): Segment[] => legs.map((leg) => [leg, apex]));
  const grain: Segment[] = shape.grainline === null ? [] : [[shape.grainline.from, shape.grainline.to]];
  const marks = shape.marks.map((mark): Segment => ('at' in mark ? [mark.at, mark.at] : [mark.from, mark.to]));
  return [...closed, ...notches.flatMap(({ ticks }) => ticks), ...darts, ...grain, ...marks];
}

/** Whether a segment has a point in the box: what is left of it after each side of the box has cut (Liang–Barsky). */
function meets(a: Point, b: Point, [minX, minY, maxX, maxY]: Box): boolean {
  let [from, to] = [0, 1];
  for (const [axis, least, most] of [
    [0, minX, maxX],
    [1, minY, maxY],
  ] as const) {
    const step = b[axis] - a[axis];
    if (step === 0) {
      if (a[axis] < least || a[axis] > most) return false;
      continue;
    }
    const [enter, leave] = [(least - a[axis]) / step, (most - a[axis]) / step];
    from = Math.max(from, Math.min(enter, leave));
    to = Math.min(to, Math.max(enter, leave));
  }
  return from <= to;
}
