// The two rulers of the printed page as the person measured them, turned into measured ÷ nominal.

import { fail, ok, type Result } from '../../shared/base/result.ts';
import { type LengthUnit, MM_PER } from '../../shared/base/units.ts';
import { RULER_MM } from '../../shared/vision/cards/pageDrawing.ts';
import { typedMm } from '../app/lengths.ts';

/** A print farther off than this was not made at 100 %, or the wrong thing was measured. */
const MOST_OFF_RATIO = 0.05;

export interface PrintScale {
  readonly x: number;
  readonly y: number;
}

/** Both fields empty = not measured (null). Typed in the units of the set, or with a unit behind the number. */
export function printScaleOf(typedX: string, typedY: string, units: LengthUnit): Result<PrintScale | null> {
  const [x, y] = [typedX.trim(), typedY.trim()];
  if (x === '' && y === '') return ok(null);
  if (x === '' || y === '')
    return fail('one-ruler', 'Measure both rulers of the printed page, X and Y, or leave both empty.');
  const ratio = (typed: string, nominalMm: number) => (typedMm(units, typed) ?? Number.NaN) / nominalMm;
  const scale = { x: ratio(x, RULER_MM.x), y: ratio(y, RULER_MM.y) };
  const isOff = (part: number) => !(Math.abs(part - 1) <= MOST_OFF_RATIO);
  if (isOff(scale.x) || isOff(scale.y)) {
    return fail(
      'ruler-off',
      `The rulers should measure about ${rulerWords('x', units)} (X) and ${rulerWords('y', units)} (Y); measure again, or print the page at 100 %.`,
    );
  }
  return ok(scale);
}

/** What a ruler of the page should measure: "180 mm", "18 cm", "7.09 in". */
function rulerWords(axis: 'x' | 'y', units: LengthUnit): string {
  return `${rulerNumber(axis, units)} ${units}`;
}

export function rulerNumber(axis: 'x' | 'y', units: LengthUnit): string {
  return String(Number((RULER_MM[axis] / MM_PER[units]).toFixed(2)));
}
