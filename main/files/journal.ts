// The recovery journal: the latest state of every set with unsaved changes, so that a killed program loses nothing. One
// small file a document (the set as JSON; pictures once, beside it), written atomically, removed when the set is saved.
import { join } from 'node:path';
import * as z from 'zod';
import { fail, ok, type Result } from '../../shared/base/result.ts';
import { readSetDocument } from '../../shared/formats/set/read.ts';
import { setDocument } from '../../shared/formats/set/write.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import type { Disk } from './disk.ts';

interface JournalEntry {
  readonly id: string;
  readonly title: string;
  /** Where the set was last saved; null = never. */
  readonly path: string | null;
  readonly set: PatternSet;
}

const ENDING = '.journal.json';
const entrySchema = z.object({
  journal: z.literal(1),
  title: z.string(),
  path: z.string().nullable(),
  set: z.unknown(),
});

export interface Journal {
  readonly keep: (entry: JournalEntry) => Promise<Result<void>>;
  /** Pictures do not change after a capture, so they are kept once. */
  readonly keepPicture: (id: string, file: string, bytes: Uint8Array) => Promise<Result<void>>;
  readonly forget: (id: string) => Promise<Result<void>>;
  /** What an earlier run left behind; an entry that cannot be read is named in `unreadable`, never deleted. */
  readonly left: () => Promise<{ readonly entries: readonly JournalEntry[]; readonly unreadable: readonly string[] }>;
  readonly pictures: (id: string) => Promise<ReadonlyMap<string, Uint8Array>>;
}

export function openJournal(disk: Disk, dataFolder: string): Journal {
  const folder = join(dataFolder, 'journal');
  const fileOf = (id: string) => join(folder, `${id}${ENDING}`);
  const picturesOf = (id: string) => join(folder, `${id}.shots`);
  return {
    keep: async (entry) => {
      const made = await disk.makeFolder(folder);
      if (!made.ok) return made;
      const content = { journal: 1, title: entry.title, path: entry.path, set: setDocument(entry.set) };
      return disk.write(fileOf(entry.id), JSON.stringify(content));
    },
    keepPicture: async (id, file, bytes) => {
      const made = await disk.makeFolder(picturesOf(id));
      return made.ok ? disk.write(join(picturesOf(id), file), bytes) : made;
    },
    forget: async (id) => {
      const gone = await disk.remove(fileOf(id));
      return gone.ok ? disk.remove(picturesOf(id)) : gone;
    },
    left: async () => {
      const names = await disk.list(folder);
      const files = names.ok ? names.value.filter((name) => name.endsWith(ENDING)) : []; // no folder yet: nothing left
      const read = await Promise.all(files.map(async (name) => ({ name, entry: await readEntry(disk, folder, name) })));
      return {
        entries: read.flatMap(({ entry }) => (entry.ok ? [entry.value] : [])),
        unreadable: read.flatMap(({ name, entry }) => (entry.ok ? [] : [name])),
      };
    },
    pictures: async (id) => {
      const names = await disk.list(picturesOf(id));
      const pictures = new Map<string, Uint8Array>();
      for (const name of names.ok ? names.value : []) {
        const bytes = await disk.read(join(picturesOf(id), name));
        if (bytes.ok) pictures.set(name, bytes.value);
      }
      return pictures;
    },
  };
}

async function readEntry(disk: Disk, folder: string, name: string): Promise<Result<JournalEntry>> {
  const bytes = await disk.read(join(folder, name));
  if (!bytes.ok) return bytes;
  let json: unknown;
  try {
    json = JSON.parse(new TextDecoder().decode(bytes.value));
  } catch {
    return fail('broken-journal', `The recovery file ${name} is damaged; it was left where it is.`);
  }
  const parsed = entrySchema.safeParse(json);
  if (!parsed.success)
    return fail('broken-journal', `The recovery file ${name} is not one of ours; it was left alone.`);
  const read = readSetDocument(name, parsed.data.set);
  if (!read.ok) return read;
  return ok({
    id: name.slice(0, -ENDING.length),
    title: parsed.data.title,
    path: parsed.data.path,
    set: read.value.set,
  });
}
