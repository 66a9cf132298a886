// Writes cards and pages as SVG of true size: width and height in millimetres, one user unit a millimetre.
import type { Point } from '../../base/points.ts';
import { cardShapes } from './cardDrawing.ts';
import { CARD_HEIGHT_MM, CARD_WIDTH_MM, cardName } from './cardLayout.ts';
import { CODE_COUNT } from './dictionary.ts';
import { PAGES, type PageSize, pageShapes } from './pageDrawing.ts';
import type { Ink, Shape } from './shapes.ts';

export interface CardIndexRow {
  readonly id: string;
  readonly file: string;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Card `id` upright, cut to its outline. */
export function cardSvg(id: number): string {
  return svgDocument(CARD_WIDTH_MM, CARD_HEIGHT_MM, `Notchwise reference card ${cardName(id)}`, cardShapes(id));
}

/** The page of four cards `set` (from 1). */
export function cardPageSvg(page: PageSize, set: number): string {
  const { name, widthMm, heightMm } = PAGES[page];
  return svgDocument(widthMm, heightMm, `Notchwise reference cards, set ${set}, ${name}`, pageShapes(page, set));
}

/** What `cards.json` lists: every card with the file that `cardSvg` fills. */
export function cardsIndex(): readonly CardIndexRow[] {
  return Array.from({ length: CODE_COUNT }, (_, id) => ({
    id: cardName(id),
    file: `${cardName(id)}.svg`,
    widthMm: CARD_WIDTH_MM,
    heightMm: CARD_HEIGHT_MM,
  }));
}

const FILLS: Readonly<Record<Ink, string>> = { black: '#000000', white: '#ffffff', faint: '#a0a0a0' };

function svgDocument(widthMm: number, heightMm: number, title: string, shapes: readonly Shape[]): string {
  const size = `width="${widthMm}mm" height="${heightMm}mm" viewBox="0 0 ${widthMm} ${heightMm}"`;
  const paper = `<rect x="0" y="0" width="${widthMm}" height="${heightMm}" fill="${FILLS.white}"/>`;
  const body = shapes.map(svgElement).join('\n');
  return `<svg xmlns="http://www.w3.org/2000/svg" ${size}>\n<title>${title}</title>\n${paper}\n${body}\n</svg>\n`;
}

function svgElement(shape: Shape): string {
  switch (shape.kind) {
    case 'rect': {
      const [x, y] = shape.at;
      const box = `x="${mm(x)}" y="${mm(y)}" width="${mm(shape.width)}" height="${mm(shape.height)}"`;
      return `<rect ${box} fill="${FILLS[shape.ink]}"/>`;
    }
    case 'loops': {
      const d = shape.loops.map((loop) => `M${loop.map(pair).join('L')}Z`).join('');
      return `<path d="${d}" fill="${FILLS[shape.ink]}"/>`;
    }
    case 'text': {
      const [x, y] = shape.at;
      const turn = shape.turned ? ` transform="rotate(180 ${mm(x)} ${mm(y)})"` : '';
      const weight = shape.weight === 'bold' ? ' font-weight="bold"' : '';
      const font = `font-family="Helvetica, Arial, sans-serif" font-size="${shape.sizeMm}"${weight}`;
      const anchor = shape.align === 'start' ? '' : ` text-anchor="${shape.align}"`;
      const at = `x="${mm(x)}" y="${mm(y)}"`;
      return `<text ${at} ${font}${anchor}${turn} fill="${FILLS.black}">${escaped(shape.text)}</text>`;
    }
  }
}

function pair([x, y]: Point): string {
  return `${mm(x)} ${mm(y)}`;
}

/** Millimetres to the ten-thousandth, without trailing zeros. */
function mm(value: number): string {
  return String(Number(value.toFixed(4)));
}

function escaped(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;');
}
