import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { memoryDisk } from '../../../support/memoryDisk.ts';
import { smallSet } from '../../../support/setJson.ts';
import { type CliOptions, cli } from '../../../support/testCli.ts';

/** Exit code 2, one sentence on standard error, nothing on standard output, no trace. */
async function refused(argv: readonly string[], options: CliOptions = {}): Promise<string> {
  const { exit, out, err } = await cli(argv, options);
  expect({ exit, out, lines: err.length }).toEqual({ exit: 2, out: [], lines: 1 });
  const [sentence] = err;
  expect(sentence).toMatch(/^[^\n]+$/);
  expect(sentence).not.toMatch(/\bat .*:\d+:\d+/);
  return sentence!;
}

let table: Uint8Array;
beforeAll(async () => {
  const noise = Buffer.from(Array.from({ length: 3 * 900 * 700 }, (_, i) => 120 + ((i * 7919) % 23)));
  table = new Uint8Array(
    await sharp(noise, { raw: { width: 900, height: 700, channels: 3 } })
      .jpeg()
      .toBuffer(),
  );
});

describe('photos that cannot be read', () => {
  it('not a picture', async () => {
    expect(await refused(['trace', 'a.jpg', '--json'], { files: { 'a.jpg': 'dear diary' } })).toContain(
      'a.jpg is not a picture',
    );
  });
  it('a truncated picture', async () => {
    const files = { 'a.jpg': table.subarray(0, table.length / 2) };
    expect(await refused(['trace', 'a.jpg', '--json'], { files })).toContain('a.jpg is cut short or damaged');
  });
  it('a picture of 200 megapixels', async () => {
    // TIFF 6.0: a header and one directory that claims 20000 x 10000 pixels in one strip which is not there.
    const entries = [
      [256, 4, 20_000],
      [257, 4, 10_000],
      [258, 3, 8],
      [259, 3, 1],
      [262, 3, 1],
      [273, 4, 8],
      [277, 3, 1],
      [278, 4, 10_000],
      [279, 4, 200_000_000],
    ] as const;
    const tiff = Buffer.alloc(8 + 2 + 12 * entries.length + 4);
    tiff.write('II*\0', 'latin1');
    tiff.writeUInt32LE(8, 4);
    tiff.writeUInt16LE(entries.length, 8);
    entries.forEach(([tag, type, value], i) => {
      tiff.writeUInt16LE(tag, 10 + 12 * i);
      tiff.writeUInt16LE(type, 12 + 12 * i);
      tiff.writeUInt32LE(1, 14 + 12 * i);
      tiff.writeUInt32LE(value, 18 + 12 * i);
    });
    const sentence = await refused(['trace', 'a.tif', '--json'], { files: { 'a.tif': new Uint8Array(tiff) } });
    expect(sentence).toContain('a.tif has 200 megapixels; at most 120 can be worked with');
  });
  it('no card: refused, never a guessed scale', async () => {
    const sentence = await refused(['trace', 'a.jpg', '--json', '--out', 'a.notchwise'], { files: { 'a.jpg': table } });
    expect(sentence).toMatch(/card/i);
  });
  it('and nothing is written for a photo that was refused', async () => {
    const { disk } = await cli(['trace', 'a.jpg', '--out', 'a.notchwise'], {
      files: { 'a.jpg': 'no', 'a.notchwise': 'old' },
    });
    expect(new TextDecoder().decode(disk.files.get('/home/a.notchwise'))).toBe('old');
  });
  it('a missing file, and an empty folder', async () => {
    expect(await refused(['trace', 'none.jpg'])).toContain('There is no file /home/none.jpg');
    expect(await refused(['trace', 'empty'], { files: { 'empty/readme.txt': 'x' } })).toContain('holds no photo');
  });
});

describe('sets that cannot be read', () => {
  const check = (content: string) => refused(['check', 'a.json'], { files: { 'a.json': content } });

  it('a set from a newer version', async () => {
    expect(await check('{"format":"notchwise-set/9","name":"x"}')).toContain(
      'version 9, and this program reads version 1',
    );
  });
  it('a set that was broken by hand', async () => {
    expect(await check(JSON.stringify(smallSet()).replace('"edge":"side"', '"edge":"sied"'))).toContain(
      'names the edge "sied", which is missing',
    );
    expect(await check(JSON.stringify(smallSet()).slice(0, 200))).toContain('neither a set file nor JSON');
  });
  it('a picture in place of a set, without its bytes in the sentence', async () => {
    const sentence = await refused(['check', 'a.notchwise'], { files: { 'a.notchwise': table } });
    expect(sentence).toBe('a.notchwise is neither a set file nor JSON; choose a .notchwise file or a set.json.');
  });
  it('a plan that is a photo', async () => {
    const files = { 'a.jpg': table, 'plan.json': table };
    expect(await refused(['trace', 'a.jpg', '--plan', 'plan.json'], { files })).toContain(
      'neither a set file nor JSON',
    );
  });
  it('a phone profile that is something else', async () => {
    const files = { 'a.jpg': table, 'p.json': '{"format":"notchwise-phone/1"}' };
    expect(await refused(['trace', 'a.jpg', '--phone-profile', 'p.json'], { files })).toContain(
      'is not a phone profile',
    );
  });
});

describe('places that cannot be written', () => {
  // Root may write anywhere, so the system's refusal is played.
  const files = { 'a.json': JSON.stringify(smallSet()), 'old.html': 'old' };
  for (const [code, words] of [
    ['EROFS', 'disk is read-only'],
    ['EACCES', 'read-only for you'],
    ['ENOSPC', 'disk is full'],
  ] as const) {
    it(`${code}: one sentence, and the old file stays`, async () => {
      const disk = memoryDisk(() => code);
      expect(await refused(['report', 'a.json', '--out', 'old.html'], { disk, files })).toContain(words);
      expect(new TextDecoder().decode(disk.files.get('/home/old.html'))).toBe('old');
      expect(await refused(['card'], { disk })).toContain(words);
      expect(await refused(['demo', '--no-window'], { disk })).toContain(words);
    });
  }
});

describe('words on the command line', () => {
  for (const [argv, words] of [
    [['frob'], "Unknown command 'frob'"],
    [['chek', 'a'], 'Did you mean check?'],
    [['trace'], "Missing required argument 'photo'"],
    [['trace', 'a.jpg', '--print-scale', '2,3'], 'two numbers near 1'],
    [['trace', 'a.jpg', '--outline', 'pencil'], 'Allowed choices are auto, paper, drawn'],
    [['export', 'a.json', '--out', 'x'], "'--to <format>' not specified"],
    [['report', 'a.json', '--out', 'r.doc'], 'should end in .html'],
    [['card', '--out', 'c.doc'], 'should end in .pdf or .svg'],
    [['card', '--print', '1000'], 'There is no page 1000 of cards'],
    [['card', '--each'], 'which folder'],
    [['card', '--out', 'a.pdf', '--out', 'b.pdf'], '--out was given twice; give it once'],
    [['trace', 'a.jpg', '--out', 'a.jpg'], 'a.jpg should end in .notchwise'],
    [['import', 'a.svg', '--out', 'a.svg'], 'a.svg should end in .notchwise'],
    [['alter', 'a.json', 'bust', '--by', '5', '--out', 'a.json'], 'a.json should end in .notchwise'],
    [['import', 'a.docx'], 'a.docx'],
  ] as const) {
    it(argv.join(' '), async () => {
      expect(await refused(argv, { files: { 'a.json': JSON.stringify(smallSet()), 'a.docx': 'x' } })).toContain(words);
    });
  }

  it('every command has its own help, with --json', async () => {
    for (const command of ['card', 'trace', 'check', 'report', 'export', 'import', 'window', 'demo']) {
      const { exit, out } = await cli([command, '--help']);
      expect(exit).toBe(0);
      expect(out.join('\n')).toContain('--json');
    }
  });
});

it('a fault of the program is a sentence with the place of the report, and the report has the trace', async () => {
  const disk = memoryDisk();
  const broken = { ...disk, isFolder: () => Promise.reject(new TypeError('impossible')) };
  const sentence = await refused(['check', 'a.json'], { disk: broken });
  const path = /(\/logs\/error-\S+\.log)$/.exec(sentence)?.[1];
  expect(new TextDecoder().decode(disk.files.get(path ?? ''))).toMatch(/TypeError: impossible\n\s+at /);
});
