// Bodies and cloth of a set, changed by the person and recorded; and the table of fit that is made of them.
import { describe, expect, it } from 'vitest';
import type { Result } from '../../../shared/base/result.ts';
import { readSetDocument } from '../../../shared/formats/set/read.ts';
import { setDocument } from '../../../shared/formats/set/write.ts';
import { importBodies, removeBody, setBody, setFabric, usePublishedTable } from '../../../shared/usecases/bodies.ts';
import { fitReport } from '../../../shared/usecases/fitReport.ts';
import { idealSet } from '../../photos/marl/idealSet.ts';
import { body, forBody, princessTop, top } from '../../support/fitSets.ts';

const MARL = idealSet('as designed');

function value<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.error.sentence);
  return result.value;
}

function sentence(result: Result<unknown>): string {
  if (result.ok) throw new Error('it was accepted');
  return result.error.sentence;
}

describe('the bodies of a set', () => {
  it('are added and changed measure by measure, and the history tells how', () => {
    const first = value(setBody(MARL, { name: 'Ines', measuresMm: { Chest: 905, hips: 985 }, size: 'M' }));
    const second = value(setBody(first, { name: 'Ines', measuresMm: { bust: 910, hip: null }, wanted: 'fitted' }));
    expect(second.bodies).toEqual([
      ...MARL.bodies,
      { name: 'Ines', measuresMm: { bust: 910 }, size: 'M', wanted: 'fitted' },
    ]);
    expect(second.history.map((step) => step.sentence)).toEqual([
      'Body "Ines": bust 905 mm, hip 985 mm, size M.',
      'Body "Ines": bust 910 mm, hip taken away, to fit fitted.',
    ]);
    expect(second.history[0]!.params).toEqual({ name: 'Ines', bust: 905, hip: 985, size: 'M' });
    expect(value(setBody(second, { name: 'Ines', measuresMm: {}, size: null, wanted: null })).bodies.at(-1)).toEqual({
      name: 'Ines',
      measuresMm: { bust: 910 },
    });
  });

  it('survive writing and reading, with size, wish and cloth', () => {
    const set = value(setFabric(value(setBody(MARL, { name: 'Ines', measuresMm: { bust: 905 }, size: 'M' })), 1400));
    expect(value(readSetDocument('set', JSON.parse(JSON.stringify(setDocument(set))))).set).toEqual(set);
  });

  it('are refused with a sentence when they cannot be', () => {
    expect(sentence(setBody(MARL, { name: 'Ines', measuresMm: { wingspan: 1600 } }))).toMatch(
      /"wingspan" is no measure/,
    );
    expect(sentence(setBody(MARL, { name: 'Ines', measuresMm: { bust: 92 } }))).toMatch(/would be 92 mm; say the unit/);
    expect(sentence(setBody(MARL, { name: ' ', measuresMm: {} }))).toMatch(/needs a name/);
    expect(sentence(setBody(MARL, { name: 'Ines', measuresMm: {}, size: 'XXL' }))).toMatch(/no size "XXL"/);
    expect(sentence(removeBody(MARL, 'Kim'))).toBe('The set has no body "Kim"; it has "M".');
    expect(sentence(setFabric(MARL, 14))).toMatch(/too narrow/);
  });

  it('come from a table of the person, replacing those of the same name', () => {
    const { set, sentence: told } = value(importBodies(MARL, 'class.csv', 'size (cm),bust,hip\nM,93,99\nL,97,103\n'));
    expect(set.bodies).toEqual([
      { name: 'M', measuresMm: { bust: 930, hip: 990 } },
      { name: 'L', measuresMm: { bust: 970, hip: 1030 } },
    ]);
    expect(told).toBe('2 bodies from class.csv: M, L.');
    expect(set.history.at(-1)!.what).toBe('body:table');
  });

  it('come from a published table for the sizes that are named', () => {
    const { set } = value(usePublishedTable(MARL, 'us-paper-misses', { M: '14' }));
    expect(set.bodies[0]!.measuresMm.bust).toBeCloseTo(914.4, 6);
    expect(set.history.at(-1)!.params.source).toMatch(/sewingscholar/);
    expect(sentence(usePublishedTable(MARL, 'us-paper-misses', null))).toMatch(/say which is which/);
    expect(sentence(usePublishedTable(MARL, 'us-paper-misses', { M: '15' }))).toMatch(/no size "15"/);
    expect(sentence(usePublishedTable(MARL, 'us-paper-misses', { XL: '14' }))).toMatch(/no size "XL"/);
    expect(sentence(usePublishedTable(MARL, 'atlas', null))).toMatch(/possible are d5585-curvy/);
  });

  it('lose one that is taken away, and the cloth its width', () => {
    expect(value(removeBody(MARL, 'M')).bodies).toEqual([]);
    const cloth = value(setFabric(MARL, 1400));
    expect(cloth.fabric).toEqual({ widthMm: 1400 });
    const again = value(setFabric(cloth, null));
    expect('fabric' in again).toBe(false);
    expect(again.history.map((step) => step.what)).toEqual(['fabric:width', 'fabric:width']);
  });
});

describe('the table of fit', () => {
  it('shows finished and body measures with ease, half and class', () => {
    const report = value(fitReport(MARL, { body: null, size: null }));
    expect(report).toMatchObject({ format: 'notchwise-fit/1', size: 'M', body: { name: 'M' } });
    const bust = report.lines.find(({ measure }) => measure === 'bust')!;
    expect(bust.finished!.valueMm).toBeCloseTo(992, 6);
    expect(bust).toMatchObject({ bodyMm: 920, leastEaseMm: 38.1, fitClass: 'close', problem: null });
    expect([bust.halfMm, bust.easeMm]).toEqual([expect.closeTo(496, 6), expect.closeTo(72, 6)]);
    expect(bust.lines).toHaveLength(2);
    expect(report.lines.find(({ measure }) => measure === 'thigh')).toBeUndefined();
    expect(report.findings.map(({ rule, verdict }) => `${verdict} ${rule}`)).toEqual([
      'clear ease-short',
      'clear ease-short',
    ]);
  });

  it('says why a measure could not be taken', () => {
    const set = forBody(princessTop({ quarterMm: 240 }, 100, 'not planned'), body({ bust: 900 }));
    const [bust] = value(fitReport(set, { body: null, size: null })).lines;
    expect(bust).toMatchObject({ measure: 'bust', finished: null });
    expect(bust!.problem).toMatch(/no seam says what continues at the edge "princess"/);
  });

  it('judges a body that is not in the set, and prefers the person to the body of the size', () => {
    const other = body({ bust: 980 }, { name: 'Kim' });
    const report = value(fitReport(MARL, { body: other, size: 'M' }));
    expect(report.findings.filter(({ verdict }) => verdict === 'fault').map(({ rule }) => rule)).toEqual([
      'ease-short',
    ]);
    const both = { ...MARL, bodies: [...MARL.bodies, other] };
    expect(value(fitReport(both, { body: null, size: null })).body!.name).toBe('Kim');
    expect(value(fitReport(both, { body: 'M', size: null })).body!.name).toBe('M');
  });

  it('advises where to start, in one sentence', () => {
    const sizes = [
      { name: 'S', measuresMm: { bust: 880, waist: 720, hip: 950 } },
      { name: 'M', measuresMm: { bust: 920, waist: 760, hip: 990 } },
      { name: 'L', measuresMm: { bust: 960, waist: 800, hip: 1030 } },
    ];
    const set = { ...MARL, bodies: sizes };
    const told = (measuresMm: Record<string, number>) =>
      value(fitReport(set, { body: body(measuresMm, { size: 'M' }), size: null })).advice!.sentence;
    expect(told({ bust: 915, waist: 765 })).toBe('Start from size M (bust M, waist M).');
    expect(told({ bust: 885, waist: 765, hip: 1060 })).toBe(
      'By region: bust S, waist M, hip L. Start from size S, which suits the bust, and run over to size M at the waist and size L at the hip. The hip of 1060 mm is larger than every size.',
    );
  });

  it('is refused with a sentence where nothing was traced', () => {
    const plan = { ...MARL, pieces: MARL.pieces.map((p) => ({ ...p, shapes: {} })) };
    expect(sentence(fitReport(plan, { body: null, size: null }))).toMatch(/No piece of this set was traced/);
    expect(sentence(fitReport(MARL, { body: 'Kim', size: null }))).toMatch(/no body "Kim"/);
    expect(sentence(fitReport(MARL, { body: null, size: 'L' }))).toBe('Size "L" was not traced; the set has M.');
    const large = forBody({ ...top({ quarterMm: 215 }), sizes: ['M', 'L'] }, body({ bust: 920 }, { size: 'L' }));
    expect(sentence(fitReport(large, { body: 'Ines', size: null }))).toBe('Size "L" was not traced; the set has M.');
  });
});
