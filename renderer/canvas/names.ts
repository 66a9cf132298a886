// Where the names of the pieces stand on the canvas: each in its own piece, none over another. Worked out as plain data, drawn
// by draw.ts.
import type { Point } from '../../shared/base/points.ts';
import { type Box, boxesOverlap } from '../../shared/pattern/pieceLines.ts';

export interface Named {
  readonly piece: string;
  readonly name: string;
  /** Where the name stands best, canvas millimetres. */
  readonly at: Point;
  /** Of the piece on the canvas, millimetres. */
  readonly box: Box;
  /** Written before all others. */
  readonly isFirst: boolean;
}

export interface PlacedName {
  readonly piece: string;
  /** With line breaks. */
  readonly words: string;
  readonly at: Point;
  readonly px: number;
}

/** A letter is about this wide against its height, and a line this high: enough to see whether a name fits. */
const GLYPH_RATIO = 0.6;
const LINE_RATIO = 1.3;
/** Places tried, in heights of the name from its best place. */
const SHIFTS = [0, -1, 1, -2, 2];

/**
 * Large pieces choose first. A name that finds no free place tries smaller letters, and is left out where these find none
 * either: nearer by, it comes back.
 * @param letters heights of letters that may be used, pixels, the largest first
 */
export function placeNames(names: readonly Named[], mmPerPx: number, letters: readonly number[]): PlacedName[] {
  const taken: Box[] = [];
  const order = names.toSorted((a, b) => Number(b.isFirst) - Number(a.isFirst) || areaOf(b.box) - areaOf(a.box));
  return order.flatMap((one): PlacedName[] => {
    for (const px of letters) {
      const words = wrapped(one, px * mmPerPx);
      for (const shift of SHIFTS) {
        const { at, box } = standing(one.at, words, px * mmPerPx, shift);
        if (taken.some((other) => boxesOverlap(box, other))) continue;
        taken.push(box);
        return [{ piece: one.piece, words, at, px }];
      }
    }
    return [];
  });
}

/** On one line where the piece is wide enough, else a word a line. */
function wrapped({ name, box: [minX, , maxX] }: Named, letterMm: number): string {
  return maxX - minX < name.length * letterMm * GLYPH_RATIO ? name.replaceAll(' ', '\n') : name;
}

function standing([x, y]: Point, words: string, letterMm: number, shift: number): { at: Point; box: Box } {
  const lines = words.split('\n');
  const widthMm = Math.max(...lines.map((line) => line.length)) * letterMm * GLYPH_RATIO;
  const heightMm = lines.length * letterMm * LINE_RATIO;
  const middle = y + shift * heightMm;
  return {
    at: [x, middle],
    box: [x - widthMm / 2, middle - heightMm / 2, x + widthMm / 2, middle + heightMm / 2],
  };
}

function areaOf([minX, minY, maxX, maxY]: Box): number {
  return (maxX - minX) * (maxY - minY);
}
