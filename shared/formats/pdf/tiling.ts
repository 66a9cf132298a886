// How a large sheet is cut into printer pages that overlap: which tiles are needed and where neighbours are matched.
import type { Point } from '../../base/points.ts';
import { lerp } from '../../geometry/vector.ts';
import type { Box } from '../../pattern/pieceLines.ts';

/** ISO 216 A4; ANSI/ASME Y14.1 letter, 8.5 x 11 in. */
export const PAGES_MM = { a4: [210, 297], letter: [215.9, 279.4] } as const satisfies Record<string, Point>;

/** What common printers cannot print at the rim, with room to spare. */
export const MARGIN_MM = 10;
/** Neighbouring pages show this strip twice: room for glue and for the match marks. */
const OVERLAP_MM = 12;

export interface Tile {
  readonly row: number;
  readonly column: number;
  /** "B3": row letter and column number. */
  readonly name: string;
  /** Corners of the part of the sheet that this page shows, sheet millimetres. */
  readonly from: Point;
  readonly to: Point;
}

/** Two match marks along the strip that two pages share: one alone would let the pages turn. */
export interface Join {
  readonly name: string;
  readonly tiles: readonly [string, string];
  readonly at: readonly [Point, Point];
}

export interface Tiling {
  readonly tiles: readonly Tile[];
  readonly joins: readonly Join[];
}

/** The tiles of a page format that show any of the boxes; the sheet starts at (0, 0). */
export function tilesFor(boxes: readonly Box[], pageMm: Point): Tiling {
  const [width, height] = [pageMm[0] - 2 * MARGIN_MM, pageMm[1] - 2 * MARGIN_MM];
  const [stepX, stepY] = [width - OVERLAP_MM, height - OVERLAP_MM];
  const columns = Math.max(1, Math.ceil((Math.max(...boxes.map((box) => box[2])) - OVERLAP_MM) / stepX));
  const rows = Math.max(1, Math.ceil((Math.max(...boxes.map((box) => box[3])) - OVERLAP_MM) / stepY));
  const tiles: Tile[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const from: Point = [column * stepX, row * stepY];
      const to: Point = [from[0] + width, from[1] + height];
      const shows = boxes.some((box) => box[0] < to[0] && box[2] > from[0] && box[1] < to[1] && box[3] > from[1]);
      if (shows) tiles.push({ row, column, name: `${rowLetters(row)}${column + 1}`, from, to });
    }
  }
  return { tiles, joins: joinsOf(tiles) };
}

function joinsOf(tiles: readonly Tile[]): Join[] {
  const joins: Join[] = [];
  for (const tile of tiles) {
    const right = tiles.find(({ row, column }) => row === tile.row && column === tile.column + 1);
    const below = tiles.find(({ row, column }) => row === tile.row + 1 && column === tile.column);
    for (const next of [right, below]) {
      if (next === undefined) continue;
      const from: Point = [Math.max(tile.from[0], next.from[0]), Math.max(tile.from[1], next.from[1])];
      const to: Point = [Math.min(tile.to[0], next.to[0]), Math.min(tile.to[1], next.to[1])];
      const middle = lerp(from, to, 0.5);
      const at: readonly [Point, Point] =
        next === right
          ? [
              [middle[0], lerp(from, to, 0.25)[1]],
              [middle[0], lerp(from, to, 0.75)[1]],
            ]
          : [
              [lerp(from, to, 0.25)[0], middle[1]],
              [lerp(from, to, 0.75)[0], middle[1]],
            ];
      joins.push({ name: String(joins.length + 1), tiles: [tile.name, next.name], at });
    }
  }
  return joins;
}

/** A, B … Z, AA, AB … */
function rowLetters(row: number): string {
  const last = String.fromCharCode('A'.charCodeAt(0) + (row % 26));
  return row < 26 ? last : rowLetters(Math.floor(row / 26) - 1) + last;
}
