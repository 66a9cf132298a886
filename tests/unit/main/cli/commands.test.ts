import { describe, expect, it } from 'vitest';
import { findingsV1 } from '../../../../shared/formats/findings/v1.ts';
import { readSetFile } from '../../../../shared/formats/set/read.ts';
import { smallSet } from '../../../support/setJson.ts';
import { cli } from '../../../support/testCli.ts';

const sound = JSON.stringify(smallSet());
/** The back's side is 10 mm longer: above any limit for an even seam. */
function longerBack(): string {
  const set = smallSet();
  const [, side, hem] = set.pieces[1]!.shapes.M.ring;
  side!.curve[1] = [200, 310];
  hem!.curve[0] = [200, 310];
  return JSON.stringify(set);
}

describe('check', () => {
  it('exits 0 when nothing is to stop for or to mend, 1 when something is', async () => {
    expect((await cli(['check', 'a.json'], { files: { 'a.json': sound } })).exit).toBe(0);
    const { exit, out } = await cli(['check', 'a.json'], { files: { 'a.json': longerBack() } });
    expect(exit).toBe(1);
    expect(out.join('\n')).toMatch(/^mend {3}.*10/m);
    expect(out.at(-1)).toMatch(/^To stop for: \d+\. To mend: [1-9]/);
  });

  it('prints one JSON document that its schema accepts, and nothing else', async () => {
    const { exit, out, err } = await cli(['check', 'a.json', '--json'], { files: { 'a.json': longerBack() } });
    expect([exit, out.length, err.length]).toEqual([1, 1, 0]);
    const findings = findingsV1.parse(JSON.parse(out[0]!));
    expect(findings.set).toBe('Two panels');
    expect(findings.findings.some(({ rule, verdict }) => rule === 'length-differs' && verdict === 'fault')).toBe(true);
    expect(findings.counts.mend).toBeGreaterThan(0);
  });

  it('shows what is clear only when asked', async () => {
    const few = await cli(['check', 'a.json'], { files: { 'a.json': sound } });
    const all = await cli(['check', 'a.json', '--all'], { files: { 'a.json': sound } });
    expect(all.out.length).toBeGreaterThan(few.out.length);
  });

  it('judges a set without seams on those it would propose, and says so', async () => {
    const bare = { ...JSON.parse(longerBack()), seams: [] };
    for (const piece of bare.pieces) piece.shapes.M.ring[1].label = 'side';
    const { exit, out, err } = await cli(['check', 'a.json', '--json'], { files: { 'a.json': JSON.stringify(bare) } });
    expect(exit).toBe(1);
    expect(err.join()).toMatch(/holds no seams, so it was judged on those proposed .*: skirt side\./);
    expect(findingsV1.parse(JSON.parse(out[0]!)).findings.some(({ rule }) => rule === 'length-differs')).toBe(true);
  });

  it('reads an unpacked set folder', async () => {
    expect((await cli(['check', 'dress'], { files: { 'dress/set.json': sound } })).exit).toBe(0);
  });
});

describe('card', () => {
  it('writes the page as PDF or SVG', async () => {
    const { exit, disk } = await cli(['card', '--out', 'c.svg', '--page', 'letter']);
    expect(exit).toBe(0);
    expect(new TextDecoder().decode(disk.files.get('/home/c.svg'))).toContain('width="215.9mm"');
    expect((await cli(['card'])).disk.files.has('/home/notchwise-cards-a4-1.pdf')).toBe(true);
  });

  it('writes every card with an index that names its file and size', async () => {
    const { exit, disk } = await cli(['card', '--each', '--format', 'svg', '--out', 'cards']);
    expect(exit).toBe(0);
    const index = JSON.parse(new TextDecoder().decode(disk.files.get('/home/cards/cards.json'))) as {
      readonly id: string;
      readonly file: string;
      readonly widthMm: number;
      readonly heightMm: number;
    }[];
    expect(index.length).toBeGreaterThan(8);
    for (const { id, file, widthMm, heightMm } of index) {
      const svg = new TextDecoder().decode(disk.files.get(`/home/cards/${file}`));
      expect(svg).toContain(`width="${widthMm}mm" height="${heightMm}mm"`);
      expect(svg).toContain(id);
    }
  });
});

describe('report, export and import', () => {
  it('writes a page that holds everything itself', async () => {
    const { exit, disk } = await cli(['report', 'a.json', '--out', 'r.html'], { files: { 'a.json': longerBack() } });
    const html = new TextDecoder().decode(disk.files.get('/home/r.html'));
    expect(exit).toBe(0);
    expect(html).toContain('Two panels');
    expect(html).not.toMatch(/<script|src="http|href="http/);
  });

  it('exports one size to a file and several to a folder', async () => {
    const one = await cli(['export', 'a.json', '--to', 'svg', '--out', 'a.svg'], { files: { 'a.json': sound } });
    expect([...one.disk.files.keys()]).toContain('/home/a.svg');
    const set = smallSet();
    for (const piece of set.pieces) Object.assign(piece.shapes, { L: structuredClone(piece.shapes.M) });
    const two = await cli(['export', 'a.json', '--to', 'pdf', '--out', 'sheets', '--json'], {
      files: { 'a.json': JSON.stringify(set) },
    });
    expect(JSON.parse(two.out[0]!)).toEqual({
      files: ['/home/sheets/Two panels M.pdf', '/home/sheets/Two panels L.pdf'],
    });
  });

  it('never writes a drawing over a set whose name was typed as --out', async () => {
    const { exit, err, disk } = await cli(['export', 'a.json', '--to', 'svg', '--out', 'a.json'], {
      files: { 'a.json': sound },
    });
    expect(exit).toBe(2);
    expect(err.join(' ')).toContain('a.json should end in .svg.');
    expect(new TextDecoder().decode(disk.files.get('/home/a.json'))).toBe(sound);
  });

  it('imports what it exported, to the same lengths', async () => {
    const { disk } = await cli(['export', 'a.json', '--to', 'svg', '--out', 'a.svg'], { files: { 'a.json': sound } });
    const { exit } = await cli(['import', 'a.svg', '--out', 'b.notchwise'], { disk });
    expect(exit).toBe(0);
    const read = readSetFile('b', disk.files.get('/home/b.notchwise')!);
    if (!read.ok) throw new Error(read.error.sentence);
    expect(read.value.set.pieces.map((piece) => piece.shapes.M?.ring[1]?.curve.at(-1))).toEqual([
      [expect.closeTo(200, 3), expect.closeTo(300, 3)],
      [expect.closeTo(200, 3), expect.closeTo(300, 3)],
    ]);
  });
});

describe('window', () => {
  it('says that it has not been built', async () => {
    expect(await cli(['window'])).toMatchObject({ exit: 2, err: [expect.stringContaining('npm run build')] });
  });
});
