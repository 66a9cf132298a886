// Paths as people type them, relative to where they stand.
import { resolve } from 'node:path';
import type { OpenedSet } from '../../shared/usecases/archive.ts';
import { openSet } from '../files/setStore.ts';
import { need } from './exitCodes.ts';
import type { CliSurroundings } from './surroundings.ts';

export function pathOf(around: CliSurroundings, typed: string): string {
  return resolve(around.cwd, typed);
}

/** The set, or the end of the command; its warnings go to standard error. */
export async function setAt(around: CliSurroundings, typed: string): Promise<OpenedSet> {
  const opened = need(await openSet(around.disk, pathOf(around, typed)));
  for (const warning of opened.warnings) around.err(warning.message);
  return opened;
}
