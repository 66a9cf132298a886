// Where files go and come from, as the window asked: a dialog, the archive folder, or through the window itself.
import { basename, dirname, join } from 'node:path';
import type * as z from 'zod';
import { fail, ok, type Result } from '../../shared/base/result.ts';
import type { destination, source, written } from '../../shared/contract/values.ts';
import type { MadeFile } from '../../shared/usecases/madeFile.ts';
import { fileNameFor } from '../files/setStore.ts';
import type { FileKind, HostParts } from './parts.ts';

type Destination = z.output<typeof destination>;
type Source = z.output<typeof source>;
type Written = z.output<typeof written>;

export interface NamedBytes {
  readonly name: string;
  readonly bytes: Uint8Array;
  /** Null when the bytes came through the window. */
  readonly path: string | null;
}

/** Several files go into the folder of the place that was chosen for the first. */
export async function deliver(parts: HostParts, files: readonly MadeFile[], to: Destination): Promise<Result<Written>> {
  const names = files.map((file) => file.name);
  if (to.kind === 'window') {
    const inBytes = files.map(({ name, mime, content }) => ({
      name,
      mime,
      bytes: typeof content === 'string' ? new TextEncoder().encode(content) : content,
    }));
    return ok({ names, sentence: null, files: inBytes });
  }
  const target = await targetPath(parts, files[0]?.name ?? '', to);
  if (!target.ok) return target;
  const folder = dirname(target.value);
  const made = await parts.disk.makeFolder(folder);
  if (!made.ok) return made;
  const paths = files.map((file, index) => (index === 0 ? target.value : join(folder, file.name)));
  for (const [index, file] of files.entries()) {
    const done = await parts.disk.write(paths[index]!, file.content);
    if (!done.ok) return done;
  }
  return ok({ names: paths.map((path) => basename(path)), sentence: `Saved in ${folder}.`, files: [] });
}

/** The place for one file; `pick` without dialogs or without a choice is a failure with the code `not-chosen`. */
export async function targetPath(
  parts: HostParts,
  suggestedName: string,
  to: Exclude<Destination, { kind: 'window' }>,
): Promise<Result<string>> {
  if (to.kind === 'archive') return ok(join(parts.folders.archive, fileNameFor(to.name) + endingOf(suggestedName)));
  if (parts.dialogs === null) return noDialogs();
  const picked = await parts.dialogs.pickTarget(suggestedName);
  return picked === null ? notChosen() : ok(picked);
}

/** The files that the person chose or gave, read. */
export async function receive(parts: HostParts, from: Source, kind: FileKind): Promise<Result<readonly NamedBytes[]>> {
  if (from.kind === 'given') return ok(from.files.map((file) => ({ ...file, path: null })));
  if (parts.dialogs === null) return noDialogs();
  const paths = await parts.dialogs.pickFiles(kind);
  if (paths.length === 0) return notChosen();
  const read: NamedBytes[] = [];
  for (const path of paths) {
    const bytes = await parts.disk.read(path);
    if (!bytes.ok) return bytes;
    read.push({ name: basename(path), bytes: bytes.value, path });
  }
  return ok(read);
}

function endingOf(name: string): string {
  const dot = name.lastIndexOf('.');
  return dot === -1 ? '' : name.slice(dot);
}

function noDialogs(): Result<never> {
  return fail('no-dialogs', 'This window cannot open a file dialog of the system; use its own buttons for files.');
}

function notChosen(): Result<never> {
  return fail('not-chosen', 'Nothing was chosen.');
}
