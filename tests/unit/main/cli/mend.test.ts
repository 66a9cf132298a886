import { describe, expect, it } from 'vitest';
import { readSetFile } from '../../../../shared/formats/set/read.ts';
import { setDocument } from '../../../../shared/formats/set/write.ts';
import { idealSetAfterFitting } from '../../../photos/marl/idealSet.ts';
import { seamTraced } from '../../../support/alterSets.ts';
import { cli } from '../../../support/testCli.ts';

const files = { 'marl.json': JSON.stringify(setDocument(idealSetAfterFitting())) };

describe('mend', () => {
  it('lists every fault with its numbered remedies, and what each leaves', async () => {
    const { exit, out, disk } = await cli(['mend', 'marl.json'], { files });
    expect(exit).toBe(0);
    const text = out.join('\n');
    expect(text).toMatch(
      /mend {3}.*\[notch-count\]\n +\d+ {2}Make the notch of Back bodice double\. \(then 3 things are left/,
    );
    expect([...text.matchAll(/^ {2,4}(\d+) {2}/gm)].map(([, n]) => Number(n))).toEqual(
      expect.arrayContaining([1, 2, 3, 4, 5]),
    );
    expect([...disk.files.keys()]).toEqual(['/home/marl.json']);
  });

  it('gives the same to programs as data, and applies one by its number into a new file', async () => {
    const listed = await cli(['mend', 'marl.json', '--json'], { files });
    const { format, findings } = JSON.parse(listed.out[0]!);
    expect(format).toBe('notchwise-remedies/1');
    const cap = findings.find(({ rule }: { rule: string }) => rule === 'cap-ease');
    const [first] = cap.offers;
    expect(first).toMatchObject({
      id: 'even-cap',
      params: { seam: 'sleeve-cap', size: 'M' },
      after: { verdict: 'clear' },
    });
    expect(cap.remedies[0]).toMatchObject({ sentence: first.sentence, action: { id: 'even-cap' } });

    const argv = ['mend', 'marl.json', '--apply', String(first.number), '--out', 'b.notchwise', '--json'];
    const { exit, out, disk } = await cli(argv, { files });
    expect(exit).toBe(0);
    expect(JSON.parse(out[0]!)).toMatchObject({ format: 'notchwise-mended/1', applied: [{ id: 'even-cap' }] });
    const read = readSetFile('b', disk.files.get('/home/b.notchwise')!);
    if (!read.ok) throw new Error(read.error.sentence);
    expect(read.value.set.history.map(({ what }) => what)).toEqual(['remedy:even-cap']);
    expect((await cli(['mend', 'b.notchwise', '--json'], { disk })).out[0]).not.toContain('"rule":"cap-ease"');
  });

  it('mends all that one rule says, and writes the set file it was given', async () => {
    const made = await cli(['mend', 'marl.json', '--rule', 'notch-count', '--out', 'a.notchwise'], { files });
    expect(made.out.join('\n')).toMatch(
      /^Make the notch of .*\nThe set is in a\.notchwise\. To stop for: 2\. To mend: 1\./,
    );
    const again = await cli(['mend', 'a.notchwise', '--rule', 'length-differs'], { disk: made.disk });
    expect(again.out.join('\n')).toMatch(/The set is in a\.notchwise\. To stop for: 2\. To mend: 0\./);
    expect((await cli(['check', 'a.notchwise', '--json'], { disk: made.disk })).out[0]).not.toContain('"mend":1');
  });

  it('says so when there is nothing to apply, no such number, or nowhere to write', async () => {
    const cases = [
      ['--apply', '99', '--out', 'b.notchwise'],
      ['--rule', 'grain-off', '--out', 'b.notchwise'],
      ['--apply', '1'],
    ];
    const said = [];
    for (const args of cases) {
      const { exit, err, disk } = await cli(['mend', 'marl.json', ...args], { files });
      expect(exit).toBe(2);
      expect([...disk.files.keys()]).toEqual(['/home/marl.json']);
      said.push(err.join(' '));
    }
    expect(said).toEqual([
      expect.stringContaining('There is no remedy 99'),
      expect.stringContaining('No remedy that applies itself mends what grain-off says'),
      expect.stringContaining('add --out FILE.notchwise'),
    ]);
    const sound = { 'marl.json': JSON.stringify(setDocument(seamTraced())) };
    expect((await cli(['mend', 'marl.json'], { files: sound })).out).toEqual(['Nothing is to be mended.']);
  });
});
