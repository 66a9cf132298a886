import { describe, expect, it } from 'vitest';
import { openJournal } from '../../../../main/files/journal.ts';
import { emptySet } from '../../../../shared/usecases/setFromCapture.ts';
import { memoryDisk } from '../../../support/memoryDisk.ts';

const entry = { id: 'abc', title: 'Dress', path: '/sets/dress.notchwise', set: emptySet('Dress') };

describe('the recovery journal', () => {
  it('gives back what was not saved, with its pictures, after a new start', async () => {
    const disk = memoryDisk();
    const before = openJournal(disk, '/data');
    await before.keep(entry);
    await before.keepPicture('abc', 'shot-1.jpg', new Uint8Array([1]));
    const after = openJournal(disk, '/data');
    expect(await after.left()).toEqual({ entries: [entry], unreadable: [] });
    expect(await after.pictures('abc')).toEqual(new Map([['shot-1.jpg', new Uint8Array([1])]]));
  });

  it('forgets a set that was saved', async () => {
    const disk = memoryDisk();
    const journal = openJournal(disk, '/data');
    await journal.keep(entry);
    await journal.keepPicture('abc', 'shot-1.jpg', new Uint8Array([1]));
    await journal.forget('abc');
    expect([...disk.files.keys()]).toEqual([]);
    expect(await journal.left()).toEqual({ entries: [], unreadable: [] });
  });

  it('names what it cannot read and leaves it where it is', async () => {
    const disk = memoryDisk();
    const journal = openJournal(disk, '/data');
    await journal.keep(entry);
    disk.files.set('/data/journal/cut.journal.json', new TextEncoder().encode('{"journal":1,"ti'));
    disk.files.set(
      '/data/journal/odd.journal.json',
      new TextEncoder().encode('{"journal":1,"title":"x","path":null,"set":{}}'),
    );
    expect(await journal.left()).toEqual({ entries: [entry], unreadable: ['cut.journal.json', 'odd.journal.json'] });
    expect(disk.files.has('/data/journal/cut.journal.json')).toBe(true);
  });
});
