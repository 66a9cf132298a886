import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { realDisk } from '../../../../main/files/disk.ts';
import { fileTrouble } from '../../../../main/files/fileTrouble.ts';

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'notchwise-disk-'));
});
afterEach(() => rm(folder, { recursive: true }));

const text = async (path: string) => {
  const read = await realDisk.read(path);
  return read.ok ? new TextDecoder().decode(read.value) : read.error.code;
};

describe('the disk', () => {
  it('writes whole files over old ones and leaves nothing else behind', async () => {
    const path = join(folder, 'a.txt');
    await realDisk.write(path, 'old and longer');
    await realDisk.write(path, 'new');
    expect(await text(path)).toBe('new');
    expect(await readdir(folder)).toEqual(['a.txt']);
  });

  it('keeps the old file when writing fails', async () => {
    const path = join(folder, 'a.txt');
    await realDisk.write(path, 'old');
    const written = await realDisk.write(join(path, 'b.txt'), 'new');
    expect(written).toMatchObject({ ok: false, error: { sentence: expect.stringContaining('is not a folder') } });
    expect(await text(path)).toBe('old');
  });

  it('lists files below a folder with forward slashes', async () => {
    await realDisk.makeFolder(join(folder, 'shots', 'deep'));
    await realDisk.write(join(folder, 'shots', 'deep', 'b.jpg'), 'b');
    await realDisk.write(join(folder, 'set.json'), '{}');
    expect(await realDisk.list(folder)).toEqual({ ok: true, value: ['set.json', 'shots/deep/b.jpg'] });
  });

  it('says in a sentence what is not there and what is a folder', async () => {
    expect(await realDisk.read(join(folder, 'x'))).toMatchObject({ error: { code: 'file-enoent' } });
    expect(await realDisk.read(folder)).toMatchObject({ error: { sentence: expect.stringContaining('is a folder') } });
    expect(await realDisk.isFolder(folder)).toBe(true);
    expect(await realDisk.isFolder(join(folder, 'x'))).toBe(false);
  });

  it('removes what may be gone already', async () => {
    expect(await realDisk.remove(join(folder, 'x'))).toEqual({ ok: true, value: undefined });
  });
});

describe('trouble with a file', () => {
  const system = (code: string) => Object.assign(new Error(`${code}: oh`), { code });
  // Root may write anywhere, so a read-only folder cannot be made here: the system's error stands for it.
  for (const [code, words] of [
    ['EACCES', 'its folder is read-only for you; choose another'],
    ['EROFS', 'its disk is read-only; choose another place'],
    ['ENOSPC', 'the disk is full; make room'],
  ] as const) {
    it(`${code} on writing becomes a sentence that says what to do`, () => {
      expect(fileTrouble(system(code), 'write', '/sets/a.notchwise')).toEqual({
        ok: false,
        error: { code: `file-${code.toLowerCase()}`, sentence: expect.stringContaining(words) },
      });
    });
  }
  it('what is no trouble of the system is thrown on', () => {
    expect(() => fileTrouble(new TypeError('a bug'), 'write', '/a')).toThrow('a bug');
    expect(() => fileTrouble(system('EWHAT'), 'read', '/a')).toThrow('EWHAT');
  });
});
