// The card page read by an independent PDF program (pdf.js, package pdfjs-dist) and measured: what is on the paper must be
// what the layout says, to a twentieth of a millimetre over the longest baseline.
import { getDocument, OPS, VerbosityLevel } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { describe, expect, test } from 'vitest';
import { cardPagePdf } from '../../shared/vision/cards/cardPdf.ts';

interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

const MM_PER_POINT = 25.4 / 72;

/** Bounding boxes of all filled areas, millimetres from the paper's top left corner, and the paper's size. */
async function measured(page: 'a4' | 'letter'): Promise<{ boxes: Box[]; widthMm: number; heightMm: number }> {
  const bytes = await cardPagePdf(page, 2);
  const document = await getDocument({ data: bytes, verbosity: VerbosityLevel.ERRORS }).promise;
  const sheet = await document.getPage(1);
  expect(sheet.userUnit).toBe(1);
  const [, , widthPt, heightPt] = sheet.view as [number, number, number, number];
  const { fnArray, argsArray } = await sheet.getOperatorList();
  let matrix = [1, 0, 0, 1, 0, 0];
  const stack: number[][] = [];
  const boxes: Box[] = [];
  for (const [i, operator] of fnArray.entries()) {
    if (operator === OPS.save) stack.push(matrix);
    if (operator === OPS.restore) matrix = stack.pop()!;
    if (operator === OPS.transform) matrix = product(matrix, argsArray[i] as number[]);
    if (operator === OPS.constructPath) {
      const [minX, minY, maxX, maxY] = argsArray[i][2] as ArrayLike<number> & Iterable<number>;
      const a = applied(matrix, minX!, minY!);
      const b = applied(matrix, maxX!, maxY!);
      boxes.push({
        left: Math.min(a[0], b[0]) * MM_PER_POINT,
        right: Math.max(a[0], b[0]) * MM_PER_POINT,
        top: (heightPt - Math.max(a[1], b[1])) * MM_PER_POINT,
        bottom: (heightPt - Math.min(a[1], b[1])) * MM_PER_POINT,
      });
    }
  }
  await document.destroy();
  return { boxes, widthMm: widthPt * MM_PER_POINT, heightMm: heightPt * MM_PER_POINT };
}

function product(m: readonly number[], n: readonly number[]): number[] {
  const [a, b, c, d, e, f] = m as [number, number, number, number, number, number];
  const [g, h, i, j, k, l] = n as [number, number, number, number, number, number];
  return [a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * l + e, b * k + d * l + f];
}

function applied(m: readonly number[], x: number, y: number): [number, number] {
  return [m[0]! * x + m[2]! * y + m[4]!, m[1]! * x + m[3]! * y + m[5]!];
}

describe.each([
  // ISO 216 and ANSI/ASME Y14.1 paper sizes
  { page: 'a4' as const, widthMm: 210, heightMm: 297 },
  { page: 'letter' as const, widthMm: 215.9, heightMm: 279.4 },
])('the $page page of cards, as pdf.js reads it', ({ page, widthMm, heightMm }) => {
  test('is paper of the true size', async () => {
    const sheet = await measured(page);
    expect(sheet.widthMm).toBeCloseTo(widthMm, 3);
    expect(sheet.heightMm).toBeCloseTo(heightMm, 3);
  });

  test('carries 4 x 25 dark squares of 11.5 mm whose outermost saddles are 149.5 mm by 217.5 mm apart', async () => {
    const { boxes } = await measured(page);
    const squares = boxes.filter(
      (b) => Math.abs(b.right - b.left - 11.5) < 0.01 && Math.abs(b.bottom - b.top - 11.5) < 0.01,
    );
    expect(squares).toHaveLength(100);
    // The outermost saddle is the inner corner of the outermost dark square.
    const dx = Math.max(...squares.map((s) => s.left)) - Math.min(...squares.map((s) => s.right));
    const dy = Math.max(...squares.map((s) => s.top)) - Math.min(...squares.map((s) => s.bottom));
    // From the numbers of the design by hand: 2 x 92 - 2 x (5.75 + 11.5) and 2 x 126 - 2 x (5.75 + 11.5).
    expect(Math.abs(dx - 149.5)).toBeLessThan(0.05);
    expect(Math.abs(dy - 217.5)).toBeLessThan(0.05);
    expect(Math.abs(Math.hypot(dx, dy) - 263.926)).toBeLessThan(0.05);
  });

  test('carries two rulers whose end marks are 180 mm and 240 mm apart, middle to middle', async () => {
    const { boxes } = await measured(page);
    const wide = (b: Box) => b.right - b.left;
    const tall = (b: Box) => b.bottom - b.top;
    // End marks are the only lines of 4.5 mm.
    const upright = boxes.filter((b) => Math.abs(tall(b) - 4.5) < 0.01 && wide(b) < 0.3);
    const lying = boxes.filter((b) => Math.abs(wide(b) - 4.5) < 0.01 && tall(b) < 0.3);
    expect(upright).toHaveLength(2);
    expect(lying).toHaveLength(2);
    const middleX = upright.map((b) => (b.left + b.right) / 2);
    const middleY = lying.map((b) => (b.top + b.bottom) / 2);
    expect(Math.abs(Math.abs(middleX[1]! - middleX[0]!) - 180)).toBeLessThan(0.05);
    expect(Math.abs(Math.abs(middleY[1]! - middleY[0]!) - 240)).toBeLessThan(0.05);
  });
});
