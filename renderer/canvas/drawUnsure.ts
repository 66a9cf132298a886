// Stretches of the outline that no photo showed well: a gap-toothed line of another width beside its word, so that nobody
// needs the colour to see them.
import { pathLengthMm, pointAtLength, subPath } from '../../shared/geometry/arcLength.ts';
import { apply } from '../../shared/geometry/transform.ts';
import { add, leftNormal, scale } from '../../shared/geometry/vector.ts';
import type { Shape } from '../../shared/pattern/model.ts';
import { unsureSpans } from '../../shared/pattern/unsureSpans.ts';
import { curveData } from '../../shared/report/pieceDrawing.ts';
import { unsureWord } from '../pieces/unsure.ts';
import { drawText } from './drawText.ts';
import { PALETTE, SCREEN_PX } from './palette.ts';
import type { ScenePiece } from './scene.ts';

const DASH_PX = [9, 7];
/** Words stand this far outside the line. */
const BESIDE_PX = 14;

export function drawUnsure(
  scope: paper.PaperScope,
  group: paper.Group,
  shape: Shape,
  { isFaint, mmPerPx }: { readonly isFaint: boolean; readonly mmPerPx: number },
): void {
  for (const { edge, fromMm, toMm } of unsureSpans(shape)) {
    const curve = shape.ring.find(({ id }) => id === edge)?.curve;
    if (curve === undefined) continue;
    const data = curveData(subPath(curve, fromMm, Math.min(toMm, pathLengthMm(curve))), 'M');
    const under = new scope.CompoundPath(data);
    under.strokeColor = new scope.Color(PALETTE.tracedHalo);
    under.strokeWidth = (SCREEN_PX.overlay + 3) * mmPerPx;
    const line = new scope.CompoundPath(data);
    line.strokeColor = new scope.Color(isFaint ? PALETTE.inkFaint : PALETTE.unsure);
    line.strokeWidth = SCREEN_PX.overlay * mmPerPx;
    line.dashArray = DASH_PX.map((px) => px * mmPerPx);
    group.addChildren([under, line]);
  }
}

export function drawUnsureWords(
  scope: paper.PaperScope,
  { shape, canvasFromPiece }: ScenePiece,
  mmPerPx: number,
): void {
  for (const { edge, fromMm, toMm, reason } of unsureSpans(shape)) {
    const curve = shape.ring.find(({ id }) => id === edge)?.curve;
    if (curve === undefined) continue;
    const { point, tangent } = pointAtLength(curve, (fromMm + toMm) / 2);
    // Edges run clockwise as seen, so that outside is to the left of their way.
    const at = apply(canvasFromPiece, add(point, scale(leftNormal(tangent), BESIDE_PX * mmPerPx)));
    drawText(scope, at, `unsure: ${unsureWord(reason)}`, {
      px: SCREEN_PX.label,
      colour: PALETTE.unsure,
      mmPerPx,
      weight: 'bold',
    });
  }
}
