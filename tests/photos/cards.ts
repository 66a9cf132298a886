// Reference cards on the simulated table: the product's own drawing, printed with a stated error of the printer and cut out.
import type { Point } from '../../shared/base/points.ts';
import { cardShapes } from '../../shared/vision/cards/cardDrawing.ts';
import {
  CARD_HEIGHT_MM,
  CARD_WIDTH_MM,
  CUT_CORNERS_UPRIGHT,
  cardName,
  cardsOfSet,
} from '../../shared/vision/cards/cardLayout.ts';
import { PAGES, pageShapes } from '../../shared/vision/cards/pageDrawing.ts';
import type { Shape } from '../../shared/vision/cards/shapes.ts';
import { writing } from './handwriting.ts';
import type { Curl, Ink, PaperItem, Placement } from './scene.ts';

/** Toner and paper are neither black nor white. */
const TONER = '#2a2a2b';
const CARD_PAPER = '#eceae6';
const INKS = { black: TONER, white: CARD_PAPER, faint: '#a8a6a3' } as const;

export interface CardOnTable {
  readonly id: number;
  /** Where the middle of the card lies. */
  readonly middle: Placement;
  readonly printScale: Point;
  readonly thicknessMm: number;
  readonly baseMm: number;
  readonly curl: Curl | null;
  readonly gloss: number;
}

function inkOf(shape: Shape): Ink[] {
  switch (shape.kind) {
    case 'rect': {
      const [x, y] = shape.at;
      const [w, h] = [shape.width, shape.height];
      return [
        {
          kind: 'fill',
          rings: [
            [
              [x, y],
              [x + w, y],
              [x + w, y + h],
              [x, y + h],
            ],
          ],
          colour: INKS[shape.ink],
        },
      ];
    }
    case 'loops':
      return [{ kind: 'fill', rings: shape.loops, colour: INKS[shape.ink] }];
    case 'text':
      return writing(shape.text, shape.at, shape.sizeMm * 0.55, shape.turned ? 180 : 0, TONER, 1);
  }
}

export interface PageOnTable {
  /** Number of the page, from 1. */
  readonly set: number;
  /** Where the middle of the sheet lies. */
  readonly middle: Placement;
  readonly thicknessMm: number;
  readonly gloss: number;
}

/** The whole A4 page as printed, uncut; its frame is the page's, moved so that the middle is the origin. */
export function pageItem({ set, middle, thicknessMm, gloss }: PageOnTable): PaperItem {
  const { widthMm, heightMm } = PAGES.a4;
  const [first, , , last] = cardsOfSet(set);
  return {
    id: `${cardName(first)}-${cardName(last)}`,
    placement: middle,
    outline: [
      [-widthMm / 2, -heightMm / 2],
      [widthMm / 2, -heightMm / 2],
      [widthMm / 2, heightMm / 2],
      [-widthMm / 2, heightMm / 2],
    ],
    cutAway: [],
    look: { colour: CARD_PAPER, pattern: 'plain', opacity: 1, gloss },
    thicknessMm,
    baseMm: 0,
    curl: null,
    ink: pageShapes('a4', set)
      .flatMap(inkOf)
      .map((ink) => movedInk(ink, ([x, y]) => [x - widthMm / 2, y - heightMm / 2])),
    printScale: [1, 1],
  };
}

function movedInk(ink: Ink, move: (point: Point) => Point): Ink {
  return ink.kind === 'fill'
    ? { ...ink, rings: ink.rings.map((ring) => ring.map(move)) }
    : { ...ink, line: ink.line.map(move) };
}

/** A cut card; its frame is the upright card's, moved so that the middle is the origin. */
export function cardItem(card: CardOnTable): PaperItem {
  const toMiddle = ([x, y]: Point): Point => [x - CARD_WIDTH_MM / 2, y - CARD_HEIGHT_MM / 2];
  return {
    id: cardName(card.id),
    placement: card.middle,
    outline: CUT_CORNERS_UPRIGHT.map(toMiddle),
    cutAway: [],
    look: { colour: CARD_PAPER, pattern: 'plain', opacity: 1, gloss: card.gloss },
    thicknessMm: card.thicknessMm,
    baseMm: card.baseMm,
    curl: card.curl,
    ink: cardShapes(card.id)
      .flatMap(inkOf)
      .map((ink) => movedInk(ink, toMiddle)),
    printScale: card.printScale,
  };
}
