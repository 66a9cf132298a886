// What the layout promises to the person who prints, to the camera and to the solver.
import { describe, expect, test } from 'vitest';
import type { Point } from '../../../../shared/base/points.ts';
import { cardShapes } from '../../../../shared/vision/cards/cardDrawing.ts';
import {
  CARD_HEIGHT_MM,
  CARD_WIDTH_MM,
  CHEQUER_AT,
  CODE_AT,
  CODE_MM,
  cardMmFromUpright,
  cardPlace,
  cardsOfSet,
  MODULE_MM,
  PAGE_SET_COUNT,
  SQUARE_MM,
  saddleUprightMm,
} from '../../../../shared/vision/cards/cardLayout.ts';
import { cardSvg, cardsIndex } from '../../../../shared/vision/cards/cardSvg.ts';
import { PAGES, pageShapes } from '../../../../shared/vision/cards/pageDrawing.ts';
import { cellLoops, type Shape } from '../../../../shared/vision/cards/shapes.ts';

function pointsOf(shape: Shape): readonly Point[] {
  if (shape.kind === 'text') return [shape.at];
  if (shape.kind === 'loops') return shape.loops.flat();
  const [x, y] = shape.at;
  return [
    [x, y],
    [x + shape.width, y + shape.height],
  ];
}

describe('a reference card', () => {
  test('keeps 1.5 code cells of white inside the cut line and between code and chequer', () => {
    const quiet = 1.5 * MODULE_MM;
    const chequerEnd = 7 * SQUARE_MM;
    const clearances = [
      ...CHEQUER_AT,
      CARD_WIDTH_MM - CHEQUER_AT[0] - chequerEnd,
      CODE_AT[0],
      CARD_HEIGHT_MM - CODE_AT[1] - CODE_MM,
      CODE_AT[1] - CHEQUER_AT[1] - chequerEnd,
    ];
    for (const clearance of clearances) expect(clearance).toBeGreaterThanOrEqual(quiet);
  });

  test('prints nothing into the white round the code and at the rim', () => {
    const quiet = 1.5 * MODULE_MM;
    for (const id of [0, 7, 47]) {
      const others = cardShapes(id)
        .flatMap(pointsOf)
        .filter(([x, y]) => x > CODE_AT[0] + CODE_MM && y > CODE_AT[1] - quiet);
      expect(others.length).toBeGreaterThan(10);
      for (const [x] of others) expect(x).toBeGreaterThanOrEqual(CODE_AT[0] + CODE_MM + quiet);
      for (const [x, y] of cardShapes(id).flatMap(pointsOf)) {
        expect(Math.min(x, y, CARD_WIDTH_MM - x, CARD_HEIGHT_MM - y)).toBeGreaterThanOrEqual(quiet - 0.05);
      }
    }
  });

  test('has its frame parallel to the page, so that the lower cards’ saddles are turned about the middle', () => {
    const upright = saddleUprightMm(0, 0);
    expect(cardMmFromUpright(0, upright)).toEqual(upright);
    const lower = cardMmFromUpright(2, upright);
    expect(lower).toEqual([CARD_WIDTH_MM - upright[0], CARD_HEIGHT_MM - upright[1]]);
  });

  test('spans a baseline of at least 250 mm between the outermost saddles of its page', () => {
    const onPage = (id: number, column: number, row: number): Point => {
      const [x, y] = cardMmFromUpright(id, saddleUprightMm(column, row));
      const [px, py] = cardPlace(id).onPageMm;
      return [x + px, y + py];
    };
    const first = onPage(4, 0, 0);
    const last = onPage(7, 0, 0); // turned: its first saddle is the page's last
    expect(Math.hypot(last[0] - first[0], last[1] - first[1])).toBeGreaterThan(250);
  });

  test('is one of four on its page, and no number is used twice', () => {
    const all = Array.from({ length: PAGE_SET_COUNT }, (_, i) => cardsOfSet(i + 1)).flat();
    expect(new Set(all).size).toBe(48);
    for (const id of all) expect(cardsOfSet(cardPlace(id).set)).toContain(id);
    expect(() => cardsOfSet(0)).toThrow(/there is no set 0/);
    expect(() => cardsOfSet(13)).toThrow(/there is no set 13/);
  });

  test('is listed once in the index, with the true size of its drawing', () => {
    const rows = cardsIndex();
    expect(rows).toHaveLength(48);
    expect(rows[7]).toEqual({ id: 'N07', file: 'N07.svg', widthMm: 92, heightMm: 126 });
    expect(cardSvg(7)).toContain('width="92mm" height="126mm" viewBox="0 0 92 126"');
  });

  test('uses no stroke, gradient, style sheet or outside file that a simple renderer could miss', () => {
    const svg = cardSvg(12);
    expect(svg).not.toMatch(/stroke|gradient|<style|<use|<image|href|clip|mask|filter/i);
    expect(new Set([...svg.matchAll(/<([a-z]+)/g)].map((m) => m[1]))).toEqual(
      new Set(['svg', 'title', 'rect', 'path', 'text']),
    );
  });
});

describe('the page of cards', () => {
  test.each(['a4', 'letter'] as const)('leaves 5 mm of %s unprinted all round', (page) => {
    const { widthMm, heightMm } = PAGES[page];
    for (const [x, y] of pageShapes(page, 12).flatMap(pointsOf)) {
      expect(Math.min(x, y, widthMm - x, heightMm - y)).toBeGreaterThanOrEqual(5);
    }
  });

  test('says what to do: actual size, measure both rulers, print scale, cutting, blade, flat', () => {
    const words = pageShapes('a4', 1)
      .flatMap((shape) => (shape.kind === 'text' ? [shape.text] : []))
      .join(' ');
    for (const part of ['100 %', 'actual size', 'matt', '--print-scale X,Y', '180 mm', '240 mm', 'blade', 'flat']) {
      expect(words).toContain(part);
    }
  });
});

describe('outlines of cells', () => {
  test('join neighbours, leave holes and keep cells apart that touch at a corner', () => {
    const ring = [true, true, true, true, false, true, true, true, true];
    const loops = cellLoops(ring, 3, [0, 0], 1);
    expect(loops.map((loop) => loop.length)).toEqual([4, 4]);
    const signedArea = (loop: readonly Point[]) =>
      loop.reduce((sum, [x, y], i) => {
        const [nx, ny] = loop[(i + 1) % loop.length]!;
        return sum + (x * ny - nx * y) / 2;
      }, 0);
    expect(loops.map(signedArea).sort((a, b) => a - b)).toEqual([-1, 9]);
    expect(cellLoops([true, false, false, true], 2, [0, 0], 1).map(signedArea)).toEqual([1, 1]);
  });
});
