// The page of reference cards as a file to print.
import { fail, ok, type Result } from '../base/result.ts';
import { PAGE_SET_COUNT } from '../vision/cards/cardLayout.ts';
import { cardPagePdf } from '../vision/cards/cardPdf.ts';
import { cardPageSvg, cardSvg, cardsIndex } from '../vision/cards/cardSvg.ts';
import type { PageSize } from '../vision/cards/pageDrawing.ts';
import type { MadeFile } from './madeFile.ts';

/** `print` numbers the page from 1: cards of different prints may lie on one table. */
export async function cardPage(page: PageSize, as: 'pdf' | 'svg', print: number): Promise<Result<MadeFile>> {
  if (!Number.isInteger(print) || print < 1 || print > PAGE_SET_COUNT) {
    return fail('no-such-print', `There is no page ${print} of cards; pages are numbered from 1 to ${PAGE_SET_COUNT}.`);
  }
  const name = `notchwise-cards-${page}-${print}.${as}`;
  return ok(
    as === 'pdf'
      ? { name, mime: 'application/pdf', content: await cardPagePdf(page, print) }
      : { name, mime: 'image/svg+xml', content: cardPageSvg(page, print) },
  );
}

/** Every card as a true-size SVG, and cards.json that lists them. */
export function eachCard(): readonly MadeFile[] {
  const index = cardsIndex();
  return [
    ...index.map((row, id) => ({ name: row.file, mime: 'image/svg+xml', content: cardSvg(id) })),
    { name: 'cards.json', mime: 'application/json', content: `${JSON.stringify(index, null, 1)}\n` },
  ];
}
