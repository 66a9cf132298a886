// What counts as a rim going on behind a corner: the border of another material, and no line printed on the table.
import { describe, expect, it } from 'vitest';
import { photoPx } from '../../../../shared/base/points.ts';
import type { RgbImage } from '../../../../shared/vision/image.ts';
import { stepAlong, straightExtension } from '../../../../shared/vision/outline/rimBeyond.ts';

const PX_PER_MM = 4;
const SIZE_MM = 30;
const MAT = [40, 90, 60] as const;
const LINE = [150, 190, 160] as const;
const STEEL = [150, 152, 155] as const;

/** A picture of the table by what lies at each place. */
function table(colourAt: (x: number, y: number) => readonly [number, number, number]): RgbImage {
  const size = SIZE_MM * PX_PER_MM;
  const data = new Uint8Array(3 * size * size);
  for (let v = 0; v < size; v++)
    for (let u = 0; u < size; u++) data.set(colourAt((u + 0.5) / PX_PER_MM, (v + 0.5) / PX_PER_MM), 3 * (v * size + u));
  return { widthPx: size, heightPx: size, data };
}

/** Along x = 15 from y = 10 on. */
const step = (picture: RgbImage) =>
  stepAlong(picture, ([x, y]) => photoPx(x * PX_PER_MM, y * PX_PER_MM), straightExtension([15, 10], [0, 1]));

/** Natural logarithms of linear light, all three colours together (sRGB: IEC 61966-2-1). */
function between(a: readonly number[], b: readonly number[]): number {
  const linear = (code: number) => ((code / 255 + 0.055) / 1.055) ** 2.4;
  return Math.hypot(...a.map((code, c) => Math.log(linear(code) / linear(b[c]!))));
}

describe('a step of light behind a corner', () => {
  it('is that between two materials', () => {
    const rim = step(table((x) => (x < 15.3 ? MAT : STEEL)));
    expect(rim).toBeGreaterThan(0.8 * between(MAT, STEEL));
  });

  it.each([
    { what: 'a line beside it', at: (x: number, _: number) => Math.abs(x - 16) < 0.5 },
    { what: 'a bold line beside it', at: (x: number, _: number) => Math.abs(x - 14) < 0.8 },
    {
      what: 'a grid of lines',
      at: (x: number, y: number) => Math.abs((x % 5) - 2) < 0.2 || Math.abs((y % 5) - 2) < 0.2,
    },
  ])('is none where it is $what', ({ at }) => {
    const lines = step(table((x, y) => (at(x, y) ? LINE : MAT)));
    expect(lines).toBeLessThan(0.15 * between(MAT, LINE));
  });

  it('is seen over the lines of a mat', () => {
    const rim = step(table((x, y) => (x > 15.3 ? STEEL : (x + y) % 5 < 0.4 ? LINE : MAT)));
    expect(rim).toBeGreaterThan(0.5 * between(MAT, STEEL));
  });
});
