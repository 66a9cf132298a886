import { describe, expect, it } from 'vitest';
import { lengthInMm } from '../../../../main/cli/lengthArgument.ts';
import { readSetFile } from '../../../../shared/formats/set/read.ts';
import { setDocument } from '../../../../shared/formats/set/write.ts';
import { seamTraced } from '../../../support/alterSets.ts';
import { cli } from '../../../support/testCli.ts';

const files = { 'marl.json': JSON.stringify(setDocument(seamTraced())) };

describe('alter', () => {
  it('opens the armhole by 12.7, carries the cap, and leaves nothing behind', async () => {
    const argv = ['alter', 'marl.json', 'armhole-depth', '--by', '12.7', '--carry', '--out', 'b.notchwise', '--json'];
    const { exit, out, err, disk } = await cli(argv, { files });
    expect([exit, out.length, err.length]).toEqual([0, 1, 0]);
    const report = JSON.parse(out[0]!);
    expect(report).toMatchObject({
      format: 'notchwise-alteration/1',
      alteration: 'armhole-depth',
      followers: [{ seam: 'sleeve-cap', size: 'M', missingMm: expect.closeTo(19.7, 1) }],
      left: [],
    });
    const ease = report.after.find(({ rule }: { rule: string }) => rule === 'cap-ease');
    expect(ease).toMatchObject({ verdict: 'clear', measured: { value: expect.closeTo(28, 1) } });
    const read = readSetFile('b', disk.files.get('/home/b.notchwise')!);
    if (!read.ok) throw new Error(read.error.sentence);
    const { set } = read.value;
    expect(set.history.map(({ what }) => what)).toEqual(['alter:armhole-depth', 'carry']);
    expect(set.pieces.find(({ id }) => id === 'sleeve')!.before!.M).toEqual(
      seamTraced().pieces.find(({ id }) => id === 'sleeve')!.shapes.M,
    );
    expect((await cli(['check', 'b.notchwise'], { disk })).exit).toBe(0);
  });

  it('without --carry says what must follow and what the checks say of it, and writes nothing', async () => {
    const { exit, out, disk } = await cli(['alter', 'marl.json', 'armhole-depth', '--by', '1/2in'], { files });
    const text = out.join('\n');
    expect(exit).toBe(0);
    expect(text).toMatch(/What must follow:\n.*cap of "Sleeve" in size M must become 19\.7 mm longer/);
    expect(text).toMatch(/After:\n {2}stop .*left-behind\]\n(?: {9}→ .*\n)* {9}· Cap ease .*cap-ease/);
    expect(text).toContain('Nothing was written');
    expect([...disk.files.keys()]).toEqual(['/home/marl.json']);
  });

  it('repeats the changes of another set, carried through to what this set needs', async () => {
    const toile = await cli(
      ['alter', 'marl.json', 'armhole-depth', '--by', '12.7', '--carry', '--out', 'toile.notchwise'],
      { files },
    );
    const argv = ['alter', 'marl.json', '--like', 'toile.notchwise', '--out', 'b.notchwise', '--json'];
    const { exit, out, disk } = await cli(argv, { disk: toile.disk });
    expect(exit).toBe(0);
    const report = JSON.parse(out[0]!);
    expect(report).toMatchObject({
      format: 'notchwise-repeated/1',
      skipped: [],
      left: [],
      counts: { stop: 0, mend: 0 },
    });
    expect(report.done).toEqual([
      'Armholes opened by 12.7 mm at the underarm.',
      expect.stringMatching(/the cap made 19\.7 mm longer/),
    ]);
    const set = (name: string) => {
      const read = readSetFile(name, disk.files.get(`/home/${name}`)!);
      if (!read.ok) throw new Error(read.error.sentence);
      return read.value.set;
    };
    expect(set('b.notchwise').pieces).toEqual(set('toile.notchwise').pieces);
    expect(set('b.notchwise').history).toEqual(set('toile.notchwise').history);
  });

  it('says which changes of the other set find no place in this one, and when it has none', async () => {
    const toile = await cli(['alter', 'marl.json', 'bust', '--by', '12', '--out', 'toile.notchwise'], { files });
    const { pieces, seams } = seamTraced();
    const skirt = pieces.filter(({ kind }) => kind === 'front skirt' || kind === 'back skirt');
    const kept = seams.filter(({ id }) => id === 'skirt-side');
    const only = { ...seamTraced(), pieces: skirt, seams: kept, expectedPieces: [] };
    const more = { 'skirt.json': JSON.stringify(setDocument(only)) };
    const { out } = await cli(['alter', 'skirt.json', '--like', 'toile.notchwise'], { disk: toile.disk, files: more });
    expect(out.join('\n')).toMatch(
      /Not repeated: Front widened by 12\.0 mm over each bust\. The set has no front bodice/,
    );
    const none = await cli(['alter', 'marl.json', '--like', 'marl.json'], { files });
    expect([none.exit, none.err.join(' ')]).toEqual([2, expect.stringContaining('holds no changes to repeat')]);
  });

  it('lists every alteration and remedy with its amounts', async () => {
    const { out } = await cli(['alter', 'marl.json', '--list', '--json'], { files });
    const { alterations } = JSON.parse(out[0]!);
    expect(alterations.map(({ id }: { id: string }) => id)).toEqual(expect.arrayContaining(['bust', 'move-notch']));
    expect((await cli(['alter', 'marl.json', '--list'], { files })).out.join('\n')).toMatch(/hemMm \(0\): /);
  });

  it('keeps to the pieces and sizes that are named', async () => {
    const argv = ['alter', 'marl.json', 'shoulder-point', '--by=-5', '--piece', 'front-bodice', '--json'];
    const { out } = await cli(argv, { files });
    const pieces = JSON.parse(out[0]!).changed.map(({ piece }: { piece: string }) => piece);
    expect(new Set(pieces)).toEqual(new Set(['front-bodice']));
  });

  it('takes names and further amounts of a remedy', async () => {
    const argv = [
      'alter',
      'marl.json',
      'move-notch',
      '--by',
      '4',
      '--amount',
      'piece=front-bodice',
      'notch=armhole-1',
      '--json',
    ];
    const { exit, out } = await cli(argv, { files });
    expect(exit).toBe(0);
    expect(JSON.parse(out[0]!).history.at(-1).params).toMatchObject({ byMm: 4, notch: 'armhole-1' });
  });

  it.each([
    [['alter', 'marl.json', 'nothing'], /no alteration "nothing".*armhole-depth/],
    [['alter', 'marl.json', 'bust'], /^--by is missing: Width added/],
    [['alter', 'marl.json', 'bust', '--by=400'], /^--by is 400; it may be -30 to 60 mm/],
    [['alter', 'marl.json', 'neckline', '--by=10', '--amount', 'backMm=900'], /^--amount backMm is 900; it may be/],
    [['alter', 'marl.json', 'bust', '--by=0'], /By nothing, nothing changes; give an amount other than 0/],
    [['alter', 'marl.json', '--out', 'b.notchwise'], /^--out: but what is to be done\? Name the alteration/],
    [['alter', 'marl.json', '--by', '5', '--carry'], /^--by, --carry: but what is to be done/],
    [['alter', 'marl.json', '--list', '--by', '5'], /^--list only lists: leave out --by/],
    [['alter', 'marl.json', '--like', 'marl.json', '--by', '5'], /leave out --by/],
    [['alter', 'marl.json', 'bust', '--like', 'marl.json'], /leave out bust/],
    [['alter', 'none.json', '--list'], /There is no file .*none.json/],
    [['alter', 'marl.json', 'bust', '--by', 'much'], /"much" is no amount for --by/],
    [['alter', 'marl.json', 'bust', '--by', '3', '--piece', 'hat'], /no piece "hat"/],
    [['alter', 'marl.json', 'bust', '--by', '3', '--size', 'XXL'], /size "XXL"/],
    [['alter', 'marl.json', 'biceps', '--by', '3', '--amount', 'hem=3'], /no amount called "hem"/],
    [['alter', 'none.json', 'bust', '--by', '3'], /no file/],
  ])('%j ends with one sentence and exit code 2', async (argv, sentence) => {
    const { exit, out, err } = await cli(argv, { files });
    expect([exit, out.length, err.length]).toEqual([2, 0, 1]);
    expect(err[0]).toMatch(sentence);
  });
});

it.each([
  ['12.7', 12.7],
  ['12.7mm', 12.7],
  ['1.27 cm', 12.7],
  ['1/2in', 12.7],
  ['-1 1/4in', -31.75],
  ['0.5"', 12.7],
  ['1/0in', null],
  ['3x', null],
  ['', null],
])('reads %j as %s mm', (text, mm) => {
  const read = lengthInMm(text);
  if (mm === null) expect(read).toBeNull();
  else expect(read).toBeCloseTo(mm, 9);
});
