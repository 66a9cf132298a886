// export: the pieces at true scale. One file when the set has one size, a folder of files otherwise.
import { join } from 'node:path';
import { type ExportKind, type ExportOptions, exportFiles } from '../../../shared/usecases/exportSet.ts';
import { EXIT, type ExitCode, end, need } from '../exitCodes.ts';
import { pathOf, setAt } from '../paths.ts';
import type { CliSurroundings } from '../surroundings.ts';

interface ExportCommandOptions extends ExportOptions {
  readonly to: ExportKind;
  readonly out: string;
  readonly json?: boolean;
}

export async function exportCommand(
  typed: string,
  { to, page, out, json }: ExportCommandOptions,
  around: CliSurroundings,
): Promise<ExitCode> {
  const { set } = await setAt(around, typed);
  const files = need(await exportFiles(set, to, { page }));
  const place = pathOf(around, out);
  const asFolder = files.length > 1 || (await around.disk.isFolder(place));
  // A name with another ending may be the set itself, typed by habit: it is never written over with a drawing.
  if (!asFolder && !out.toLowerCase().endsWith(`.${to}`)) end('unknown-format', `${out} should end in .${to}.`);
  if (asFolder) need(await around.disk.makeFolder(place));
  const paths = files.map((file) => (asFolder ? join(place, file.name) : place));
  for (const [index, file] of files.entries()) need(await around.disk.write(paths[index]!, file.content));
  around.out(json ? JSON.stringify({ files: paths }) : `Written: ${paths.join(', ')}`);
  return EXIT.done;
}
