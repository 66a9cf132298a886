// The one door to the disk: reading whole files, writing them so that a reader sees the old or the new content and never a
// part, with trouble as a sentence. Handed around as a value so that tests can put a read-only disk in its place.
import { mkdir, readdir, readFile, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import writeFileAtomic from 'write-file-atomic';
import { ok, type Result } from '../../shared/base/result.ts';
import { fileTrouble, systemCode } from './fileTrouble.ts';

export interface Disk {
  readonly read: (path: string) => Promise<Result<Uint8Array>>;
  /** Replaces the file whole; its folder must exist. */
  readonly write: (path: string, content: Uint8Array | string) => Promise<Result<void>>;
  readonly makeFolder: (path: string) => Promise<Result<void>>;
  readonly isFolder: (path: string) => Promise<boolean>;
  /** All files below a folder, by path inside it with forward slashes, sorted. */
  readonly list: (folder: string) => Promise<Result<readonly string[]>>;
  /** A file, or a folder with everything in it; gone already is fine. */
  readonly remove: (path: string) => Promise<Result<void>>;
}

export const realDisk: Disk = {
  read: (path) => attempt('read', path, async () => new Uint8Array(await readFile(path))),
  write: (path, content) =>
    attempt('write', path, () => writeFileAtomic(path, typeof content === 'string' ? content : Buffer.from(content))),
  makeFolder: (path) =>
    attempt('write', path, async () => {
      await mkdir(path, { recursive: true });
    }),
  isFolder: async (path) => {
    try {
      return (await stat(path)).isDirectory();
    } catch (error) {
      if (systemCode(error) === null) throw error;
      return false; // what cannot be looked at is not a folder to us; reading it will say why
    }
  },
  list: (folder) =>
    attempt('read', folder, async () => {
      const entries = await readdir(folder, { recursive: true, withFileTypes: true });
      return entries
        .filter((entry) => entry.isFile())
        .map((entry) =>
          join(entry.parentPath, entry.name).slice(folder.length).replaceAll('\\', '/').replace(/^\/+/, ''),
        )
        .sort();
    }),
  remove: (path) => attempt('write', path, () => rm(path, { force: true, recursive: true })),
};

async function attempt<T>(doing: 'read' | 'write', path: string, work: () => Promise<T>): Promise<Result<T>> {
  try {
    return ok(await work());
  } catch (error) {
    return fileTrouble(error, doing, path);
  }
}
