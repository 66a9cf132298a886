// Children's sleepwear is subject to rules on how it burns and how close it fits, which this program names and does not test.
import { SLEEPWEAR_RULES } from '../../limits/childSafety.ts';
import { childSign } from '../parts/childSet.ts';
import { defineRule } from '../rule.ts';
import { SET_WITH_PIECES, type WHOLE_SET } from '../subjects.ts';

interface Data {
  readonly sign: string;
  readonly garment: string;
}

export const childSleepwear = defineRule<typeof WHOLE_SET, Data>({
  id: 'child-sleepwear',
  title: 'Sleepwear for a child',
  why: 'Loose nightclothes burn fast, so some countries ask children’s sleepwear to resist flame or to fit closely to stated widths. A pattern says nothing about the cloth. This program names the rules; it tests none of them and vouches for nothing.',
  source: '16 CFR 1615 and 1616; read the text that is in force',
  messages: {
    sleepwear: (d) =>
      `By ${d.sign} this set is for a child, and by "${d.garment}" it is worn to bed. Rules exist: ${SLEEPWEAR_RULES}. This program does not test for them; read them before you choose cloth and ease.`,
    otherWear: (d) => `By ${d.sign} this set is for a child; nothing says that it is worn to bed.`,
    noChild: () => 'Nothing says that this set is for a child.',
  },
  subjects: SET_WITH_PIECES,
  judge: (_, context) => {
    const { set } = context;
    const sign = context.once(childSign, null);
    if (sign === null)
      return [{ verdict: 'not-applicable', key: 'noChild', data: { sign: '', garment: '' }, subjects: [] }];
    const piece = set.pieces.find(({ name }) => SLEEPWEAR.test(name));
    const garment = SLEEPWEAR.test(set.name) ? set.name : piece?.name;
    if (garment === undefined)
      return [{ verdict: 'not-applicable', key: 'otherWear', data: { sign, garment: '' }, subjects: [] }];
    return [
      {
        verdict: 'unsure',
        reason: 'not-said',
        key: 'sleepwear',
        data: { sign, garment },
        subjects: piece === undefined ? [] : [{ piece: piece.id }],
        remedies: [
          { grade: 'choice', sentence: 'Read the rules for the age and the place before you choose the cloth.' },
        ],
      },
    ];
  },
});

const SLEEPWEAR =
  /\b(sleep\s?wear|sleep\s?suits?|pyjamas?|pajamas?|night\s?(dress(es)?|gowns?|shirts?|clothes|wear)|dressing gowns?|bath\s?robes?|robes?)\b/i;
