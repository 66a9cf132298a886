// Draws millimetres (y down from the top left) on a PDF page, whose own units are points with y up from the bottom left.
// Nothing is ever scaled to fit: one millimetre here is one millimetre on paper.
import {
  appendBezierCurve,
  clip,
  closePath,
  endPath,
  fill,
  lineTo,
  moveTo,
  type PDFFont,
  type PDFPage,
  popGraphicsState,
  pushGraphicsState,
  rectangle,
  setDashPattern,
  setFillingGrayscaleColor,
  setLineCap,
  setLineWidth,
  setStrokingGrayscaleColor,
  stroke,
} from 'pdf-lib';
import type { Point } from '../../base/points.ts';
import { POINTS_PER_MM } from '../../base/units.ts';
import { type CubicPath, segment, segmentCount } from '../../geometry/cubicPath.ts';
import { type Affine, apply } from '../../geometry/transform.ts';

export interface Pen {
  readonly page: PDFPage;
  /** Points of the page from the millimetres that are drawn. */
  readonly pointsFromMm: Affine;
}

export interface Stroke {
  readonly widthMm: number;
  /** Lengths of dash and gap; none = a solid line. */
  readonly dashMm?: readonly number[];
}

/** A pen whose millimetre (0, 0) lies at `origin` of a page that is heightMm high. */
export function penAt(page: PDFPage, heightMm: number, origin: Point): Pen {
  return {
    page,
    pointsFromMm: [
      POINTS_PER_MM,
      0,
      0,
      -POINTS_PER_MM,
      origin[0] * POINTS_PER_MM,
      (heightMm - origin[1]) * POINTS_PER_MM,
    ],
  };
}

export function strokePaths(pen: Pen, paths: readonly CubicPath[], style: Stroke): void {
  const operators = paths.flatMap((path) => {
    const [x, y] = apply(pen.pointsFromMm, path[0]!);
    const curves = Array.from({ length: segmentCount(path) }, (_, i) => {
      const [, q, r, s] = segment(path, i).map((point) => apply(pen.pointsFromMm, point)) as [
        Point,
        Point,
        Point,
        Point,
      ];
      return appendBezierCurve(q[0], q[1], r[0], r[1], s[0], s[1]);
    });
    return [moveTo(x, y), ...curves];
  });
  pen.page.pushOperators(
    pushGraphicsState(),
    setStrokingGrayscaleColor(0),
    setLineWidth(style.widthMm * POINTS_PER_MM),
    setLineCap(0),
    setDashPattern(
      (style.dashMm ?? []).map((mm) => mm * POINTS_PER_MM),
      0,
    ),
    ...operators,
    stroke(),
    popGraphicsState(),
  );
}

export function fillPolygon(pen: Pen, corners: readonly Point[], gray: number): void {
  const [first, ...rest] = corners.map((corner) => apply(pen.pointsFromMm, corner));
  pen.page.pushOperators(
    pushGraphicsState(),
    setFillingGrayscaleColor(gray),
    moveTo(first![0], first![1]),
    ...rest.map(([x, y]) => lineTo(x, y)),
    closePath(),
    fill(),
    popGraphicsState(),
  );
}

/** Everything drawn by `draw` shows only inside the box. */
export function clipped(pen: Pen, from: Point, to: Point, draw: () => void): void {
  const [x0, y0] = apply(pen.pointsFromMm, from);
  const [x1, y1] = apply(pen.pointsFromMm, to);
  pen.page.pushOperators(pushGraphicsState(), rectangle(x0, y1, x1 - x0, y0 - y1), clip(), endPath());
  draw();
  pen.page.pushOperators(popGraphicsState());
}

export interface Words {
  readonly font: PDFFont;
  readonly heightMm: number;
  readonly align: 'left' | 'middle';
}

/** One line of text on its baseline. Signs that the font lacks are printed as a question mark. */
export function writeWords(pen: Pen, text: string, at: Point, { font, heightMm, align }: Words): void {
  const size = heightMm * POINTS_PER_MM;
  const words = printable(text, font);
  const [x, y] = apply(pen.pointsFromMm, at);
  const shift = align === 'middle' ? font.widthOfTextAtSize(words, size) / 2 : 0;
  pen.page.drawText(words, { x: x - shift, y, size, font });
}

/** How wide `writeWords` writes. */
export function widthMm(text: string, { font, heightMm }: Pick<Words, 'font' | 'heightMm'>): number {
  return font.widthOfTextAtSize(printable(text, font), heightMm);
}

function printable(text: string, font: PDFFont): string {
  const known = new Set(font.getCharacterSet());
  return [...text].map((sign) => (known.has(sign.codePointAt(0)!) ? sign : '?')).join('');
}
