// A set in one size as a PDF at true scale: all pieces on one large page, or on printer pages that overlap and are matched
// by marks. Either way with a 100 mm test square.
import { PDFDocument, type PDFFont, PrintScaling, StandardFonts } from 'pdf-lib';
import type { Point } from '../../base/points.ts';
import { fail, ok, type Result } from '../../base/result.ts';
import { POINTS_PER_MM } from '../../base/units.ts';
import { layOut } from '../../pattern/layOut.ts';
import type { PatternSet, Size } from '../../pattern/model.ts';
import { type Box, type PieceLines, pieceLines } from '../../pattern/pieceLines.ts';
import { drawPiece } from './drawPiece.ts';
import { clipped, type Pen, penAt, writeWords } from './pen.ts';
import { drawPageMap, drawTestSquare, drawTileFrame, drawTileMarks, TEST_BLOCK_MM } from './sheet.ts';
import { MARGIN_MM, PAGES_MM, type Tiling, tilesFor } from './tiling.ts';

export interface PdfOptions {
  /** One page as large as the pieces need, or pages of a home printer. */
  readonly page: 'one' | 'a4' | 'letter';
}

/** The bytes of the PDF; fails when the size has no piece or one page would be larger than PDF allows. */
export async function writePdf(set: PatternSet, size: Size, options: PdfOptions): Promise<Result<Uint8Array>> {
  const drawn = set.pieces.map((piece) => pieceLines(piece, size)).filter((lines) => lines !== null);
  if (drawn.length === 0) {
    return fail(
      'nothing-to-print',
      `The set "${set.name}" has no piece in size ${size}; trace a piece or choose another size.`,
    );
  }
  // No dates: the same pieces give the same bytes.
  const document = await PDFDocument.create({ updateMetadata: false });
  document.setTitle(`${set.name}, size ${size}`);
  document.setCreator('Notchwise');
  // Viewers print at the size asked for, not fitted to the paper, unless the person says otherwise.
  document.catalog.getOrCreateViewerPreferences().setPrintScaling(PrintScaling.None);
  const font = await document.embedFont(StandardFonts.Helvetica);
  const print: Print = { document, font, drawn, title: `${set.name}, size ${size}` };
  const tooLarge = options.page === 'one' ? onOnePage(print) : onTiles(print, PAGES_MM[options.page]);
  return tooLarge ?? ok(await document.save());
}

interface Print {
  readonly document: PDFDocument;
  readonly font: PDFFont;
  readonly drawn: readonly PieceLines[];
  readonly title: string;
}

/** Pieces are laid in rows this wide, unless one is wider. */
const SHEET_WIDTH_MM = 1500;
const GAP_MM = 15;
/** ISO 32000-1, annex C.2: a page side is at most 14 400 units of 1/72 inch. */
const LARGEST_PAGE_MM = 14400 / POINTS_PER_MM;

function onOnePage({ document, font, drawn, title }: Print): ReturnType<typeof fail> | null {
  const testBox: Box = [0, 0, ...TEST_BLOCK_MM];
  const sheet = layOut([testBox, ...drawn.map(({ box }) => box)], SHEET_WIDTH_MM, GAP_MM);
  if (Math.max(sheet.widthMm, sheet.heightMm) > LARGEST_PAGE_MM) {
    return fail(
      'page-too-large',
      'The pieces need a page of more than 5 metres, which PDF does not allow; print them on A4 or Letter pages instead.',
    );
  }
  const page = document.addPage([sheet.widthMm * POINTS_PER_MM, sheet.heightMm * POINTS_PER_MM]);
  const pen = penAt(page, sheet.heightMm, [0, 0]);
  const [testAt, ...offsets] = sheet.offsetsMm;
  drawTestSquare(pen, testAt!, font);
  writeWords(pen, title, [testAt![0], testAt![1] + TEST_BLOCK_MM[1] - 8], { font, heightMm: 5, align: 'left' });
  drawn.forEach((lines, i) => {
    drawPiece(movedBy(pen, offsets[i]!), lines, font);
  });
  return null;
}

/** Four pages across make rows that still fit on a table. */
const TILES_ACROSS = 4;

function onTiles(print: Print, pageMm: Point): null {
  const { drawn, font } = print;
  const sheet = layOut(
    drawn.map(({ box }) => box),
    (pageMm[0] - 2 * MARGIN_MM) * TILES_ACROSS,
    GAP_MM,
  );
  const boxes = drawn.map(({ box }, i): Box => {
    const [x, y] = sheet.offsetsMm[i]!;
    return [box[0] + x, box[1] + y, box[2] + x, box[3] + y];
  });
  const tiling = tilesFor(boxes, pageMm);
  coverPage(print, pageMm, tiling);
  for (const tile of tiling.tiles) {
    const page = print.document.addPage([pageMm[0] * POINTS_PER_MM, pageMm[1] * POINTS_PER_MM]);
    const pen = penAt(page, pageMm[1], [MARGIN_MM - tile.from[0], MARGIN_MM - tile.from[1]]);
    clipped(pen, tile.from, tile.to, () => {
      drawn.forEach((lines, i) => {
        drawPiece(movedBy(pen, sheet.offsetsMm[i]!), lines, font);
      });
      drawTileMarks(pen, tile, tiling, font);
    });
    drawTileFrame(pen, tile);
  }
  return null;
}

function coverPage({ document, font, title }: Print, pageMm: Point, tiling: Tiling): void {
  const page = document.addPage([pageMm[0] * POINTS_PER_MM, pageMm[1] * POINTS_PER_MM]);
  const pen = penAt(page, pageMm[1], [0, 0]);
  const left = 2 * MARGIN_MM;
  const words = { font, heightMm: 4, align: 'left' } as const;
  writeWords(pen, title, [left, 25], { ...words, heightMm: 6 });
  drawTestSquare(pen, [left, 35], font);
  const steps = [
    'Cut or fold each page along its dotted frame on one side, lay it over its neighbour',
    'so that the grey diamonds with the same number lie on one another, and tape it.',
    'The pages lie like this:',
  ];
  steps.forEach((line, i) => {
    writeWords(pen, line, [left, 148 + 6 * i], words);
  });
  drawPageMap(pen, [left, 168], tiling, font);
}

function movedBy(pen: Pen, [dx, dy]: Point): Pen {
  const [a, b, c, d, e, f] = pen.pointsFromMm;
  return { ...pen, pointsFromMm: [a, b, c, d, a * dx + c * dy + e, b * dx + d * dy + f] };
}
