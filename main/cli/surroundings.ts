// Everything the command line touches outside itself, as one value: tests run commands in it without a process.
import { randomBytes } from 'node:crypto';
import { homedir } from 'node:os';
import { type Disk, realDisk } from '../files/disk.ts';
import { type UserFolders, userFolders } from '../files/userFolders.ts';

export interface CliSurroundings {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  readonly disk: Disk;
  readonly folders: UserFolders;
  /** Paths on the command line are relative to it. */
  readonly cwd: string;
  readonly platform: NodeJS.Platform;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly now: () => Date;
  readonly newHandle: () => string;
  /** Aborted by Ctrl-C. */
  readonly signal: AbortSignal;
}

export function realSurroundings(signal: AbortSignal): CliSurroundings {
  const { platform, env } = process;
  return {
    out: (text) => process.stdout.write(`${text}\n`),
    err: (text) => process.stderr.write(`${text}\n`),
    disk: realDisk,
    folders: userFolders({ platform, home: homedir(), env }),
    cwd: process.cwd(),
    platform,
    env,
    now: () => new Date(),
    newHandle: () => randomBytes(16).toString('hex'),
    signal,
  };
}
