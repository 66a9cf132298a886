// Words of the trade by which edges are known: which of them name a centre or what is left open there.
import { describe, expect, it } from 'vitest';
import { isCentreName } from '../../../shared/pattern/kinds.ts';
import { sortSeam } from '../../../shared/pattern/seamSort.ts';
import { e, piece, seam, setOf } from '../../support/sets.ts';

describe('edges at the centre or left open (common practice, no source)', () => {
  it.each(['centre front', 'CF', 'Center back', 'zip', 'CB zip', 'placket', 'sleeve placket', 'back opening'])(
    'knows "%s"',
    (label) => expect(isCentreName(label)).toBe(true),
  );

  it.each(['side', 'pocket zip', 'pocket opening', 'hand opening', 'neck', 'hip'])(
    'does not take "%s" for one',
    (label) => expect(isCentreName(label)).toBe(false),
  );
});

it('takes a raglan seam for no cap, whichever of its halves is named (common practice, no source)', () => {
  const set = setOf(
    [
      piece('front', 'front bodice', { top: [e('raglan front', 300)] }),
      piece('sleeve', 'sleeve', { top: [e('raglan front', 300)] }),
    ],
    [seam('raglan', 'front.raglan front', 'sleeve.raglan front')],
  );
  expect(sortSeam(set, set.seams[0]!).sort).toBe('plain');
});
