import { describe, expect, it } from 'vitest';
import { calls } from '../../../../shared/contract/contract.ts';
import { readSetDocument } from '../../../../shared/formats/set/read.ts';
import { setDocument } from '../../../../shared/formats/set/write.ts';
import type { PatternSet } from '../../../../shared/pattern/model.ts';
import { verify } from '../../../../shared/usecases/verify.ts';
import { idealSetAfterFitting } from '../../../photos/marl/idealSet.ts';
import { lengthOf, seamTraced } from '../../../support/alterSets.ts';
import { testHost } from '../../../support/testHost.ts';

const { handlers } = await testHost();

function modelOf(document: unknown): PatternSet {
  const read = readSetDocument('set', document);
  if (!read.ok) throw new Error(read.error.sentence);
  return read.value.set;
}

describe('remedies for the window', () => {
  const set = setDocument(idealSetAfterFitting());
  const { rule, subjects } = verify(idealSetAfterFitting()).findings.findings.find((f) => f.rule === 'cap-ease')!;
  const finding = { rule, subjects: subjects.map((subject) => ({ ...subject })) };

  it('are listed for a finding, previewed and applied: the set with the step in its history', async () => {
    const listed = await handlers['remedies.list']({ set, finding });
    if (!listed.ok) throw new Error(listed.error.sentence);
    calls['remedies.list'].value.parse(listed.value);
    const [first] = listed.value.offers;
    expect(first).toMatchObject({ id: 'even-cap', changed: [{ piece: 'sleeve', size: 'M' }] });
    const applied = await handlers['remedies.apply']({ set, remedy: { id: first!.id, params: first!.params } });
    if (!applied.ok) throw new Error(applied.error.sentence);
    calls['remedies.apply'].value.parse(applied.value);
    const mended = modelOf(applied.value.set);
    expect(mended.history.at(-1)!.sentence).toBe(applied.value.sentence);
    expect(verify(mended).findings.findings.filter((f) => f.rule === 'cap-ease' && f.verdict === 'fault')).toEqual([]);
  });

  it('a set or a remedy that does not hold together is a sentence', async () => {
    expect(await handlers['remedies.list']({ set: { format: 'notchwise-set/1' }, finding })).toMatchObject({
      ok: false,
    });
    expect(await handlers['remedies.apply']({ set, remedy: { id: 'iron', params: {} } })).toMatchObject({
      error: { code: 'unknown-remedy' },
    });
  });
});

describe('changes for the window', () => {
  const set = setDocument(seamTraced());

  it('are listed with a field for each amount', async () => {
    const listed = await handlers['changes.list']({});
    if (!listed.ok) throw new Error(listed.error.sentence);
    calls['changes.list'].value.parse(listed.value);
    const depth = listed.value.changes.find(({ id }) => id === 'armhole-depth');
    expect(depth).toMatchObject({ kind: 'alteration', params: [{ name: 'byMm', unit: 'mm' }] });
  });

  it('are applied by amount: what follows is named, and carried when asked', async () => {
    const change = { id: 'armhole-depth', params: { byMm: 12.7 } };
    const ask = async (carry: boolean) => {
      const reply = await handlers['changes.apply']({ set, change, pieces: null, sizes: null, carry });
      if (!reply.ok) throw new Error(reply.error.sentence);
      return calls['changes.apply'].value.parse(reply.value);
    };
    const alone = await ask(false);
    expect(alone).toMatchObject({ followers: [{ seam: 'sleeve-cap' }], left: [{ seam: 'sleeve-cap', reason: null }] });
    const carried = await ask(true);
    expect(carried.left).toEqual([]);
    expect(carried.changed).toContainEqual({ piece: 'sleeve', size: 'M' });
    const gain = lengthOf(modelOf(carried.set), 'sleeve', 'cap') - lengthOf(seamTraced(), 'sleeve', 'cap');
    expect(gain).toBeCloseTo(19.71, 1);
    expect(
      await handlers['changes.apply']({
        set,
        change: { id: 'x', params: {} },
        pieces: null,
        sizes: null,
        carry: false,
      }),
    ).toMatchObject({ error: { code: 'unknown-change' } });
  });
});
