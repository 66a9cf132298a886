import { PDFDocument } from 'pdf-lib';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { describe, expect, it } from 'vitest';
import { tilesFor } from '../../../../shared/formats/pdf/tiling.ts';
import { type PdfOptions, writePdf } from '../../../../shared/formats/pdf/write.ts';
import { PRINTABLE_SET } from '../../../support/printableSet.ts';
import { lineNear, renderPdfPage } from '../../../support/renderPdf.ts';

async function bytes(options: PdfOptions): Promise<Uint8Array> {
  const result = await writePdf(PRINTABLE_SET, 'M', options);
  if (!result.ok) throw new Error(result.error.sentence);
  return result.value;
}

const PX_PER_POINT = 8;
const TILE_PX_PER_POINT = 6;

describe('a printed set', () => {
  it('on A4 has a test square of 100 mm each way within 0.1 mm', async () => {
    const picture = await renderPdfPage(await bytes({ page: 'a4' }), 1, PX_PER_POINT);
    const width = lineNear(picture, 'x', 120, 50) - lineNear(picture, 'x', 20, 50);
    const height = lineNear(picture, 'y', 135, 100) - lineNear(picture, 'y', 35, 100);
    expect(Math.abs(width - 100)).toBeLessThan(0.1);
    expect(Math.abs(height - 100)).toBeLessThan(0.1);
  });

  it('on one page has pieces at true scale: the belt of 360 x 60 with 10 mm allowance is cut 380 x 80', async () => {
    const picture = await renderPdfPage(await bytes({ page: 'one' }), 1, 3);
    // Tallest first, 15 mm apart: bodice (240 wide), test square (110 wide), belt.
    const left = 15 + 240 + 15 + 110 + 15;
    const width = lineNear(picture, 'x', left + 380, 75) - lineNear(picture, 'x', left, 75);
    const height = lineNear(picture, 'y', 15 + 80, left + 340) - lineNear(picture, 'y', 15, left + 340);
    expect(Math.abs(width - 380)).toBeLessThan(0.1);
    expect(Math.abs(height - 80)).toBeLessThan(0.1);
  });

  it('continues a line exactly from one tile to the next', async () => {
    const data = await bytes({ page: 'a4' });
    // The fold at 15 mm on the sheet runs through A1 and B1, 10 mm further right on the paper.
    const upper = await renderPdfPage(data, 2, TILE_PX_PER_POINT);
    const { tiles } = await tilesOf(data);
    const lower = await renderPdfPage(data, 2 + tiles.indexOf('B1'), TILE_PX_PER_POINT);
    expect(Math.abs(lineNear(upper, 'x', 25, 270) - lineNear(lower, 'x', 25, 40))).toBeLessThan(0.05);
  });

  it('has one cover page and one page for each tile that shows a piece, and asks not to be scaled', async () => {
    for (const page of ['a4', 'letter'] as const) {
      const document = await PDFDocument.load(await bytes({ page }));
      const [width, height] = page === 'a4' ? [595.2756, 841.8898] : [612, 792];
      expect(document.getPageCount()).toBeGreaterThan(3);
      for (const sheet of document.getPages()) {
        expect(sheet.getWidth()).toBeCloseTo(width!, 3);
        expect(sheet.getHeight()).toBeCloseTo(height!, 3);
      }
      expect(document.catalog.getViewerPreferences()?.getPrintScaling()).toBe('None');
    }
  });

  it('is the same bytes each time', async () => {
    expect(await bytes({ page: 'letter' })).toEqual(await bytes({ page: 'letter' }));
  });

  it('is refused in a size that has no piece', async () => {
    const result = await writePdf(PRINTABLE_SET, 'XL', { page: 'a4' });
    expect(result).toMatchObject({ ok: false, error: { code: 'nothing-to-print' } });
  });

  it('is refused on one page that would be larger than PDF allows', async () => {
    const piece = PRINTABLE_SET.pieces[1]!;
    const shape = piece.shapes.M!;
    const ring = shape.ring.map((edge) => ({ ...edge, curve: edge.curve.map(([x, y]) => [x * 20, y] as const) }));
    const set = { ...PRINTABLE_SET, pieces: [{ ...piece, shapes: { M: { ...shape, ring } } }] };
    expect(await writePdf(set, 'M', { page: 'one' })).toMatchObject({ ok: false, error: { code: 'page-too-large' } });
  });
});

describe('tiling', () => {
  it('covers every box with pages that overlap', () => {
    const { tiles, joins } = tilesFor([[0, 0, 400, 300]], [210, 297]);
    expect(tiles.map(({ name }) => name)).toEqual(['A1', 'A2', 'A3', 'B1', 'B2', 'B3']);
    expect(tiles[1]!.from[0]).toBe(178); // 210 − 2 · 10 margin − 12 overlap
    expect(joins.length).toBe(7);
  });

  it('leaves out pages that would be empty', () => {
    const { tiles } = tilesFor(
      [
        [0, 0, 100, 100],
        [500, 0, 600, 100],
      ],
      [210, 297],
    );
    expect(tiles.map(({ name }) => name)).toEqual(['A1', 'A3', 'A4']);
  });
});

async function tilesOf(data: Uint8Array): Promise<{ tiles: string[] }> {
  const pdf = await getDocument({ data: data.slice(), verbosity: 0 }).promise;
  const tiles: string[] = [];
  for (let i = 2; i <= pdf.numPages; i++) {
    const { items } = await (await pdf.getPage(i)).getTextContent();
    const label = items.map((item) => ('str' in item ? item.str : '')).find((text) => text.startsWith('page '));
    tiles.push(label?.slice('page '.length) ?? '');
  }
  return { tiles };
}
