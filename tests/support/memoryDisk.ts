// A disk in memory, for tests of what is written; parts of it can be read-only or full, as real ones are.

import type { Disk } from '../../main/files/disk.ts';
import { fileTrouble } from '../../main/files/fileTrouble.ts';
import { fail, ok } from '../../shared/base/result.ts';

export interface MemoryDisk extends Disk {
  readonly files: Map<string, Uint8Array>;
}

const utf8 = new TextEncoder();

/** `trouble` names the system's error for a path that shall not be written; null = none. */
export function memoryDisk(trouble: (path: string) => string | null = () => null): MemoryDisk {
  const files = new Map<string, Uint8Array>();
  const refuse = (path: string) => {
    const code = trouble(path);
    return code === null ? null : fileTrouble(Object.assign(new Error(code), { code }), 'write', path);
  };
  return {
    files,
    read: async (path) => {
      const bytes = files.get(path);
      return bytes === undefined
        ? fail('file-enoent', `There is no file ${path}; check the name and the folder.`)
        : ok(bytes);
    },
    write: async (path, content) => {
      const refused = refuse(path);
      if (refused !== null) return refused;
      files.set(path, typeof content === 'string' ? utf8.encode(content) : content);
      return ok(undefined);
    },
    makeFolder: async (path) => refuse(path) ?? ok(undefined),
    isFolder: async (path) => [...files.keys()].some((name) => name.startsWith(`${path}/`)),
    list: async (folder) =>
      ok(
        [...files.keys()]
          .filter((name) => name.startsWith(`${folder}/`))
          .map((name) => name.slice(folder.length + 1))
          .sort(),
      ),
    remove: async (path) => {
      for (const name of [...files.keys()]) if (name === path || name.startsWith(`${path}/`)) files.delete(name);
      return ok(undefined);
    },
  };
}
