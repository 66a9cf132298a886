// Files between the person and the window: what was dropped, as bytes; what was made, handed out as a download.

export interface GivenFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** What a file is taken for by its name; the host judges its content. */
export type FileSort = 'set' | 'drawing' | 'photo';

export function sortOf(name: string): FileSort {
  if (/\.(notchwise|json)$/i.test(name)) return 'set';
  if (/\.svg$/i.test(name)) return 'drawing';
  return 'photo';
}

export interface ReadFiles {
  readonly files: readonly GivenFile[];
  /** What could not be read, in one sentence; null when all could. */
  readonly unread: string | null;
}

/** A folder among dropped files, or a file that went away or may not be read, gives no bytes: it is named instead. */
export async function readFiles(given: Iterable<File>): Promise<ReadFiles> {
  const names: string[] = [];
  const files = await Promise.all(
    [...given].map(async (file): Promise<GivenFile[]> => {
      try {
        return [{ name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) }];
      } catch {
        names.push(file.name);
        return [];
      }
    }),
  );
  const unread =
    names.length === 0
      ? null
      : `${names.join(', ')} could not be read: a folder, or a file that is gone or closed to you; take the files themselves.`;
  return { files: files.flat(), unread };
}

/** An address for a picture in memory; give it back with URL.revokeObjectURL. */
export function pictureAddress(bytes: Uint8Array, mime: string): string {
  return URL.createObjectURL(new Blob([new Uint8Array(bytes)], { type: mime }));
}

/** Time for the browser to begin reading before the address is given back. */
const KEEP_ADDRESS_MS = 60_000;

export function download(name: string, mime: string, bytes: Uint8Array): void {
  const link = document.createElement('a');
  link.href = pictureAddress(bytes, mime);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), KEEP_ADDRESS_MS);
}
