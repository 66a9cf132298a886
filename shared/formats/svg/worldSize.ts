// How large an SVG is in the world: its width and height with units, and the viewBox that is fitted into them.
import { fail, ok, type Result, type Warning } from '../../base/result.ts';
import { MM_PER } from '../../base/units.ts';
import type { Affine } from '../../geometry/transform.ts';

export interface WorldSize {
  /** Millimetres of the sheet from user units of the root element. */
  readonly mmFromUser: Affine;
  readonly warnings: readonly Warning[];
}

/** Millimetres of the absolute units: CSS Values and Units 4, "Absolute lengths" (96 px = 1 in), which SVG 2 adopts. */
const UNIT_MM: Readonly<Record<string, number>> = {
  ...MM_PER,
  q: 0.25,
  pt: MM_PER.in / 72,
  pc: MM_PER.in / 6,
  px: MM_PER.in / 96,
};

/** Refuses a file whose width and height do not both state an absolute unit: a scale is never guessed. */
export function worldSize(attributes: Readonly<Record<string, string>>): Result<WorldSize> {
  const width = absoluteMm(attributes.width);
  const height = absoluteMm(attributes.height);
  if (width === null || height === null) {
    return fail(
      'svg-no-size',
      'The SVG does not say how large it is: its width and height need a unit such as mm, cm, in, pt or px; set the page size in the drawing program and save it again.',
    );
  }
  const box = viewBoxOf(attributes.viewBox);
  if (box === null) {
    return fail(
      'svg-bad-viewbox',
      'The SVG has a viewBox that cannot be read (four numbers, the last two above zero); save it again and try again.',
    );
  }
  const warnings: Warning[] = [];
  if (width.unit === 'px' || height.unit === 'px') {
    warnings.push({
      code: 'px-size',
      message: 'The size is given in px, taken as 96 to the inch; measure one known length before you trust it.',
    });
  }
  if (box === 'absent') return ok({ mmFromUser: [UNIT_MM.px!, 0, 0, UNIT_MM.px!, 0, 0], warnings });
  const scaleX = width.mm / box.width;
  const scaleY = height.mm / box.height;
  if (Math.abs(scaleX / scaleY - 1) > UNEVEN_RATIO) {
    warnings.push({
      code: 'uneven-size',
      message:
        'The viewBox has other proportions than the width and height; measure one known length each way before you trust the size.',
    });
  }
  const fit = attributes.preserveAspectRatio ?? 'xMidYMid meet';
  return ok({ mmFromUser: fitted(box, width.mm, height.mm, fit), warnings });
}

/** Rounded page sizes differ by less than this. */
const UNEVEN_RATIO = 1e-3;

interface ViewBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** SVG 2, 8.7 "The preserveAspectRatio attribute": none stretches, meet fits inside, slice covers. */
function fitted(box: ViewBox, widthMm: number, heightMm: number, fit: string): Affine {
  const scaleX = widthMm / box.width;
  const scaleY = heightMm / box.height;
  if (fit.includes('none')) return [scaleX, 0, 0, scaleY, -box.x * scaleX, -box.y * scaleY];
  const scale = fit.includes('slice') ? Math.max(scaleX, scaleY) : Math.min(scaleX, scaleY);
  const freeX = widthMm - box.width * scale;
  const freeY = heightMm - box.height * scale;
  const shareX = fit.includes('xMin') ? 0 : fit.includes('xMax') ? 1 : 0.5;
  const shareY = fit.includes('YMin') ? 0 : fit.includes('YMax') ? 1 : 0.5;
  return [scale, 0, 0, scale, freeX * shareX - box.x * scale, freeY * shareY - box.y * scale];
}

function absoluteMm(value: string | undefined): { readonly mm: number; readonly unit: string } | null {
  const match = /^\s*\+?((?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)(mm|cm|in|pt|pc|px|q)\s*$/i.exec(value ?? '');
  if (match === null) return null;
  const unit = match[2]!.toLowerCase();
  const mm = Number(match[1]) * UNIT_MM[unit]!;
  return mm > 0 && Number.isFinite(mm) ? { mm, unit } : null;
}

function viewBoxOf(value: string | undefined): ViewBox | 'absent' | null {
  if (value === undefined) return 'absent';
  const [x, y, width, height, ...more] = value
    .trim()
    .split(/[\s,]+/)
    .map(Number);
  if (x === undefined || y === undefined || width === undefined || height === undefined || more.length > 0) return null;
  const usable = [x, y, width, height].every(Number.isFinite) && width > 0 && height > 0;
  return usable ? { x, y, width, height } : null;
}
