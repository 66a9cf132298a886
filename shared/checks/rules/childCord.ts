// Cords on children's clothes are subject to rules that this program names and does not test.
import { CORD_RULES } from '../../limits/childSafety.ts';
import type { Piece } from '../../pattern/model.ts';
import { childSign } from '../parts/childSet.ts';
import { defineRule } from '../rule.ts';
import { SET_WITH_PIECES, type WHOLE_SET } from '../subjects.ts';

interface Data {
  readonly sign: string;
  readonly pieces: readonly string[];
}

export const childCord = defineRule<typeof WHOLE_SET, Data>({
  id: 'child-cord',
  title: 'A cord on clothes for a child',
  why: 'Cords at hood, neck and hem of children’s clothes have caught in slides, doors and vehicles. Rules exist that say where none may be and how long others may hang. This program names them; it tests none of them and vouches for nothing.',
  source: '16 CFR 1120; EN 14682; read the text that is in force',
  messages: {
    cord: (d) =>
      `By ${d.sign} this set is for a child, and ${d.pieces.join(', ')} ${d.pieces.length === 1 ? 'looks' : 'look'} like a cord, tie or belt. Rules exist: ${CORD_RULES}. This program does not test for them; read them before you sew.`,
    noCord: (d) =>
      `By ${d.sign} this set is for a child; no piece is named as a cord or tie. Cords that are not pieces of the pattern are not seen.`,
    noChild: () => 'Nothing says that this set is for a child.',
  },
  subjects: SET_WITH_PIECES,
  judge: (_, context) => {
    const { set } = context;
    const sign = context.once(childSign, null);
    if (sign === null)
      return [{ verdict: 'not-applicable', key: 'noChild', data: { sign: '', pieces: [] }, subjects: [] }];
    const cords = set.pieces.filter(isCord);
    const data = { sign, pieces: cords.map(({ name }) => name) };
    if (cords.length === 0) return [{ verdict: 'not-applicable', key: 'noCord', data, subjects: [] }];
    return [
      {
        verdict: 'unsure',
        reason: 'not-said',
        key: 'cord',
        data,
        subjects: cords.map(({ id }) => ({ piece: id })),
        remedies: [
          {
            grade: 'choice',
            sentence: 'Read the rules for the age and the place, or close the garment without a cord.',
          },
        ],
      },
    ];
  },
});

const CORD = /\b(draw\s?strings?|draw\s?cords?|cords?|strings?|ties?|laces?|ribbons?|sash(es)?|belts?)\b/i;

function isCord({ name }: Piece): boolean {
  return CORD.test(name);
}
