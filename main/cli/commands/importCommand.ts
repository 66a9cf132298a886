// import: drawings of other programs → a set.
import { basename } from 'node:path';
import { setDocument } from '../../../shared/formats/set/write.ts';
import { importInto } from '../../../shared/usecases/importFiles.ts';
import { emptySet } from '../../../shared/usecases/setFromCapture.ts';
import { saveSet } from '../../files/setStore.ts';
import { EXIT, type ExitCode, need } from '../exitCodes.ts';
import { pathOf, setAt, setPathOf } from '../paths.ts';
import type { CliSurroundings } from '../surroundings.ts';

interface ImportOptions {
  readonly into?: string;
  readonly out?: string;
  readonly json?: boolean;
}

export async function importCommand(
  typed: readonly string[],
  { into, out, json }: ImportOptions,
  around: CliSurroundings,
): Promise<ExitCode> {
  const path = setPathOf(around, out);
  const files: { readonly name: string; readonly bytes: Uint8Array }[] = [];
  for (const one of typed) {
    files.push({ name: basename(one), bytes: need(await around.disk.read(pathOf(around, one))) });
  }
  const opened = into === undefined ? null : await setAt(around, into);
  const title = basename(out ?? files[0]!.name).replace(/\.[^.]*$/, '');
  const start = opened?.set ?? emptySet(title);
  const { value: set, warnings } = need(importInto(start, files, (bytes) => new TextDecoder().decode(bytes)));
  for (const warning of warnings) around.err(warning.message);
  if (path !== null) {
    const pictures = opened?.pictures ?? new Map<string, Uint8Array>();
    need(await saveSet(around.disk, path, { set, pictures }, around.now()));
  }
  if (json) around.out(JSON.stringify(setDocument(set)));
  else {
    for (const piece of set.pieces) around.out(`${piece.name}: sizes ${Object.keys(piece.shapes).join(', ')}`);
    around.out(
      path === null ? 'Nothing was written; add --out FILE.notchwise to keep the set.' : `The set is in ${path}`,
    );
  }
  return EXIT.done;
}
