// An uncut page lying on the table: what lies within its paper is the page's, what lies beside it is not.
import { describe, expect, it } from 'vitest';
import { type Point, photoPx, tableMm } from '../../../../shared/base/points.ts';
import { CARD_HEIGHT_MM, CARD_WIDTH_MM, cardPlace } from '../../../../shared/vision/cards/cardLayout.ts';
import type { FoundCard } from '../../../../shared/vision/cards/foundCard.ts';
import { liesOnPage, uncutPage } from '../../../../shared/vision/cards/uncutPage.ts';

/** The page lies a quarter turned with the corner of its block at (500, 100); a pixel is a millimetre. */
const onTable = ([x, y]: Point): Point => [500 - y, 100 + x];

function card(id: number): FoundCard {
  const { onPageMm } = cardPlace(id);
  const corners = [
    [0, 0],
    [CARD_WIDTH_MM, 0],
    [CARD_WIDTH_MM, CARD_HEIGHT_MM],
    [0, CARD_HEIGHT_MM],
  ].map(([x, y]) => {
    const at = onTable([onPageMm[0] + x!, onPageMm[1] + y!]);
    return { cardMm: [x!, y!] as const, photo: photoPx(at[0], at[1]) };
  });
  return { id: `N0${id}`, onPageMm, page: 0, corners, cutOutline: [], homographyResidualPx: 0 };
}
const asTable = (at: readonly [number, number]) => tableMm(at[0], at[1]);

/** A4: 19 mm left of the block, 27 mm above it (pageDrawing.ts), 210 x 297 (ISO 216). */
const paper = (inMm: number): Point[] => [
  onTable([-19 + inMm, -27 + inMm]),
  onTable([191 - inMm, -27 + inMm]),
  onTable([191 - inMm, 270 - inMm]),
  onTable([-19 + inMm, 270 - inMm]),
];

describe('the uncut page', () => {
  it('reaches at least to the rim of its paper, and not much farther', () => {
    const page = uncutPage([0, 1, 2, 3].map(card), asTable)!;
    expect(liesOnPage(paper(0), page)).toBe(true);
    expect(liesOnPage(paper(-15), page)).toBe(false);
  });

  it('has its margins, but no piece that lies beside it', () => {
    const page = uncutPage([0, 1, 3].map(card), asTable)!;
    const margin = [onTable([-19, -27]), onTable([191, -27]), onTable([191, -5]), onTable([-19, -5])];
    expect(liesOnPage(margin, page)).toBe(true);
    const beside = [onTable([210, 0]), onTable([400, 0]), onTable([400, 200]), onTable([210, 200])];
    expect(liesOnPage(beside, page)).toBe(false);
  });

  it('is not known from cards that were cut out by ones or twos', () => {
    expect(uncutPage([0, 1].map(card), asTable)).toBe(null);
  });
});
