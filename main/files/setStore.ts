// Sets on disk: opened from a set file, a bare JSON file or an unpacked folder; saved whole and at once.
import { basename, join } from 'node:path';
import type { Result } from '../../shared/base/result.ts';
import { SET_JSON } from '../../shared/formats/set/read.ts';
import { type ArchivedSet, type OpenedSet, packSet, unpackSet, unpackSetFiles } from '../../shared/usecases/archive.ts';
import type { Disk } from './disk.ts';

export const SET_ENDING = '.notchwise';

/** Opens whatever of the three the path names. */
export async function openSet(disk: Disk, path: string): Promise<Result<OpenedSet>> {
  if (await disk.isFolder(path)) return openFolder(disk, path);
  const bytes = await disk.read(path);
  return bytes.ok ? unpackSet(basename(path), bytes.value) : bytes;
}

/** Writes the set file; the old one stays until the new one is whole. */
export async function saveSet(disk: Disk, path: string, archived: ArchivedSet, savedAt: Date): Promise<Result<void>> {
  return disk.write(path, packSet(archived, savedAt));
}

/** A plain file name for a set: what every system allows, never empty. */
export function fileNameFor(title: string): string {
  const plain = title
    .replace(/[^\p{L}\p{N} ._-]+/gu, ' ')
    .replace(/\s+/g, ' ')
    .replace(/^[ .]+|[ .]+$/g, '')
    .slice(0, 100);
  return plain === '' ? 'set' : plain;
}

async function openFolder(disk: Disk, folder: string): Promise<Result<OpenedSet>> {
  const names = await disk.list(folder);
  if (!names.ok) return names;
  const files = new Map<string, Uint8Array>();
  for (const name of names.value) {
    if (name !== SET_JSON && !name.startsWith('shots/')) continue;
    const bytes = await disk.read(join(folder, name));
    if (!bytes.ok) return bytes;
    files.set(name, bytes.value);
  }
  return unpackSetFiles(basename(folder), files);
}
