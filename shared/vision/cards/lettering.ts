// The card's number in cell letters of our own, so that it reads the same where no font is at hand and matches the code
// beside it.
import type { Point } from '../../base/points.ts';
import { cellLoops, type Shape } from './shapes.ts';

const COLUMNS = 6;
const ROWS = 7;

const LETTERS: Readonly<Record<string, string>> = {
  N: '##..## ###.## ###.## ###### ##.### ##.### ##..##',
  '0': '.####. ##..## ##..## ##..## ##..## ##..## .####.',
  '1': '..##.. .###.. ####.. ..##.. ..##.. ..##.. ######',
  '2': '#####. ....## ....## .####. ##.... ##.... ######',
  '3': '#####. ....## ....## .####. ....## ....## #####.',
  '4': '##..## ##..## ##..## ###### ....## ....## ....##',
  '5': '###### ##.... ##.... #####. ....## ....## #####.',
  '6': '.####. ##.... ##.... #####. ##..## ##..## .####.',
  '7': '###### ....## ....## ...##. ...##. ..##.. ..##..',
  '8': '.####. ##..## ##..## .####. ##..## ##..## .####.',
  '9': '.####. ##..## ##..## .##### ....## ....## .####.',
};

/** Draws `word` (N and digits) with its top left corner at `at`, `heightMm` tall. */
export function cellLettering(word: string, at: Point, heightMm: number): Shape {
  const cellMm = heightMm / ROWS;
  const loops = [...word].flatMap((letter, i) => {
    const pattern = LETTERS[letter];
    if (pattern === undefined) throw new Error(`no cell letter for "${letter}"`);
    const cells = [...pattern.replaceAll(' ', '')].map((mark) => mark === '#');
    return cellLoops(cells, COLUMNS, [at[0] + i * (COLUMNS + 1) * cellMm, at[1]], cellMm);
  });
  return { kind: 'loops', loops, ink: 'black' };
}
