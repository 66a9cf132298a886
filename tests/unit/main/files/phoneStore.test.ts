import { describe, expect, it } from 'vitest';
import { phoneStore } from '../../../../main/files/phoneStore.ts';
import type { PhoneProfile } from '../../../../shared/vision/plane/phoneProfile.ts';
import { memoryDisk } from '../../../support/memoryDisk.ts';
import { cli } from '../../../support/testCli.ts';

const NOW = () => new Date(2026, 10, 25);
const FOLDERS = { data: '/data', logs: '/logs', archive: '/archive' };

function lesson(focal35Mm: number, mark: string): PhoneProfile {
  return {
    key: `Sparrow|One||${focal35Mm}|1`,
    make: 'Sparrow',
    model: 'One',
    lens: '',
    focal35Mm,
    mean: [0.01, 0.05, -0.1],
    covariance: [
      [1e-4, 0, 0],
      [0, 4e-4, 0],
      [0, 0, 9e-4],
    ],
    photos: 1,
    taughtBy: [mark],
    conflicts: 0,
  };
}

async function taught(...lessons: readonly PhoneProfile[]) {
  const disk = memoryDisk();
  const done = await phoneStore(disk, FOLDERS, NOW).teach(lessons);
  if (!done.ok) throw new Error(done.error.sentence);
  return disk;
}

describe('what is kept about phones', () => {
  it('is read back phone by phone, photos of one phone joined', async () => {
    const disk = await taught(lesson(26, 'a'), lesson(52, 'b'), lesson(26, 'c'));
    const known = await phoneStore(disk, FOLDERS, NOW).all();
    expect(known.ok && known.value.phones.map(({ key, photos, lastTaught }) => [key, photos, lastTaught])).toEqual([
      ['Sparrow|One||26|1', 2, '2026-11-25'],
      ['Sparrow|One||52|1', 1, '2026-11-25'],
    ]);
  });

  it('is nothing before the first photo', async () => {
    const known = await phoneStore(memoryDisk(), FOLDERS, NOW).all();
    expect(known).toEqual({ ok: true, value: { phones: [], warnings: [] } });
  });

  it('says which file is broken and reads the others', async () => {
    const disk = await taught(lesson(26, 'a'));
    disk.files.set('/data/phones/broken.json', new TextEncoder().encode('{'));
    const known = await phoneStore(disk, FOLDERS, NOW).all();
    expect(known.ok && known.value.phones).toHaveLength(1);
    expect(known.ok && known.value.warnings).toMatchObject([{ code: 'broken-profile' }]);
  });
});

describe('notchwise phone', () => {
  it('lists what is known in words and as JSON', async () => {
    const disk = await taught(lesson(26, 'a'));
    const words = await cli(['phone'], { disk });
    expect(words.exit).toBe(0);
    expect(words.out).toEqual([
      'Sparrow|One||26|1: learnt from 1 photo, the last on 2026-11-25; focal length 1.0 % from what the phone states, lens terms 0.050 and -0.100',
    ]);
    const json = await cli(['phone', '--list', '--json'], { disk });
    expect(JSON.parse(json.out[0]!)).toMatchObject({ phones: [{ key: 'Sparrow|One||26|1', photos: 1, used: true }] });
  });

  it('deletes one and leaves the rest', async () => {
    const disk = await taught(lesson(26, 'a'), lesson(52, 'b'));
    expect((await cli(['phone', '--delete', 'Sparrow|One||26|1'], { disk })).exit).toBe(0);
    expect((await cli(['phone'], { disk })).out).toHaveLength(1);
    const again = await cli(['phone', '--delete', 'Sparrow|One||26|1'], { disk });
    expect(again.exit).toBe(2);
    expect(again.err.join(' ')).toContain('Nothing is known');
  });

  it('says so when nothing is known', async () => {
    expect((await cli(['phone'])).out).toEqual(['No photo has taught anything about a phone yet.']);
  });
});

describe('a taped distance on the command line', () => {
  it.each(['N00-N02', 'N00-N00=5', 'X1-N02=600', 'N00-N02=0', 'N00-N9999=600'])('%s is refused', async (text) => {
    const run = await cli(['trace', 'a.jpg', '--taped', text]);
    expect(run.exit).toBe(2);
    expect(run.err.join(' ')).toContain('N00-N02=612.5');
  });
});
