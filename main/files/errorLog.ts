// Where the trace of an unexpected error goes: a file for whoever mends it, a sentence for the person.
import { join } from 'node:path';
import type { Disk } from './disk.ts';

/** Writes the report and says, in one sentence, what happened and where the report lies. */
export async function reportBug(disk: Disk, logFolder: string, error: unknown, at: Date): Promise<string> {
  const path = join(logFolder, `error-${at.toISOString().replace(/[:.]/g, '-')}.log`);
  const detail = error instanceof Error ? (error.stack ?? error.message) : String(error);
  const content = `${at.toISOString()}\nnode ${process.version}, ${process.platform} ${process.arch}\n${detail}\n`;
  const made = await disk.makeFolder(logFolder);
  const written = made.ok ? await disk.write(path, content) : made;
  const what = 'Something went wrong that should not have; this is a fault of the program, not of your files.';
  return written.ok
    ? `${what} Please report it with the file ${path}`
    : `${what} (${error instanceof Error ? error.message : String(error)})`;
}
