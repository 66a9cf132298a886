// A change before it is made: the old lines dashed over the new solid ones, with the words "before" and "after" where the two
// differ most, so that nobody needs the colour to tell them apart.
import type { Point } from '../../shared/base/points.ts';
import { apply } from '../../shared/geometry/transform.ts';
import { add, distance, scale, sub, unit } from '../../shared/geometry/vector.ts';
import type { ChangedLines, ChangedPlace } from '../../shared/pattern/shapeChange.ts';
import { curveData } from '../../shared/report/pieceDrawing.ts';
import { drawText } from './drawText.ts';
import { PALETTE, SCREEN_PX } from './palette.ts';
import type { SceneChange } from './scene.ts';

const DASH_PX = [9, 6];
/** Words stand this far from their line, away from the other one. */
const BESIDE_PX = 30;

export function drawChange(scope: paper.PaperScope, scene: SceneChange, mmPerPx: number): void {
  const { was, is, places } = scene.change;
  drawLines(scope, scene, is, { colour: PALETTE.after, dashPx: [], mmPerPx });
  drawLines(scope, scene, was, { colour: PALETTE.before, dashPx: DASH_PX, mmPerPx });
  for (const place of places) drawWords(scope, scene, place, mmPerPx);
}

interface LineStyle {
  readonly colour: string;
  readonly dashPx: readonly number[];
  readonly mmPerPx: number;
}

function drawLines(
  scope: paper.PaperScope,
  { canvasFromPiece: [a, b, c, d, e, f] }: SceneChange,
  { cutting, seam, strokes }: ChangedLines,
  { colour, dashPx, mmPerPx }: LineStyle,
): void {
  const group = new scope.Group();
  const stroke = (data: string, px: number) => {
    const line = new scope.CompoundPath(data);
    line.strokeColor = new scope.Color(colour);
    line.strokeWidth = px * mmPerPx;
    line.dashArray = dashPx.map((length) => length * mmPerPx);
    group.addChild(line);
  };
  for (const path of cutting) stroke(curveData(path, 'M'), SCREEN_PX.lineSelected);
  for (const path of seam) stroke(curveData(path, 'M'), SCREEN_PX.line);
  for (const [from, to] of strokes) stroke(`M${from[0]} ${from[1]}L${to[0]} ${to[1]}`, SCREEN_PX.lineSelected);
  group.transform(new scope.Matrix(a, b, c, d, e, f));
}

function drawWords(
  scope: paper.PaperScope,
  { canvasFromPiece }: SceneChange,
  place: ChangedPlace,
  mmPerPx: number,
): void {
  const was = place.was && apply(canvasFromPiece, place.was);
  const is = place.is && apply(canvasFromPiece, place.is);
  const away = directionOf(was, is);
  const word = (at: Point, direction: Point, words: string, colour: string) =>
    drawText(scope, add(at, scale(direction, BESIDE_PX * mmPerPx)), words, {
      px: SCREEN_PX.label + 1,
      colour,
      mmPerPx,
      weight: 'bold',
    });
  if (was !== null) word(was, scale(away, -1), 'before', PALETTE.before);
  if (is !== null) word(is, away, 'after', PALETTE.after);
}

/** From the old place to the new one; downward where they are one place, or only one is left. */
function directionOf(was: Point | null, is: Point | null): Point {
  return was === null || is === null || distance(was, is) === 0 ? [0, 1] : unit(sub(is, was));
}
