// notchwise fit: the table, bodies typed in and taken from tables, and what is written.
import { describe, expect, it } from 'vitest';
import { readSetFile } from '../../../../shared/formats/set/read.ts';
import { setDocument } from '../../../../shared/formats/set/write.ts';
import { packSet } from '../../../../shared/usecases/archive.ts';
import { idealSet } from '../../../photos/marl/idealSet.ts';
import { cli } from '../../../support/testCli.ts';

const MARL = idealSet('as designed');
const files = {
  'marl.json': JSON.stringify(setDocument(MARL)),
  'marl.notchwise': packSet({ set: MARL, pictures: new Map() }, new Date(2026, 10, 25)),
  'class.csv': 'size (cm),bust,waist,hip\nS,88,72,95\nM,92,76,99\nL,96,80,103\n',
  'kim.json': JSON.stringify({ unit: 'cm', bodies: { Kim: { bust: 99 } } }),
};

describe('fit', () => {
  it('prints finished and body measures level by level', async () => {
    const { exit, out } = await cli(['fit', 'marl.json'], { files });
    expect(exit).toBe(0);
    expect(out[0]).toBe('Size M on "M":');
    expect(out.join('\n')).toMatch(
      /bust {12}992 ± 1\.1 mm \(half 496 mm\); bust 920 mm: ease 72 mm, close, 38\.1 mm or more is usual/,
    );
    expect(out.join('\n')).toMatch(/neck opening {4}417\.5 ± 0\.\d mm \(half 208\.7 mm\), undone 1051\.7 mm/);
    expect(out.at(-1)).toMatch(/^Start from size M/);
  });

  it('types measures in, writes the set back with its history, and judges them', async () => {
    const argv = ['fit', 'marl.notchwise', '--body', 'Ines', '--set', 'bust=39 1/2in, waist=76cm,head=560', '--json'];
    const { exit, out, err, disk } = await cli(argv, { files });
    expect(exit).toBe(0);
    const report = JSON.parse(out[0]!);
    expect(report).toMatchObject({ format: 'notchwise-fit/1', body: { name: 'Ines' }, size: 'M' });
    const faults = report.findings.filter(({ verdict }: { verdict: string }) => verdict === 'fault');
    expect(faults).toMatchObject([{ rule: 'ease-short', gravity: 'mend' }]);
    expect(err).toEqual(['Body "Ines": bust 1003.3 mm, waist 760 mm, head 560 mm.', 'The set is in marl.notchwise.']);
    const read = readSetFile('m', disk.files.get('/home/marl.notchwise')!);
    if (!read.ok) throw new Error(read.error.sentence);
    expect(read.value.set.bodies.at(-1)).toEqual({
      name: 'Ines',
      measuresMm: { bust: expect.closeTo(1003.3, 6), waist: 760, head: 560 },
    });
    expect(read.value.set.history.at(-1)!.what).toBe('body:set');
    const checked = await cli(['check', 'marl.notchwise'], { disk });
    expect(checked.exit).toBe(1);
    expect(checked.out.join('\n')).toMatch(/mend {3}Size M for "Ines", bust: .*\[ease-short\]/);
  });

  it('takes the bodies of the sizes from a table and says which size to start from', async () => {
    const argv = ['fit', 'marl.json', '--table', 'class.csv', '--out', 'b.notchwise', '--body', 'us-paper-misses:12'];
    const { exit, out, err } = await cli(argv, { files });
    expect(exit).toBe(0);
    expect(err).toEqual(['3 bodies from class.csv: S, M, L.', 'The set is in b.notchwise.']);
    expect(out.at(-1)).toBe(
      'Start from size S (bust S, waist S, hip S). The waist of 673.1 mm is smaller than every size. The hip of 914.4 mm is smaller than every size.',
    );
  });

  it('reads a body from a file, wishes, takes away, and knows the cloth', async () => {
    const kim = await cli(['fit', 'marl.json', '--body', 'kim.json'], { files });
    expect(kim.out.join('\n')).toMatch(/Size M on "Kim":[\s\S]*look {3}.*only 2 ± 1\.1 mm of wearing ease|unsure/);
    const argv = ['fit', 'marl.notchwise', '--wanted', 'fitted', '--body', 'M', '--fabric', '90cm'];
    const { err, out, disk } = await cli(argv, { files });
    expect(err).toEqual(['Body "M": to fit fitted.', 'The cloth is 900 mm wide.', 'The set is in marl.notchwise.']);
    expect(out.join('\n')).toMatch(/72 ± 1\.1 mm of wearing ease is close, and fitted was wanted/);
    const gone = await cli(['fit', 'marl.notchwise', '--remove', 'M', '--fabric', 'none'], { disk });
    expect(gone.out[0]).toBe('Size M, finished; no body was given (fit SET --set bust=920,waist=760).');
  });

  it('enters bodies into a plan before anything is traced', async () => {
    const plan = { ...MARL, pieces: MARL.pieces.map((piece) => ({ ...piece, shapes: {} })) };
    const argv = ['fit', 'plan.json', '--set', 'bust=920', '--out', 'p.notchwise', '--json'];
    const { exit, out } = await cli(argv, { files: { 'plan.json': JSON.stringify(setDocument(plan)) } });
    expect(exit).toBe(0);
    expect(JSON.parse(out[0]!)).toMatchObject({
      format: 'notchwise-bodies/1',
      bodies: [{ name: 'M' }, { name: 'me' }],
    });
  });

  it.each([
    [['--set', 'bust'], /"bust" should be a measure and its length, such as bust=920/],
    [['--set', 'bust=wide'], /"wide" is no length for bust/],
    [['--set', 'bust=92'], /would be 92 mm; say the unit/],
    [['--set', 'span=920'], /"span" is no measure/],
    [['--set', 'bust=920'], /Only a set file can be written back; add --out/],
    [['--wanted', 'snug'], /"snug" is no way to fit/],
    [['--fabric', 'wide'], /"wide" is no width of cloth/],
    [['--body', 'Kim'], /no body "Kim"/],
    [['--body', 'us-paper-misses:15'], /no size "15"/],
    [['--body', 'none.csv'], /none\.csv/],
    [['--size', 'L'], /Size "L" was not traced/],
    [['--table', 'atlas'], /no published table "atlas"/],
    [['--table', 'us-paper-misses:M'], /"M" should be a size of the set and of the table/],
  ])('refuses %j with one sentence', async (more, sentence) => {
    const { exit, out, err } = await cli(['fit', 'marl.json', ...more], { files });
    expect([exit, out, err.length]).toEqual([2, [], 1]);
    expect(err[0]).toMatch(sentence);
  });
});
