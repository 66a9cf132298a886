// Draws what lies over a picture of the table with paper.js: the map of trust as tinted, hatched and numbered cells, cards
// with the corner where a tape is laid, and taped distances.
import type { Point } from '../../shared/base/points.ts';
import { lerp } from '../../shared/geometry/vector.ts';
import { drawText } from './drawText.ts';
import { PALETTE, SCREEN_PX } from './palette.ts';
import { type PhotoLayer, roomOf, type TapeLine, type TrustCell } from './photoLayer.ts';

/** Cells narrower than this on the screen carry no number. */
const ROOM_FOR_WORDS_PX = 38;

export function drawPhotoLayer(scope: paper.PaperScope, layer: PhotoLayer, mmPerPx: number): void {
  for (const cell of layer.trust) drawCell(scope, cell, mmPerPx);
  for (const { id, outline, tapeEnd } of layer.cards) {
    const ring = pathOf(scope, outline);
    ring.closed = true;
    haloed(scope, ring, PALETTE.chalk, SCREEN_PX.line, mmPerPx);
    cross(scope, tapeEnd, PALETTE.chalk, mmPerPx);
    const middle = outline.reduce<Point>(
      ([x, y], [px, py]) => [x + px / outline.length, y + py / outline.length],
      [0, 0],
    );
    drawText(scope, middle, id, { px: SCREEN_PX.name, colour: PALETTE.chalk, mmPerPx, weight: 'bold' });
  }
  for (const tape of layer.tapes) drawTape(scope, tape, mmPerPx);
}

function drawCell(scope: paper.PaperScope, cell: TrustCell, mmPerPx: number): void {
  const { band, words } = cell;
  const area = pathOf(scope, cell.corners);
  area.closed = true;
  area.fillColor = new scope.Color(band.colour);
  area.fillColor.alpha = band.opacity;
  area.strokeColor = new scope.Color(band.colour);
  area.strokeColor.alpha = 0.45;
  area.strokeWidth = SCREEN_PX.thin * mmPerPx;
  if (band.hatchPx !== null) hatch(scope, cell, band.hatchPx * mmPerPx, mmPerPx);
  const { middle, widthMm } = roomOf(cell);
  if (widthMm / mmPerPx < ROOM_FOR_WORDS_PX) return;
  drawText(scope, middle, words, { px: SCREEN_PX.label, colour: band.colour, mmPerPx, weight: 'bold' });
}

/** Slanting lines from side to side, so that bands differ without their colour. */
function hatch(scope: paper.PaperScope, { corners, band }: TrustCell, stepMm: number, mmPerPx: number): void {
  const [a, b, c, d] = corners as readonly [Point, Point, Point, Point];
  const { widthMm } = roomOf({ corners, band, words: '' });
  const count = Math.min(40, Math.max(2, Math.round(widthMm / stepMm)));
  for (let i = 1; i < 2 * count; i++) {
    const t = i / count;
    const [from, to] = t <= 1 ? [lerp(a, b, t), lerp(a, d, t)] : [lerp(b, c, t - 1), lerp(d, c, t - 1)];
    const line = pathOf(scope, [from, to]);
    line.strokeColor = new scope.Color(band.colour);
    line.strokeColor.alpha = 0.5;
    line.strokeWidth = SCREEN_PX.thin * mmPerPx;
  }
}

function drawTape(scope: paper.PaperScope, { ends, words }: TapeLine, mmPerPx: number): void {
  for (const end of ends) cross(scope, end, PALETTE.ink, mmPerPx);
  const [from, to] = ends;
  if (from === undefined || to === undefined) return;
  const line = pathOf(scope, [from, to]);
  line.dashArray = [10, 5].map((px) => px * mmPerPx);
  haloed(scope, line, PALETTE.ink, SCREEN_PX.lineSelected, mmPerPx);
  drawText(scope, lerp(from, to, 0.5), words, { px: SCREEN_PX.name, colour: PALETTE.ink, mmPerPx, weight: 'bold' });
}

/** An upright cross with a ring: the place itself stays visible in its middle. */
function cross(scope: paper.PaperScope, [x, y]: Point, colour: string, mmPerPx: number): void {
  const reach = 9 * mmPerPx;
  const gap = 3 * mmPerPx;
  for (const [dx, dy] of [
    [1, 0],
    [-1, 0],
    [0, 1],
    [0, -1],
  ] as const) {
    const line = pathOf(scope, [
      [x + dx * gap, y + dy * gap],
      [x + dx * reach, y + dy * reach],
    ]);
    haloed(scope, line, colour, SCREEN_PX.lineSelected, mmPerPx);
  }
}

function haloed(scope: paper.PaperScope, path: paper.Path, colour: string, px: number, mmPerPx: number): void {
  const halo = path.clone();
  halo.strokeColor = new scope.Color(PALETTE.tracedHalo);
  halo.strokeWidth = (px + 3) * mmPerPx;
  halo.dashArray = [];
  halo.insertBelow(path);
  path.strokeColor = new scope.Color(colour);
  path.strokeWidth = px * mmPerPx;
}

function pathOf(scope: paper.PaperScope, points: readonly Point[]): paper.Path {
  return new scope.Path(points.map(([x, y]) => new scope.Point(x, y)));
}
