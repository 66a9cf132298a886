// What a window asks about fit, over the contract: every answer is what the contract promises.
import { describe, expect, it } from 'vitest';
import { type CallName, calls } from '../../../../shared/contract/contract.ts';
import { setDocument } from '../../../../shared/formats/set/write.ts';
import { idealSet } from '../../../photos/marl/idealSet.ts';
import { testHost } from '../../../support/testHost.ts';

const MARL = setDocument(idealSet('as designed'));

async function asked() {
  const { handlers } = await testHost();
  return async (name: CallName, args: unknown) => {
    const parsed = calls[name].args.parse(args);
    const reply = await (handlers[name] as (args: unknown) => Promise<{ ok: boolean; value: unknown; error: unknown }>)(
      parsed,
    );
    return reply.ok ? (calls[name].value.parse(reply.value) as Record<string, unknown>) : reply.error;
  };
}

describe('the requests of fit', () => {
  it('name the measures and the published tables', async () => {
    const names = await (await asked())('fit.names', {});
    expect(names).toMatchObject({ classes: expect.arrayContaining(['fitted']) });
    expect((names as { measures: { name: string }[] }).measures.map(({ name }) => name)).toContain('back length');
    expect((names as { tables: { id: string }[] }).tables.map(({ id }) => id)).toContain('us-paper-misses');
  });

  it('read the table of fit, with the lines on the pieces', async () => {
    const fit = await (await asked())('fit.read', { set: MARL });
    expect(fit).toMatchObject({
      size: 'M',
      body: { name: 'M' },
      bodies: [{ name: 'M', measuresMm: { bust: 920, waist: 760 } }],
      findings: [{ rule: 'ease-short', verdict: 'clear' }, { rule: 'ease-short' }],
      advice: { start: 'M', differing: [] },
    });
    const { lines } = fit as { lines: { measure: string; lines: { kind: string }[] }[] };
    expect(lines.find(({ measure }) => measure === 'bust')!.lines.map(({ kind }) => kind)).toEqual([
      'segment',
      'segment',
    ]);
    expect(lines.find(({ measure }) => measure === 'waist')!.lines[0]!.kind).toBe('edge');
  });

  it('change bodies, take tables over and set the cloth, each with its sentence and a new set', async () => {
    const ask = await asked();
    const one = (await ask('fit.setBody', {
      set: MARL,
      body: { name: 'Ines', measuresMm: { bust: 990 }, size: 'M', wanted: 'fitted' },
    })) as { set: unknown; sentence: string };
    expect(one.sentence).toBe('Body "Ines": bust 990 mm, size M, to fit fitted.');
    const fit = await ask('fit.read', { set: one.set, body: 'Ines' });
    expect(fit).toMatchObject({ findings: [{ rule: 'ease-short' }] });
    const bytes = new TextEncoder().encode('size (cm),bust\nM,93\nL,97\n');
    const two = (await ask('fit.importTable', {
      set: one.set,
      from: { kind: 'given', files: [{ name: 'class.csv', bytes }] },
    })) as { set: unknown; sentence: string };
    expect(two.sentence).toBe('2 bodies from class.csv: M, L.');
    const three = (await ask('fit.useTable', { set: two.set, table: 'us-paper-misses', columns: { S: '10' } })) as {
      set: unknown;
    };
    const four = (await ask('fit.setFabric', { set: three.set, widthMm: 1400 })) as { set: unknown };
    const five = (await ask('fit.removeBody', { set: four.set, name: 'L' })) as { set: Record<string, unknown> };
    expect(five.set).toMatchObject({
      fabric: { widthMm: 1400 },
      bodies: [{ name: 'M' }, { name: 'Ines', wanted: 'fitted' }, { name: 'S' }],
      history: [
        { what: 'body:set' },
        { what: 'body:table' },
        { what: 'body:table' },
        { what: 'fabric:width' },
        { what: 'body:remove' },
      ],
    });
  });

  it('answer with a sentence when it cannot be done', async () => {
    const ask = await asked();
    expect(await ask('fit.setBody', { set: MARL, body: { name: 'Ines', measuresMm: { span: 9 } } })).toMatchObject({
      code: 'unknown-measure',
    });
    expect(await ask('fit.removeBody', { set: MARL, name: 'Kim' })).toMatchObject({ code: 'no-body' });
    expect(await ask('fit.importTable', { set: MARL, from: { kind: 'pick' } })).toMatchObject({ code: 'no-dialogs' });
    expect(await ask('fit.read', { set: { ...MARL, sizes: 3 } })).toMatchObject({ code: expect.any(String) });
  });
});
