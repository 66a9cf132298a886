// Draws the page of four cards: the block with its cut lines, two check rulers and how to print and use it, in words.
import type { Point } from '../../base/points.ts';
import { cardShapes } from './cardDrawing.ts';
import { CARD_HEIGHT_MM, CARD_WIDTH_MM, cardName, cardPlace, cardsOfSet } from './cardLayout.ts';
import { placed, type Shape } from './shapes.ts';

export type PageSize = 'a4' | 'letter';

/** What the two check rulers measure when the printer is true: X from left to right, Y from top to bottom. */
export const RULER_MM = { x: 180, y: 240 } as const;

interface PageLayout {
  readonly name: string;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Top left cut corner of the block of four cards. */
  readonly blockAt: Point;
  readonly headTopMm: number;
  readonly headSizeMm: number;
  readonly headLineMm: number;
}

/** ISO 216 A4 and ANSI/ASME Y14.1 Letter; everything printed keeps at least 5 mm from the paper's edge. */
export const PAGES: Readonly<Record<PageSize, PageLayout>> = {
  a4: {
    name: 'A4',
    widthMm: 210,
    heightMm: 297,
    blockAt: [19, 27],
    headTopMm: 10,
    headSizeMm: 2.6,
    headLineMm: 3.7,
  },
  letter: {
    name: 'Letter',
    widthMm: 215.9,
    heightMm: 279.4,
    blockAt: [22, 16.6],
    headTopMm: 7,
    headSizeMm: 2.3,
    headLineMm: 2.85,
  },
};

const BLOCK_WIDTH_MM = 2 * CARD_WIDTH_MM;
const BLOCK_HEIGHT_MM = 2 * CARD_HEIGHT_MM;
const LINE_MM = 0.2;
const RULER_GAP_MM = 1.2;
const TICK_MM = { one: 1.3, five: 2, ten: 3 } as const;

/** The top left ends of both rulers on the page, millimetres: where their first end mark stands. */
function rulerStarts(page: PageSize): { readonly x: Point; readonly y: Point } {
  const [left, top] = PAGES[page].blockAt;
  return {
    x: [left + (BLOCK_WIDTH_MM - RULER_MM.x) / 2, top + BLOCK_HEIGHT_MM + RULER_GAP_MM],
    y: [left - RULER_GAP_MM, top + (BLOCK_HEIGHT_MM - RULER_MM.y) / 2],
  };
}

/** Everything on page `set` (from 1), page millimetres from the paper's top left corner. */
export function pageShapes(page: PageSize, set: number): Shape[] {
  const [left, top] = PAGES[page].blockAt;
  const cards = cardsOfSet(set).flatMap((id) => {
    const { onPageMm, turned } = cardPlace(id);
    const at: Point = [left + onPageMm[0], top + onPageMm[1]];
    return placed(cardShapes(id), at, turned ? { width: CARD_WIDTH_MM, height: CARD_HEIGHT_MM } : undefined);
  });
  return [...cutLines([left, top]), ...cards, ...rulerX(page), ...rulerY(page), ...head(page, set)];
}

function cutLines([left, top]: Point): Shape[] {
  const shapes: Shape[] = [];
  const dashMm = 2;
  const stepMm = 4;
  for (let i = 0; i <= 2; i++) {
    for (let along = 1; along < BLOCK_WIDTH_MM; along += stepMm) {
      const at: Point = [left + along, top + i * CARD_HEIGHT_MM - LINE_MM / 2];
      shapes.push({ kind: 'rect', at, width: dashMm, height: LINE_MM, ink: 'faint' });
    }
    for (let along = 1; along < BLOCK_HEIGHT_MM; along += stepMm) {
      const at: Point = [left + i * CARD_WIDTH_MM - LINE_MM / 2, top + along];
      shapes.push({ kind: 'rect', at, width: LINE_MM, height: dashMm, ink: 'faint' });
    }
  }
  return shapes;
}

/** Ticks are centred on their millimetre: measure from the middle of one end mark to the middle of the other. */
function rulerX(page: PageSize): Shape[] {
  const [x, y] = rulerStarts(page).x;
  const ticks: Shape[] = [{ kind: 'rect', at: [x, y], width: RULER_MM.x, height: LINE_MM, ink: 'black' }];
  for (let mm = 0; mm <= RULER_MM.x; mm++) {
    ticks.push({
      kind: 'rect',
      at: [x + mm - LINE_MM / 2, y],
      width: LINE_MM,
      height: tickMm(mm, RULER_MM.x),
      ink: 'black',
    });
    if (mm % 10 === 0 && mm < RULER_MM.x) ticks.push(number([x + mm + 0.5, y + 4.2], `${mm}`));
  }
  ticks.push(number([x + RULER_MM.x + 0.5, y + 4.2], 'X'));
  return ticks;
}

function rulerY(page: PageSize): Shape[] {
  const [x, y] = rulerStarts(page).y;
  const ticks: Shape[] = [{ kind: 'rect', at: [x - LINE_MM, y], width: LINE_MM, height: RULER_MM.y, ink: 'black' }];
  for (let mm = 0; mm <= RULER_MM.y; mm++) {
    const length = tickMm(mm, RULER_MM.y);
    ticks.push({ kind: 'rect', at: [x - length, y + mm - LINE_MM / 2], width: length, height: LINE_MM, ink: 'black' });
    if (mm % 10 === 0 && mm < RULER_MM.y) ticks.push(number([x - 6.4, y + mm + 2.2], `${mm}`));
  }
  ticks.push(number([x - 6.4, y + RULER_MM.y + 2.2], 'Y'));
  return ticks;
}

function tickMm(mm: number, end: number): number {
  const isEnd = mm === 0 || mm === end;
  if (isEnd) return 4.5;
  if (mm % 10 === 0) return TICK_MM.ten;
  return mm % 5 === 0 ? TICK_MM.five : TICK_MM.one;
}

function number(at: Point, text: string): Shape {
  return { kind: 'text', at, text, sizeMm: 1.9, weight: 'plain', align: 'start', turned: false };
}

function head(page: PageSize, set: number): Shape[] {
  const { name, blockAt, headTopMm, headSizeMm, headLineMm } = PAGES[page];
  const cards = cardsOfSet(set);
  const left = blockAt[0];
  const wordsLeft = left + 50;
  const line = (at: Point, text: string, weight: 'plain' | 'bold', sizeMm: number): Shape => ({
    kind: 'text',
    at,
    text,
    sizeMm,
    weight,
    align: 'start',
    turned: false,
  });
  const advice = [
    'Print at 100 % (“actual size”) on matt paper; do not laminate. Then measure both rulers from end mark to',
    `end mark: X below should be ${RULER_MM.x} mm, Y at the left ${RULER_MM.y} mm. Give Notchwise each measured ÷ nominal,`,
    `as --print-scale X,Y.  Measured:  X ____________ mm    Y ____________ mm`,
    'Use the page whole, or cut along the dashed lines: mind the blade, cut away from your hand. Keep it flat.',
  ];
  return [
    line([left, headTopMm + headLineMm * 0.6], 'Reference cards', 'bold', headSizeMm * 2),
    line(
      [left, headTopMm + headLineMm * 2],
      `Notchwise, ${name}, set ${set}: ${cardName(cards[0])} to ${cardName(cards[3])}`,
      'plain',
      headSizeMm,
    ),
    ...advice.map((text, i) => line([wordsLeft, headTopMm + i * headLineMm], text, 'plain', headSizeMm)),
  ];
}
