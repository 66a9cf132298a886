// The two rulers of the printed page as the person measured them, turned into measured ÷ nominal.
import { fail, ok, type Result } from '../../shared/base/result.ts';
import { RULER_MM } from '../../shared/vision/cards/pageDrawing.ts';

/** A print farther off than this was not made at 100 %, or the wrong thing was measured. */
const MOST_OFF_RATIO = 0.05;

export interface PrintScale {
  readonly x: number;
  readonly y: number;
}

/** Both fields empty = not measured (null). A comma is as good as a point. */
export function printScaleOf(typedX: string, typedY: string): Result<PrintScale | null> {
  const [x, y] = [typedX.trim(), typedY.trim()];
  if (x === '' && y === '') return ok(null);
  if (x === '' || y === '')
    return fail('one-ruler', 'Measure both rulers of the printed page, X and Y, or leave both empty.');
  const scale = { x: numberOf(x) / RULER_MM.x, y: numberOf(y) / RULER_MM.y };
  const isOff = (ratio: number) => !(Math.abs(ratio - 1) <= MOST_OFF_RATIO);
  if (isOff(scale.x) || isOff(scale.y)) {
    return fail(
      'ruler-off',
      `The rulers should measure about ${RULER_MM.x} mm (X) and ${RULER_MM.y} mm (Y); measure again, or print the page at 100 %.`,
    );
  }
  return ok(scale);
}

function numberOf(typed: string): number {
  return Number(typed.replace(/mm$/i, '').trim().replace(',', '.'));
}
