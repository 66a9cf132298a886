// The open dictionary behind the codes on the cards: the first 48 words of ARUCO_MIP_36h12, generated with mixed integer
// linear programming by S. Garrido-Jurado, R. Munoz-Salinas, F. J. Madrid-Cuevas and R. Medina-Carnicer (Pattern
// Recognition 51, 2016). Any two words differ in at least 12 of 36 bits in every rotation.
//
// The words: Copyright 2017 Rafael Munoz Salinas, all rights reserved; redistribution permitted under the BSD 2-clause
// licence (https://sourceforge.net/projects/aruco/files/3.1.12/), as carried by the package js-aruco2 2.0.0 (MIT).
// THIS DATA IS PROVIDED ''AS IS'' AND ANY EXPRESS OR IMPLIED WARRANTIES ARE DISCLAIMED.

/** Bits along one side of the code, its dark border not counted. */
export const CODE_BITS_PER_SIDE = 6;

const BIT_COUNT = CODE_BITS_PER_SIDE * CODE_BITS_PER_SIDE;

/** Bit 35 is the top left cell, then row by row; 1 is a light cell. */
const WORDS: readonly bigint[] = [
  0xd2b63a09dn,
  0x6001134e5n,
  0x1206fbe72n,
  0xff8ad6cb4n,
  0x85da9bc49n,
  0xb461afe9cn,
  0x6db51fe13n,
  0x5248c541fn,
  0x008f34503n,
  0x8ea462ecen,
  0xeac2be76dn,
  0x1af615c44n,
  0xb48a49f27n,
  0x2e4e1283bn,
  0x78b1f2fa8n,
  0x27d34f57en,
  0x89222fff1n,
  0x4c1669406n,
  0xbf49b3511n,
  0xdc191cd5dn,
  0x11d7c3f85n,
  0x16a130e35n,
  0xe29f27effn,
  0x428d8ae0cn,
  0x90d548477n,
  0x2319cbc93n,
  0xc3b0c3dfcn,
  0x0424bccc9n,
  0x2a081d630n,
  0x762743d96n,
  0xd0645bf19n,
  0xf38d7fd60n,
  0xc6cbf9a10n,
  0x3c1be7c65n,
  0x276f75e63n,
  0x4490a3f63n,
  0xda60acd52n,
  0x3cc68df59n,
  0xab46f9daen,
  0x88d533d78n,
  0xb6d62ec21n,
  0xb3c02b646n,
  0x22e56d408n,
  0xac5f5770an,
  0xaaa993f66n,
  0x4caa07c8dn,
  0x5c9b4f7b0n,
  0xaa9ef0e05n,
];

/** How many different cards there are. */
export const CODE_COUNT = WORDS.length;

/** The cells of a code, row by row from the top left; true is light. Throws for an id that does not exist. */
export function codeCells(id: number): readonly boolean[] {
  const word = WORDS[id];
  if (word === undefined) throw new Error(`there is no code ${id}`);
  return Array.from({ length: BIT_COUNT }, (_, i) => ((word >> BigInt(BIT_COUNT - 1 - i)) & 1n) === 1n);
}

/**
 * Wrong bits that are forgiven. The dictionary would allow 5 (half of its distance of 12, less one). With 4, a square
 * of random cells is taken for one of our 48 words in one of 4 turns with probability 48 x 4 x 66,712 / 2^36 = 1.9e-4;
 * its border must be dark as well and, before a card counts, at least 12 saddles of its chequer must be where the code
 * predicts them, so false cards are not a matter of this number.
 */
export const FORGIVEN_BITS = 4;

export interface DecodedCode {
  readonly id: number;
  /** Quarter turns, clockwise, by which the card is turned against the cells as read: 0-3. */
  readonly quarterTurns: number;
  readonly mirrored: boolean;
  readonly wrongBits: number;
}

/** Cells are compared as two whole numbers of this many bits. */
const HALF_BITS = BIT_COUNT / 2;

interface TableRow extends DecodedCode {
  readonly upper: number;
  readonly lower: number;
}

let table: readonly TableRow[] | undefined;

/**
 * Finds the word whose cells are nearest to what was read, in all four turns, also seen in a mirror.
 * @param cells 36 cells row by row as read; true is light
 * @returns undefined when every word is more than FORGIVEN_BITS away
 */
export function decodeCells(cells: readonly boolean[]): DecodedCode | undefined {
  table ??= buildTable();
  let best: TableRow | undefined;
  let fewest = FORGIVEN_BITS + 1;
  const upper = bitsOf(cells, 0);
  const lower = bitsOf(cells, HALF_BITS);
  for (const row of table) {
    const wrong = bitCount(row.upper ^ upper) + bitCount(row.lower ^ lower);
    if (wrong < fewest) {
      fewest = wrong;
      best = row;
    }
  }
  if (best === undefined) return undefined;
  return { id: best.id, quarterTurns: best.quarterTurns, mirrored: best.mirrored, wrongBits: fewest };
}

function bitsOf(cells: readonly boolean[], from: number): number {
  let bits = 0;
  for (let i = from; i < from + HALF_BITS; i++) bits = 2 * bits + (cells[i] === true ? 1 : 0);
  return bits;
}

function bitCount(bits: number): number {
  let count = 0;
  for (let left = bits; left !== 0; left &= left - 1) count++;
  return count;
}

function buildTable(): readonly TableRow[] {
  const rows: TableRow[] = [];
  for (let id = 0; id < CODE_COUNT; id++) {
    for (const mirrored of [false, true]) {
      let cells = mirrored ? mirroredCells(codeCells(id)) : codeCells(id);
      for (let quarterTurns = 0; quarterTurns < 4; quarterTurns++) {
        rows.push({
          id,
          quarterTurns,
          mirrored,
          wrongBits: 0,
          upper: bitsOf(cells, 0),
          lower: bitsOf(cells, HALF_BITS),
        });
        cells = turnedCells(cells);
      }
    }
  }
  return rows;
}

/** A quarter turn clockwise. */
function turnedCells(cells: readonly boolean[]): boolean[] {
  const n = CODE_BITS_PER_SIDE;
  return cells.map((_, i) => cells[(n - 1 - (i % n)) * n + Math.floor(i / n)]!);
}

/** Left and right exchanged. */
function mirroredCells(cells: readonly boolean[]): boolean[] {
  const n = CODE_BITS_PER_SIDE;
  return cells.map((_, i) => cells[Math.floor(i / n) * n + (n - 1 - (i % n))]!);
}
