// The nominal geometry of a reference card and of the page of four: what is printed where, in millimetres. Drawing and
// finding both read it, so that they cannot disagree.
//
// A card is described upright first: chequer above, code at the lower left. On the page the lower two cards are turned
// by 180 degrees, which moves their chequers to the foot of the page and gives the whole page a long baseline.
// A card's own frame ("card millimetres") always has its axes parallel to the page's, whichever way the card is turned
// there: so a printer's scale along x and y applies to every card alike.
import type { Point } from '../../base/points.ts';
import { CODE_BITS_PER_SIDE, CODE_COUNT } from './dictionary.ts';

/** Side of one chequer square. */
export const SQUARE_MM = 11.5;
/** Squares along one side of the chequer; the corner squares are dark. */
export const SQUARES_PER_SIDE = 7;
/** Saddle corners along one side of the chequer. */
export const SADDLES_PER_SIDE = SQUARES_PER_SIDE - 1;
/** Side of one cell of the code. */
export const MODULE_MM = 3.6;
/** Cells along one side of the code, the dark border included. */
export const MODULES_PER_SIDE = CODE_BITS_PER_SIDE + 2;
export const CODE_MM = MODULE_MM * MODULES_PER_SIDE;
export const CARD_WIDTH_MM = 92;
export const CARD_HEIGHT_MM = 126;
/** Paper left white inside the cut line all round: more than 1.5 cells of the code, or it merges with the table. */
export const QUIET_MM = 5.75;
/** Top left corner of the chequer on the upright card. */
export const CHEQUER_AT: Point = [QUIET_MM, QUIET_MM];
/** Top left corner of the code's dark border on the upright card; 5.45 mm of white between chequer and code. */
export const CODE_AT: Point = [QUIET_MM, 91.7];

export const CARDS_PER_PAGE = 4;
export const PAGE_SET_COUNT = CODE_COUNT / CARDS_PER_PAGE;

export interface CardPlace {
  /** Top left cut corner of the card, from the top left cut corner of the block of four, millimetres. */
  readonly onPageMm: Point;
  readonly turned: boolean;
  /** Number of the page print, from 1. */
  readonly set: number;
}

/** The number as it is printed on the card: 7 is "N07". */
export function cardName(id: number): string {
  return `N${String(id).padStart(2, '0')}`;
}

/** The number of a card by its printed name, "N07" or "n7"; NaN for what is no card's name. */
export function cardNumber(name: string): number {
  const digits = /^[Nn](\d{1,4})$/.exec(name)?.[1];
  const id = digits === undefined ? Number.NaN : Number(digits);
  return id < CODE_COUNT ? id : Number.NaN;
}

/** Numbers of the four cards of page `set` (from 1): upper left, upper right, lower left, lower right. */
export function cardsOfSet(set: number): readonly [number, number, number, number] {
  if (!Number.isInteger(set) || set < 1 || set > PAGE_SET_COUNT) {
    throw new Error(`there is no set ${set}: sets run from 1 to ${PAGE_SET_COUNT}`);
  }
  const first = (set - 1) * CARDS_PER_PAGE;
  return [first, first + 1, first + 2, first + 3];
}

export function cardPlace(id: number): CardPlace {
  const slot = id % CARDS_PER_PAGE;
  const row = Math.floor(slot / 2);
  return {
    onPageMm: [(slot % 2) * CARD_WIDTH_MM, row * CARD_HEIGHT_MM],
    turned: row === 1,
    set: Math.floor(id / CARDS_PER_PAGE) + 1,
  };
}

/** From the upright card to the card's own frame (axes of the page): the same, or turned by 180 degrees. */
export function cardMmFromUpright(id: number, upright: Point): Point {
  return cardPlace(id).turned ? [CARD_WIDTH_MM - upright[0], CARD_HEIGHT_MM - upright[1]] : upright;
}

/** The saddle in column `column` and row `row` (0-5) on the upright card. */
export function saddleUprightMm(column: number, row: number): Point {
  return [CHEQUER_AT[0] + (column + 1) * SQUARE_MM, CHEQUER_AT[1] + (row + 1) * SQUARE_MM];
}

/** Outer corners of the code's dark border on the upright card: top left, top right, bottom right, bottom left. */
export const CODE_CORNERS_UPRIGHT: readonly [Point, Point, Point, Point] = corners(CODE_AT, CODE_MM, CODE_MM);

/** Corners of the cut card, in the same order. */
export const CUT_CORNERS_UPRIGHT: readonly [Point, Point, Point, Point] = corners(
  [0, 0],
  CARD_WIDTH_MM,
  CARD_HEIGHT_MM,
);

function corners([x, y]: Point, width: number, height: number): readonly [Point, Point, Point, Point] {
  return [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];
}
