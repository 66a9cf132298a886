// Paths as people type them, relative to where they stand.
import { resolve } from 'node:path';
import type { OpenedSet } from '../../shared/usecases/archive.ts';
import { withSeamsToJudge } from '../../shared/usecases/proposeSeams.ts';
import { openSet, SET_ENDING } from '../files/setStore.ts';
import { end, need } from './exitCodes.ts';
import type { CliSurroundings } from './surroundings.ts';

export function pathOf(around: CliSurroundings, typed: string): string {
  return resolve(around.cwd, typed);
}

/**
 * Where a set is to be written (null = nowhere), or the end of the command: a set is never written over a photo or a drawing
 * by a slip.
 */
export function setPathOf(around: CliSurroundings, typed: string | undefined): string | null {
  if (typed === undefined) return null;
  if (!typed.endsWith(SET_ENDING)) end('not-a-set-name', `${typed} should end in ${SET_ENDING}, as set files do.`);
  return pathOf(around, typed);
}

/** The set, or the end of the command; its warnings go to standard error. */
export async function setAt(around: CliSurroundings, typed: string): Promise<OpenedSet> {
  const opened = need(await openSet(around.disk, pathOf(around, typed)));
  for (const warning of opened.warnings) around.err(warning.message);
  return opened;
}

/** The same with seams to judge by: where the set has none, those that we propose, which is said on standard error. */
export async function setToJudge(around: CliSurroundings, typed: string): Promise<OpenedSet> {
  const opened = await setAt(around, typed);
  const { set, note } = withSeamsToJudge(opened.set);
  if (note !== null) around.err(note);
  return { ...opened, set };
}
