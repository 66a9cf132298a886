// Takes a patterned table apart into its few colours: checks, dots, stripes. Plain, grained and shaded tables stay one.
import { away, type Colour } from '../colour.ts';

const MOST_KINDS = 3;
const ROUNDS = 6;
/** Two colours are told apart when they lie further from one another than this share of the nearer one's way to the paper. */
const APART_RATIO = 0.5;
/** Rarer colours are specks. */
const LEAST_SHARE = 0.06;
/** A new colour is founded by the block at this place in the order of oddness: a single odd block founds none. */
const FOUNDER_QUANTILE = 0.98;

/**
 * @param colour R, G and B planes by block
 * @param table 1 on blocks of table beside the piece
 * @param paper 1 on blocks of the piece
 * @returns for every colour of the table a mask of its blocks; all of them in one mask when the table is of one colour
 */
export function colourKinds(colour: readonly Float32Array[], table: Uint8Array, paper: Uint8Array): Uint8Array[] {
  const rows: number[] = [];
  for (let i = 0; i < table.length; i++) if (table[i] === 1) rows.push(i);
  const at = (i: number): Colour => [colour[0]![i]!, colour[1]![i]!, colour[2]![i]!];
  const paperRows: number[] = [];
  for (let i = 0; i < paper.length; i++) if (paper[i] === 1) paperRows.push(i);
  if (rows.length === 0 || paperRows.length === 0) return [table];
  const white = meanOf(paperRows, at);
  let centres: Colour[] = [meanOf(rows, at)];
  while (centres.length < MOST_KINDS) centres.push(at(farthest(rows, at, centres)));
  let members: number[][] = [];
  for (let round = 0; round < ROUNDS; round++) {
    members = centres.map(() => []);
    for (const row of rows) members[nearest(at(row), centres)]!.push(row);
    members = members.filter((group) => group.length >= LEAST_SHARE * rows.length);
    centres = members.map((group) => meanOf(group, at));
  }
  return merged(members, at, white).map((group) => {
    const mask = new Uint8Array(table.length);
    for (const row of group) mask[row] = 1;
    return mask;
  });
}

/** Groups whose colours are hardly different put together, the nearest first. */
function merged(groups: readonly (readonly number[])[], at: (row: number) => Colour, white: Colour): number[][] {
  const left = groups.map((group) => [...group]);
  for (;;) {
    const centres = left.map((group) => meanOf(group, at));
    let nearest: { readonly i: number; readonly j: number; readonly way: number } | null = null;
    for (let i = 0; i < left.length; i++) {
      for (let j = i + 1; j < left.length; j++) {
        const way = away(centres[i]!, centres[j]!);
        if (!areApart(centres[i]!, centres[j]!, white) && (nearest === null || way < nearest.way))
          nearest = { i, j, way };
      }
    }
    if (nearest === null) return left;
    left[nearest.i] = left[nearest.i]!.concat(left[nearest.j]!);
    left.splice(nearest.j, 1);
  }
}

function areApart(a: Colour, b: Colour, white: Colour): boolean {
  return away(a, b) > APART_RATIO * Math.min(away(a, white), away(b, white));
}

function meanOf(rows: readonly number[], at: (row: number) => Colour): Colour {
  const mean: [number, number, number] = [0, 0, 0];
  for (const row of rows) {
    const value = at(row);
    for (let c = 0; c < 3; c++) mean[c]! += value[c]! / rows.length;
  }
  return mean;
}

/** The row that lies farthest from its nearest centre, single odd ones left out. */
function farthest(rows: readonly number[], at: (row: number) => Colour, centres: readonly Colour[]): number {
  const ways = rows.map((row) => ({ row, way: Math.min(...centres.map((centre) => away(at(row), centre))) }));
  ways.sort((a, b) => a.way - b.way);
  return ways[Math.floor(FOUNDER_QUANTILE * (ways.length - 1))]!.row;
}

function nearest(value: Colour, centres: readonly Colour[]): number {
  let best = 0;
  for (let k = 1; k < centres.length; k++) if (away(value, centres[k]!) < away(value, centres[best]!)) best = k;
  return best;
}
