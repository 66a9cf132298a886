// The pages of the rules as they come with the program.
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ok, type Result } from '../../shared/base/result.ts';
import type { RulePages } from '../../shared/report/ruleText.ts';
import { fileTrouble } from './fileTrouble.ts';

/** Two folders up, from here as from where the desktop shell is built to. */
const FOLDER = fileURLToPath(new URL('../../assets/rules', import.meta.url));
const ENDING = '.md';

export async function rulePages(): Promise<Result<RulePages>> {
  try {
    const names = (await readdir(FOLDER)).filter((name) => name.endsWith(ENDING) && name !== 'README.md');
    const pages = await Promise.all(
      names.map(async (name) => [name.slice(0, -ENDING.length), await readFile(join(FOLDER, name), 'utf8')] as const),
    );
    return ok(new Map(pages));
  } catch (error) {
    return fileTrouble(error, 'read', FOLDER);
  }
}
