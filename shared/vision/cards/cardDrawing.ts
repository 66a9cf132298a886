// Draws one upright card: chequer for measuring, code for identity, its number, and what to do with it in words.
import type { Point } from '../../base/points.ts';
import {
  CARD_WIDTH_MM,
  CHEQUER_AT,
  CODE_AT,
  CODE_MM,
  cardName,
  MODULE_MM,
  MODULES_PER_SIDE,
  QUIET_MM,
  SQUARE_MM,
  SQUARES_PER_SIDE,
} from './cardLayout.ts';
import { CODE_BITS_PER_SIDE, codeCells } from './dictionary.ts';
import { cellLettering } from './lettering.ts';
import { cellLoops, type Shape } from './shapes.ts';

const WORDS_GAP_MM = 6.5;
const WORDS: readonly string[] = [
  'Lay it flat on the table, this side up,',
  'beside the pattern, never on it.',
  'Two cards at least; four, spread round',
  'the piece, measure best.',
];

/** The shapes of card `id` in upright card millimetres. */
export function cardShapes(id: number): Shape[] {
  return [...chequerShapes(), ...codeShapes(id), ...wordShapes(id)];
}

function chequerShapes(): Shape[] {
  const shapes: Shape[] = [];
  for (let row = 0; row < SQUARES_PER_SIDE; row++) {
    for (let column = row % 2; column < SQUARES_PER_SIDE; column += 2) {
      const at: Point = [CHEQUER_AT[0] + column * SQUARE_MM, CHEQUER_AT[1] + row * SQUARE_MM];
      shapes.push({ kind: 'rect', at, width: SQUARE_MM, height: SQUARE_MM, ink: 'black' });
    }
  }
  return shapes;
}

function codeShapes(id: number): Shape[] {
  const inside = codeCells(id);
  const n = CODE_BITS_PER_SIDE;
  const dark = Array.from({ length: MODULES_PER_SIDE * MODULES_PER_SIDE }, (_, i) => {
    const column = (i % MODULES_PER_SIDE) - 1;
    const row = Math.floor(i / MODULES_PER_SIDE) - 1;
    const isBorder = column < 0 || row < 0 || column >= n || row >= n;
    return isBorder || !inside[row * n + column];
  });
  return [{ kind: 'loops', loops: cellLoops(dark, MODULES_PER_SIDE, CODE_AT, MODULE_MM), ink: 'black' }];
}

function wordShapes(id: number): Shape[] {
  const left = CODE_AT[0] + CODE_MM + WORDS_GAP_MM;
  const right = CARD_WIDTH_MM - QUIET_MM;
  const top = CODE_AT[1];
  const numberMm = 9.8;
  const sizeMm = 2.35;
  const lineMm = 3.1;
  const text = (at: Point, words: string, weight: 'plain' | 'bold', align: 'start' | 'end'): Shape => ({
    kind: 'text',
    at,
    text: words,
    sizeMm,
    weight,
    align,
    turned: false,
  });
  const lastLine = top + CODE_MM - 0.4;
  return [
    cellLettering(cardName(id), [left, top], numberMm),
    ...notchRow(right, top),
    text([left, lastLine - WORDS.length * lineMm], 'Notchwise reference card', 'bold', 'start'),
    ...WORDS.map((words, i) => text([left, lastLine - (WORDS.length - 1 - i) * lineMm], words, 'plain', 'start')),
  ];
}

/** Three cut notches hanging from a line: a single and a double, as on a sleeve cap. Our mark. */
function notchRow(right: number, top: number): Shape[] {
  const lengthMm = 14.5;
  const thickMm = 0.6;
  const notch = (x: number): Point[] => [
    [x - 1.3, top],
    [x + 1.3, top],
    [x, top + 3.3],
  ];
  const left = right - lengthMm;
  return [
    { kind: 'rect', at: [left, top], width: lengthMm, height: thickMm, ink: 'black' },
    { kind: 'loops', loops: [notch(left + 2.6), notch(right - 5.6), notch(right - 2.6)], ink: 'black' },
  ];
}
