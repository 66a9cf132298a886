// A size in which most pieces were traced and some were not. A size that has only been begun is left alone.
import { SIZE_MISSING } from '../../limits/grading.ts';
import { isBodice, isSkirt, isSleeve, isTrouser } from '../../pattern/kinds.ts';
import type { Piece, Size } from '../../pattern/model.ts';
import { defineRule } from '../rule.ts';
import { inSet } from '../subjects.ts';

interface Data {
  readonly size: Size;
  readonly missing: string;
  readonly have: number;
  readonly all: number;
}

export const sizeMissing = defineRule<Size, Data>({
  id: 'size-missing',
  title: 'A piece was not traced in a size in which the others were',
  why: 'A set that is cut in one size needs every piece in that size. The piece that was traced last time and taken for granted is the one that is missing at the cutting table, and the nearest size does not fit the others.',
  source: SIZE_MISSING.source,
  messages: {
    whole: (d) => `Size ${d.size} has all of its ${d.all} pieces.`,
    missing: (d) => `Size ${d.size} lacks ${d.missing}; the other ${d.have} pieces were traced in it.`,
    oneForAll: (d) =>
      `Size ${d.size} lacks only small pieces (${d.missing}), which are often cut alike in all sizes: say so, or trace them.`,
    begun: (d) => `Size ${d.size} has been begun: ${d.have} of ${d.all} pieces were traced in it.`,
  },
  subjects: inSet(({ sizes }) => (sizes.length < 2 ? [] : sizes)),
  judge: (size, { set }) => {
    const pieces = set.pieces.filter((piece) => Object.keys(piece.shapes).length > 0);
    const lacking = pieces.filter((piece) => piece.shapes[size] === undefined);
    const all = pieces.length;
    const have = all - lacking.length;
    const rest = {
      data: { size, missing: lacking.map(({ name }) => name).join(', '), have, all },
      subjects: [{ size }, ...lacking.map(({ id }) => ({ piece: id, size }))],
    } as const;
    if (lacking.length === 0) return [{ verdict: 'clear', key: 'whole', ...rest }];
    if (have < SIZE_MISSING.begunBelowRatio * all) return [{ verdict: 'not-applicable', key: 'begun', ...rest }];
    const main = lacking.filter(isMain);
    if (main.length === 0 && lacking.every((piece) => Object.keys(piece.shapes).length === 1))
      return [{ verdict: 'unsure', reason: 'not-said', key: 'oneForAll', ...rest }];
    return [
      {
        verdict: 'fault',
        gravity: main.length > 0 ? 'mend' : 'look',
        key: 'missing',
        ...rest,
        remedies: [{ grade: 'choice', sentence: `Trace ${rest.data.missing} in size ${size} as well.` }],
      },
    ];
  },
});

function isMain({ kind }: Piece): boolean {
  return isBodice(kind) || isSleeve(kind) || isSkirt(kind) || isTrouser(kind);
}
