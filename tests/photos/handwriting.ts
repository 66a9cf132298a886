// A hand's capitals as pen strokes: enough to write a piece's name on it without any font.
import type { Point } from '../../shared/base/points.ts';
import { seededRandom } from './random.ts';
import type { Ink } from './scene.ts';

/** Strokes on a grid 4 wide and 6 high, y down; digits are x then y, strokes separated by spaces. */
const LETTERS: Readonly<Record<string, string>> = {
  A: '062046 1434',
  B: '060020312303 2334453606',
  C: '411000052646',
  D: '0600204145260600',
  E: '40000646 0333',
  F: '400006 0333',
  G: '4110000526464323',
  H: '0006 4046 0343',
  I: '2026',
  J: '40451605',
  K: '0006 4003 0346',
  L: '000646',
  M: '0600234046',
  N: '06004640',
  O: '100105163645413010',
  P: '060030414203',
  Q: '100105163645413010 2446',
  R: '060030413203 2346',
  S: '4130100103334436160504',
  T: '0040 2026',
  U: '000516364540',
  V: '002640',
  W: '0016233640',
  X: '0046 4006',
  Y: '0023 40232606',
  Z: '00400646',
  '0': '100105163645413010',
  '1': '112026',
  '2': '01103041420646',
  '3': '011030413223 23344536160504',
  '4': '30044420 3036',
  '5': '400003234436160504',
  '6': '301104051636454313',
  '7': '004016',
  '8': '1001132334453616051323 1323424130100110',
  '9': '413010010213434016',
  '-': '0343',
  '.': '2526',
  '+': '0343 2125',
  '/': '0640',
};

const WIDTH = 4;
const HEIGHT = 6;
const ADVANCE = 5.6;
const SLANT = 0.12;

/** Strokes of a line of capitals whose first letter stands with its lower left corner at `at`. */
export function writing(
  words: string,
  at: Point,
  sizeMm: number,
  turnDeg: number,
  colour: string,
  seed: number,
): Ink[] {
  const random = seededRandom(seed);
  const unit = sizeMm / HEIGHT;
  const turn = (turnDeg * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const ink: Ink[] = [];
  [...words.toUpperCase()].forEach((letter, i) => {
    const rise = random.normal() * 0.25;
    for (const stroke of (LETTERS[letter] ?? '').split(' ')) {
      const line: Point[] = [];
      for (let k = 0; k + 1 < stroke.length; k += 2) {
        const gx = Number(stroke[k]) + random.normal() * 0.12;
        const gy = Number(stroke[k + 1]) - HEIGHT + random.normal() * 0.12 + rise;
        const x = (i * ADVANCE + Math.min(gx, WIDTH + 1) - SLANT * gy) * unit;
        const y = gy * unit;
        line.push([at[0] + c * x - s * y, at[1] + s * x + c * y]);
      }
      if (line.length > 1)
        ink.push({ kind: 'stroke', line, closed: false, widthMm: Math.max(0.35, sizeMm * 0.07), colour, dashMm: [] });
    }
  });
  return ink;
}
