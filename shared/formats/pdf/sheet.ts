// What tells a person that a print is true and how its pages join: the test square, the page map, the match marks.
import type { PDFFont } from 'pdf-lib';
import type { Point } from '../../base/points.ts';
import { polylinePath } from '../../geometry/cubicPath.ts';
import { fillPolygon, type Pen, strokePaths, writeWords } from './pen.ts';
import type { Tile, Tiling } from './tiling.ts';

const TEST_SQUARE_MM = 100;

/** Room that the test square and its words take from their top left corner. */
export const TEST_BLOCK_MM: Point = [TEST_SQUARE_MM + 10, TEST_SQUARE_MM + 26];

/** The 100 mm square, its outer size at the middle of its line, and what to do with it. */
export function drawTestSquare(pen: Pen, at: Point, font: PDFFont): void {
  const [x, y] = at;
  const s = TEST_SQUARE_MM;
  strokePaths(pen, [closedPath([at, [x + s, y], [x + s, y + s], [x, y + s]])], { widthMm: 0.2 });
  const words = { font, heightMm: 4, align: 'left' } as const;
  writeWords(pen, 'Print at 100 % ("actual size").', [x + 5, y + s / 2 - 6], words);
  writeWords(pen, 'Both sides of this square', [x + 5, y + s / 2], words);
  writeWords(pen, 'must measure 100 mm (3 15/16 in).', [x + 5, y + s / 2 + 6], words);
}

const MAP_TILE_MM = 14;

/** All pages in their places, the empty ones left out, with their names. */
export function drawPageMap(pen: Pen, at: Point, tiling: Tiling, font: PDFFont): void {
  const widest = Math.max(...tiling.tiles.map((tile) => tile.column + 1));
  const highest = Math.max(...tiling.tiles.map((tile) => tile.row + 1));
  const side = Math.min(MAP_TILE_MM, MAP_WIDTH_MM / widest, MAP_HEIGHT_MM / highest);
  for (const tile of tiling.tiles) {
    const [x, y] = [at[0] + tile.column * side, at[1] + tile.row * side];
    strokePaths(
      pen,
      [
        closedPath([
          [x, y],
          [x + side, y],
          [x + side, y + side],
          [x, y + side],
        ]),
      ],
      { widthMm: 0.2 },
    );
    writeWords(pen, tile.name, [x + side / 2, y + side * 0.62], { font, heightMm: side * 0.32, align: 'middle' });
  }
}

const MAP_WIDTH_MM = 170;
const MAP_HEIGHT_MM = 90;
const DIAMOND_MM = 4;

/** The dotted frame of one tile, where the page is cut or folded. */
export function drawTileFrame(pen: Pen, { from, to }: Tile): void {
  strokePaths(pen, [closedPath([from, [to[0], from[1]], to, [from[0], to[1]]])], { widthMm: 0.1, dashMm: [1, 1] });
}

/** The page's name, and two diamonds with the same number on both pages of every join. */
export function drawTileMarks(pen: Pen, tile: Tile, tiling: Tiling, font: PDFFont): void {
  for (const join of tiling.joins) {
    if (!join.tiles.includes(tile.name)) continue;
    for (const [x, y] of join.at) {
      const [left, right]: [Point, Point] = [
        [x - DIAMOND_MM, y],
        [x + DIAMOND_MM, y],
      ];
      const [top, bottom]: [Point, Point] = [
        [x, y - DIAMOND_MM],
        [x, y + DIAMOND_MM],
      ];
      fillPolygon(pen, [left, top, right, bottom], 0.75);
      strokePaths(pen, [polylinePath([left, right]), polylinePath([top, bottom])], { widthMm: 0.1 });
      // In the free corner beside the diamond, still inside the shared strip.
      const corner: Point = [x + DIAMOND_MM * 0.6, y - DIAMOND_MM * 0.6];
      writeWords(pen, join.name, corner, { font, heightMm: 3, align: 'left' });
    }
  }
  writeWords(pen, `page ${tile.name}`, [tile.from[0] + 4, tile.to[1] - 4], { font, heightMm: 3.5, align: 'left' });
}

function closedPath(corners: readonly Point[]): readonly Point[] {
  return polylinePath([...corners, corners[0]!]);
}
