// The uncut page of cards on the table: where its paper reaches, so that what lies on it is not taken for a piece. A patterned
// table can make two pieces of its white margins.
import type { PhotoPointPx, Point, TablePointMm } from '../../base/points.ts';
import { pointInPolygon } from '../../geometry/polygon.ts';
import { rigidFit } from '../../geometry/rigidFit.ts';
import { apply } from '../../geometry/transform.ts';
import type { FoundCard } from './foundCard.ts';
import { PAGES } from './pageDrawing.ts';

/** So many cards that hang together have all of the page's margins about them; fewer may lie beside what was cut off. */
const FEWEST_CARDS = 3;
/** Paper is held for so much larger: the page's size is not known, and its rim is measured. */
const SLACK_MM = 4;
/** So much of an outline lies on the page when all of it is the page's. */
const ON_PAGE_RATIO = 0.9;

/**
 * The largest page that the cards may be printed on, four points on the table; null when too few cards hang together.
 * @param cards cards of one page as they hang together
 */
export function uncutPage(
  cards: readonly FoundCard[],
  toTable: (at: PhotoPointPx) => TablePointMm,
): readonly Point[] | null {
  if (cards.length < FEWEST_CARDS) return null;
  const corners = cards.flatMap(({ onPageMm, corners: seen }) =>
    seen.map(({ cardMm, photo }) => ({
      block: [onPageMm[0] + cardMm[0], onPageMm[1] + cardMm[1]] as const,
      table: toTable(photo),
    })),
  );
  const tableFromBlock = rigidFit(
    corners.map(({ block }) => block),
    corners.map(({ table }) => table),
  );
  const sizes = Object.values(PAGES);
  const left = -Math.max(...sizes.map(({ blockAt }) => blockAt[0])) - SLACK_MM;
  const top = -Math.max(...sizes.map(({ blockAt }) => blockAt[1])) - SLACK_MM;
  const right = Math.max(...sizes.map(({ widthMm, blockAt }) => widthMm - blockAt[0])) + SLACK_MM;
  const bottom = Math.max(...sizes.map(({ heightMm, blockAt }) => heightMm - blockAt[1])) + SLACK_MM;
  const ring: readonly Point[] = [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ];
  return ring.map((corner) => apply(tableFromBlock, corner));
}

export function liesOnPage(outline: readonly Point[], page: readonly Point[]): boolean {
  return outline.filter((at) => pointInPolygon(at, page)).length > ON_PAGE_RATIO * outline.length;
}
