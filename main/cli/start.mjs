// Starts the command line: the built program where it is as new as its sources, else the sources themselves, which takes
// longer to load and runs slower.
import { existsSync, readdirSync, statSync } from 'node:fs';
import { fileURLToPath, pathToFileURL } from 'node:url';

const at = (path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const built = at('dist/cli/index.js');

if (isFresh(built)) await import(pathToFileURL(built).href);
else {
  const { register } = await import('tsx/esm/api');
  register();
  await import('./index.ts');
}

function isFresh(program) {
  if (!existsSync(program)) return false;
  const builtMs = statSync(program).mtimeMs;
  return ['main', 'shared'].every((folder) => newestMs(at(folder)) <= builtMs);
}

function newestMs(path) {
  const stat = statSync(path);
  if (!stat.isDirectory()) return stat.mtimeMs;
  // A folder's own time changes when a file in it comes or goes.
  return Math.max(stat.mtimeMs, ...readdirSync(path).map((name) => newestMs(`${path}/${name}`)));
}
