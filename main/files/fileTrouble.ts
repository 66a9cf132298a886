// What went wrong with a file, as one sentence for the person. Errors of the system that are not listed are bugs or news,
// and are thrown on.
import { fail, type Result } from '../../shared/base/result.ts';

type Doing = 'read' | 'write';

/** Turns an error of node:fs into a failure with a sentence; throws what is not one. */
export function fileTrouble(error: unknown, doing: Doing, path: string): Result<never> {
  const code = systemCode(error);
  const sentence = code === null ? undefined : SENTENCES[doing][code]?.(path);
  if (code === null || sentence === undefined) throw error;
  return fail(`file-${code.toLowerCase()}`, sentence);
}

/** ENOENT and its kin; null when the error did not come from the system. */
export function systemCode(error: unknown): string | null {
  return error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : null;
}

const SENTENCES: Readonly<Record<Doing, Readonly<Record<string, (path: string) => string>>>> = {
  read: {
    ENOENT: (path) => `There is no file ${path}; check the name and the folder.`,
    ENOTDIR: (path) => `There is no file ${path}; a part of its path is not a folder.`,
    EISDIR: (path) => `${path} is a folder; name a file in it.`,
    EACCES: (path) => `${path} may not be read by you; change its permissions or copy it to your own folder.`,
    EPERM: (path) => `${path} may not be read by you; change its permissions or copy it to your own folder.`,
    EMFILE: (path) => `${path} could not be opened because too many files are open; close some programs and try again.`,
    EIO: (path) => `${path} could not be read: the disk reports an error; copy it elsewhere and try again.`,
    ENAMETOOLONG: (path) => `The name ${path.slice(0, 60)}… is too long to be a file.`,
  },
  write: {
    ENOENT: (path) => `${path} could not be written because its folder does not exist; create it or choose another.`,
    ENOTDIR: (path) => `${path} could not be written because a part of its path is not a folder; choose another place.`,
    EISDIR: (path) => `${path} is a folder; add a file name.`,
    EACCES: (path) =>
      `${path} could not be written because its folder is read-only for you; choose another with --out.`,
    EPERM: (path) => `${path} could not be written because its folder is read-only for you; choose another with --out.`,
    EROFS: (path) => `${path} could not be written because its disk is read-only; choose another place with --out.`,
    ENOSPC: (path) => `${path} could not be written because the disk is full; make room or choose another disk.`,
    EDQUOT: (path) =>
      `${path} could not be written because your share of the disk is full; make room or choose another.`,
    EBUSY: (path) => `${path} is in use by another program; close it there and try again.`,
    EEXIST: (path) => `${path} is in the way: a file stands where a folder is needed; choose another place.`,
    EIO: (path) => `${path} could not be written: the disk reports an error; choose another disk.`,
    ENAMETOOLONG: (path) => `The name ${path.slice(0, 60)}… is too long for a file; choose a shorter one.`,
  },
};
