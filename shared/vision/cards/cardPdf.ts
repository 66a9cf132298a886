// Writes the page of cards as a vector PDF of true scale. The viewer is asked not to scale when printing.
import {
  closePath,
  concatTransformationMatrix,
  degrees,
  fill,
  lineTo,
  moveTo,
  PDFDocument,
  type PDFFont,
  type PDFOperator,
  type PDFPage,
  PrintScaling,
  popGraphicsState,
  pushGraphicsState,
  rectangle,
  StandardFonts,
  setFillingGrayscaleColor,
} from 'pdf-lib';
import { POINTS_PER_MM } from '../../base/units.ts';
import { PAGES, type PageSize, pageShapes } from './pageDrawing.ts';
import type { Ink, Shape } from './shapes.ts';

const GRAY: Readonly<Record<Ink, number>> = { black: 0, white: 1, faint: 0.63 };

/** The page of four cards `set` (from 1) as a PDF file. The same input gives the same bytes. */
export async function cardPagePdf(page: PageSize, set: number): Promise<Uint8Array> {
  const { name, widthMm, heightMm } = PAGES[page];
  const document = await PDFDocument.create({ updateMetadata: false });
  document.setTitle(`Notchwise reference cards, set ${set}, ${name}`);
  document.catalog.getOrCreateViewerPreferences().setPrintScaling(PrintScaling.None);
  const fonts = {
    plain: await document.embedFont(StandardFonts.Helvetica),
    bold: await document.embedFont(StandardFonts.HelveticaBold),
  };
  const sheet = document.addPage([widthMm * POINTS_PER_MM, heightMm * POINTS_PER_MM]);
  const shapes = pageShapes(page, set);
  // One matrix turns page millimetres (y down) into points (y up); everything measured is written in millimetres.
  sheet.pushOperators(
    pushGraphicsState(),
    concatTransformationMatrix(POINTS_PER_MM, 0, 0, -POINTS_PER_MM, 0, heightMm * POINTS_PER_MM),
    ...shapes.flatMap(areaOperators),
    popGraphicsState(),
  );
  for (const shape of shapes) if (shape.kind === 'text') drawWords(sheet, fonts, shape, heightMm);
  return document.save();
}

function areaOperators(shape: Shape): PDFOperator[] {
  switch (shape.kind) {
    case 'rect':
      return [
        setFillingGrayscaleColor(GRAY[shape.ink]),
        rectangle(shape.at[0], shape.at[1], shape.width, shape.height),
        fill(),
      ];
    case 'loops':
      return [
        setFillingGrayscaleColor(GRAY[shape.ink]),
        ...shape.loops.flatMap((loop) => [
          ...loop.map(([x, y], i) => (i === 0 ? moveTo(x, y) : lineTo(x, y))),
          closePath(),
        ]),
        fill(),
      ];
    case 'text':
      return [];
  }
}

function drawWords(
  sheet: PDFPage,
  fonts: Readonly<Record<'plain' | 'bold', PDFFont>>,
  words: Extract<Shape, { kind: 'text' }>,
  heightMm: number,
): void {
  const font = fonts[words.weight];
  const size = words.sizeMm * POINTS_PER_MM;
  const width = font.widthOfTextAtSize(words.text, size);
  const back = { start: 0, middle: width / 2, end: width }[words.align];
  const x = words.at[0] * POINTS_PER_MM + (words.turned ? back : -back);
  const y = (heightMm - words.at[1]) * POINTS_PER_MM;
  sheet.drawText(words.text, { x, y, size, font, rotate: degrees(words.turned ? 180 : 0) });
}
