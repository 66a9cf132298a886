// The words on the cards and how they are read back.
import { describe, expect, test } from 'vitest';
import { CODE_COUNT, codeCells, decodeCells, FORGIVEN_BITS } from '../../../../shared/vision/cards/dictionary.ts';

/** A quarter turn clockwise of a 6 x 6 grid, written out on its own: the cell at (c, r) comes from (r, 5 - c). */
function turned(cells: readonly boolean[]): boolean[] {
  const out: boolean[] = [];
  for (let r = 0; r < 6; r++) for (let c = 0; c < 6; c++) out.push(cells[(5 - c) * 6 + r]!);
  return out;
}

function mirrored(cells: readonly boolean[]): boolean[] {
  const out: boolean[] = [];
  for (let r = 0; r < 6; r++) for (let c = 0; c < 6; c++) out.push(cells[r * 6 + 5 - c]!);
  return out;
}

function distance(a: readonly boolean[], b: readonly boolean[]): number {
  return a.filter((cell, i) => cell !== b[i]).length;
}

describe('the dictionary', () => {
  test('keeps any two of our words at least 12 bits apart in every turn, as its makers state', () => {
    let nearest = 36;
    for (let a = 0; a < CODE_COUNT; a++) {
      for (let b = a; b < CODE_COUNT; b++) {
        let cells = [...codeCells(b)];
        for (let turns = 0; turns < 4; turns++) {
          if (a !== b || turns > 0) nearest = Math.min(nearest, distance(codeCells(a), cells));
          cells = turned(cells);
        }
      }
    }
    expect(nearest).toBeGreaterThanOrEqual(12);
  });

  test('leaves no doubt between a word and another word seen in a mirror', () => {
    let nearest = 36;
    for (let a = 0; a < CODE_COUNT; a++) {
      for (let b = 0; b < CODE_COUNT; b++) {
        let cells = mirrored(codeCells(b));
        for (let turns = 0; turns < 4; turns++) {
          nearest = Math.min(nearest, distance(codeCells(a), cells));
          cells = turned(cells);
        }
      }
    }
    expect(nearest).toBeGreaterThan(FORGIVEN_BITS);
  });

  test('tells every word, turn and mirror image', () => {
    for (let id = 0; id < CODE_COUNT; id++) {
      for (const isMirrored of [false, true]) {
        let cells = isMirrored ? mirrored(codeCells(id)) : [...codeCells(id)];
        for (let quarterTurns = 0; quarterTurns < 4; quarterTurns++) {
          expect(decodeCells(cells)).toEqual({ id, quarterTurns, mirrored: isMirrored, wrongBits: 0 });
          cells = turned(cells);
        }
      }
    }
  });

  test('forgives four wrong bits and refuses five', () => {
    const flip = (count: number) => codeCells(9).map((cell, i) => (i * 7 < count * 7 ? !cell : cell));
    expect(decodeCells(flip(4))).toMatchObject({ id: 9, wrongBits: 4 });
    expect(decodeCells(flip(5))).toBeUndefined();
  });

  test('refuses plain white, plain black and a chequer', () => {
    expect(decodeCells(new Array(36).fill(true))).toBeUndefined();
    expect(decodeCells(new Array(36).fill(false))).toBeUndefined();
    expect(decodeCells(Array.from({ length: 36 }, (_, i) => (i + Math.floor(i / 6)) % 2 === 0))).toBeUndefined();
  });
});
