// What the program writes, held against the schema files that other programs read it by.
import { strFromU8, unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { phoneStore } from '../../../../main/files/phoneStore.ts';
import { setDocument } from '../../../../shared/formats/set/write.ts';
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
