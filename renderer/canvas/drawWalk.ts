// The walk of a seam drawn: both seamlines, what was walked thicker, the touching place, and each mark with its shape and word.
import type { Point } from '../../shared/base/points.ts';
import { distance } from '../../shared/geometry/vector.ts';
import { curveData } from '../../shared/report/pieceDrawing.ts';
import { MARK_COLOURS, MARK_SHAPES } from '../seams/markWords.ts';
import { drawText } from './drawText.ts';
import { PALETTE, SCREEN_PX } from './palette.ts';
import type { PlacedMark, WalkLine, WalkScene } from './walkScene.ts';

const AHEAD_PX = 2;
const DASH_PX = [9, 6];
const MARK_PX = 18;
const AHEAD_MARK_PX = 12;
/** Side of the box that the shapes are drawn in. */
const MARK_BOX = 24;
const TOUCH_PX = 15;
/** Words stand this far below their mark; angles above their end. */
const BESIDE_PX = 20;
/** Marks that miss each other by more than this on the screen are joined by a line. */
const APART_PX = 6;

export function drawWalk(scope: paper.PaperScope, walk: WalkScene, mmPerPx: number): void {
  for (const line of walk.lines) drawLine(scope, line, mmPerPx);
  const touch = new scope.Path.Circle(new scope.Point(walk.touch[0], walk.touch[1]), TOUCH_PX * mmPerPx);
  touch.strokeColor = new scope.Color(PALETTE.ink);
  touch.strokeWidth = 2.5 * mmPerPx;
  for (const { at, words } of walk.angles)
    label(scope, [at[0], at[1] - BESIDE_PX * mmPerPx], words, PALETTE.ink, mmPerPx);
  for (const placed of walk.marks) drawMark(scope, placed, mmPerPx);
}

function drawLine(
  scope: paper.PaperScope,
  { path, canvasFromPiece: [a, b, c, d, e, f], side, isPassed }: WalkLine,
  mmPerPx: number,
): void {
  const line = new scope.CompoundPath(curveData(path, 'M'));
  line.strokeColor = new scope.Color(PALETTE.sides[side]);
  line.strokeWidth = (isPassed ? SCREEN_PX.overlay : AHEAD_PX) * mmPerPx;
  line.strokeCap = isPassed && side === 0 ? 'round' : 'butt';
  if (side === 1) line.dashArray = DASH_PX.map((px) => px * mmPerPx);
  line.transform(new scope.Matrix(a, b, c, d, e, f));
}

function drawMark(scope: paper.PaperScope, { mark, words, at }: PlacedMark, mmPerPx: number): void {
  const places = at.filter((place) => place !== null);
  const [from, to] = places;
  const colour = MARK_COLOURS[mark.state];
  const isMissed = mark.state === 'misses' && from !== undefined && to !== undefined;
  if (isMissed && distance(from, to) > APART_PX * mmPerPx) {
    const link = new scope.Path.Line(new scope.Point(from[0], from[1]), new scope.Point(to[0], to[1]));
    link.strokeColor = new scope.Color(colour);
    link.strokeWidth = SCREEN_PX.thin * mmPerPx;
  }
  for (const place of places) drawShape(scope, place, mark.state, mmPerPx);
  if (from !== undefined && words !== '') {
    label(scope, [from[0], from[1] + BESIDE_PX * mmPerPx], words, colour, mmPerPx);
  }
}

function drawShape(scope: paper.PaperScope, [x, y]: Point, state: PlacedMark['mark']['state'], mmPerPx: number): void {
  const colour = MARK_COLOURS[state];
  const { path, dash } = MARK_SHAPES[state];
  const shape = new scope.CompoundPath(path);
  const px = state === 'ahead' ? AHEAD_MARK_PX : MARK_PX;
  shape.scale((px * mmPerPx) / MARK_BOX);
  shape.strokeColor = new scope.Color(dash === 'filled' ? PALETTE.paper : colour);
  shape.strokeWidth = (dash === 'filled' ? 1 : 2.5) * mmPerPx;
  shape.dashArray = dash === 'filled' ? [] : dash.map((length) => length * mmPerPx);
  shape.fillColor = new scope.Color(dash === 'filled' ? colour : PALETTE.paper);
  shape.position = new scope.Point(x, y);
}

function label(scope: paper.PaperScope, at: Point, words: string, colour: string, mmPerPx: number): void {
  drawText(scope, at, words, { px: SCREEN_PX.label + 1, colour, mmPerPx, weight: 'bold' });
}
