// What the program writes, held against the schema files that other programs read it by.
import { strFromU8, unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { phoneStore } from '../../../../main/files/phoneStore.ts';
import { setDocument } from '../../../../shared/formats/set/write.ts';
import { idealSetAfterFitting } from '../../../photos/marl/idealSet.ts';
import { seamTraced } from '../../../support/alterSets.ts';
import { memoryDisk } from '../../../support/memoryDisk.ts';
import { againstSchemaFile } from '../../../support/schemaFile.ts';
import { cli } from '../../../support/testCli.ts';

const files = { 'marl.json': JSON.stringify(setDocument(seamTraced())) };

describe('a set file', () => {
  it('holds after an alteration, with its history and the shapes before it, what the schema says', async () => {
    const argv = ['alter', 'marl.json', 'armhole-depth', '--by', '12.7', '--carry', '--out', 'b.notchwise'];
    const { disk } = await cli(argv, { files });
    const zip = unzipSync(disk.files.get('/home/b.notchwise')!);
    const document = JSON.parse(strFromU8(zip['set.json']!));
    expect(document.history.length).toBeGreaterThan(0);
    expect(againstSchemaFile('notchwise-set-1', document)).toEqual([]);
    const { name: _, ...nameless } = document;
    expect(againstSchemaFile('notchwise-set-1', nameless)).not.toEqual([]);
    expect(Object.keys(zip).filter((path) => path.startsWith('pieces/'))).toHaveLength(seamTraced().pieces.length);
  });
});

it('findings as data are what their schema says, with whatever is wrong with the set', async () => {
  const set = seamTraced();
  const halfTraced = set.pieces.map((piece) => (piece.id === 'sleeve' ? { ...piece, shapes: {} } : piece));
  for (const document of [setDocument(set), setDocument({ ...set, pieces: halfTraced, displayUnits: 'in' })]) {
    const { out } = await cli(['check', 'a.json', '--json', '--all'], {
      files: { 'a.json': JSON.stringify(document) },
    });
    const findings = JSON.parse(out[0]!);
    expect(findings.findings.length).toBeGreaterThan(0);
    expect(againstSchemaFile('notchwise-findings-1', findings)).toEqual([]);
    findings.findings[0].verdict = 'perhaps';
    expect(againstSchemaFile('notchwise-findings-1', findings)).not.toEqual([]);
  }
});

describe('what a change or a measuring prints is what its schema says', () => {
  const fitted = JSON.stringify(setDocument(idealSetAfterFitting()));
  const altered = async () => {
    const { disk } = await cli(['alter', 'marl.json', 'armhole-depth', '--by', '12.7', '--out', 'b.notchwise'], {
      files,
    });
    return { ...files, 'toile.notchwise': disk.files.get('/home/b.notchwise')! };
  };
  const plan = JSON.stringify({ format: 'notchwise-set/1', name: 'Plan' });

  it.each([
    ['alterations', ['alter', 'marl.json', '--list'], async () => files],
    ['alteration', ['alter', 'marl.json', 'armhole-depth', '--by', '12.7', '--carry'], async () => files],
    ['alteration', ['alter', 'marl.json', 'armhole-depth', '--by', '12.7'], async () => files],
    ['repeated', ['alter', 'marl.json', '--like', 'toile.notchwise'], altered],
    ['remedies', ['mend', 'fitted.json'], async () => ({ 'fitted.json': fitted })],
    [
      'mended',
      ['mend', 'fitted.json', '--apply', '1', '--out', 'c.notchwise'],
      async () => ({ 'fitted.json': fitted }),
    ],
    ['fit', ['fit', 'fitted.json'], async () => ({ 'fitted.json': fitted })],
    [
      'bodies',
      ['fit', 'plan.json', '--body', 'Ines', '--set', 'bust=920', '--out', 'd.notchwise'],
      async () => ({ 'plan.json': plan }),
    ],
  ] as const)('%s', async (format, argv, given) => {
    const { out, err } = await cli([...argv, '--json'], { files: await given() });
    expect(out, err.join('\n')).toHaveLength(1);
    const document = JSON.parse(out[0]!);
    expect(document.format).toBe(`notchwise-${format}/1`);
    expect(againstSchemaFile(`notchwise-${format}-1`, document)).toEqual([]);
    const [first] = Object.keys(document).filter((key) => Array.isArray(document[key]));
    expect(againstSchemaFile(`notchwise-${format}-1`, { ...document, [first!]: 'none' })).not.toEqual([]);
  });
});

it('what photos taught about a phone is kept as its schema says', async () => {
  const disk = memoryDisk();
  const folders = { data: '/data', logs: '/logs', archive: '/archive' };
  const profile = {
    key: 'a b 26',
    make: 'a',
    model: 'b',
    lens: '',
    focal35Mm: 26,
    mean: [0.7, 0, 0] as const,
    covariance: [
      [1e-6, 0, 0],
      [0, 1e-6, 0],
      [0, 0, 1e-6],
    ],
    photos: 1,
    taughtBy: ['one.jpg'],
    conflicts: 0,
  };
  const taught = await phoneStore(disk, folders, () => new Date(2026, 10, 25)).teach([profile]);
  if (!taught.ok) throw new Error(taught.error.sentence);
  const kept = [...disk.files].filter(([path]) => path.startsWith('/data/'));
  expect(kept).toHaveLength(1);
  const document = JSON.parse(strFromU8(kept[0]![1]));
  expect(againstSchemaFile('notchwise-phone-1', document)).toEqual([]);
  expect(againstSchemaFile('notchwise-phone-1', { ...document, mean: 'wide' })).not.toEqual([]);
});

it('sizes whose names differ only in signs get a file each', async () => {
  const set = seamTraced();
  const names = ['38/40', '38 40', '38+40', 'xl', 'XL'];
  const shape = (piece: (typeof set.pieces)[number]) => piece.shapes[set.baseSize]!;
  const many = {
    ...set,
    sizes: names,
    baseSize: names[0]!,
    bodies: [],
    pieces: set.pieces.slice(0, 1).map((piece) => ({
      ...piece,
      shapes: Object.fromEntries(names.map((name) => [name, shape(piece)])),
    })),
    seams: [],
  };
  const { disk, exit } = await cli(['export', 'a.json', '--to', 'svg', '--out', 'drawn'], {
    files: { 'a.json': JSON.stringify(setDocument(many)) },
  });
  expect(exit).toBe(0);
  const drawn = [...disk.files.keys()].filter((path) => path.startsWith('/home/drawn/'));
  expect(drawn).toHaveLength(names.length);
  // Neither on a disk that takes capital letters for small ones.
  expect(new Set(drawn.map((path) => path.toLowerCase())).size).toBe(names.length);
});
