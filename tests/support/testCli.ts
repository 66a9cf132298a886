// The command line in this process: a memory disk, and what it prints by line.
import { runCli } from '../../main/cli/run.ts';
import type { CliSurroundings } from '../../main/cli/surroundings.ts';
import { type MemoryDisk, memoryDisk } from './memoryDisk.ts';

export interface CliRun {
  readonly exit: number;
  readonly out: readonly string[];
  readonly err: readonly string[];
  readonly disk: MemoryDisk;
}

export interface CliOptions {
  readonly disk?: MemoryDisk;
  readonly files?: Readonly<Record<string, string | Uint8Array>>;
  readonly changes?: Partial<CliSurroundings>;
}

/** Runs in the folder /home; `files` lie in it. */
export async function cli(
  argv: readonly string[],
  { disk = memoryDisk(), files = {}, changes = {} }: CliOptions = {},
): Promise<CliRun> {
  for (const [name, content] of Object.entries(files)) {
    disk.files.set(`/home/${name}`, typeof content === 'string' ? new TextEncoder().encode(content) : content);
  }
  const out: string[] = [];
  const err: string[] = [];
  const exit = await runCli(argv, {
    out: (text) => out.push(text),
    err: (text) => err.push(text),
    disk,
    folders: { data: '/data', logs: '/logs', archive: '/archive' },
    cwd: '/home',
    platform: 'linux',
    env: {},
    now: () => new Date(2026, 10, 25),
    newHandle: () => 'handle',
    signal: new AbortController().signal,
    ...changes,
  });
  return { exit, out, err, disk };
}
