// Which program the command line starts: on a small tree of its own, with times set by hand.
import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';

const root = mkdtempSync(join(tmpdir(), 'notchwise-start-'));
const built = join(root, 'dist/cli/index.js');
const HOUR_SECONDS = 3600;

beforeAll(() => {
  for (const folder of ['main/cli', 'shared', 'dist/cli']) mkdirSync(join(root, folder), { recursive: true });
  symlinkSync(join(process.cwd(), 'node_modules'), join(root, 'node_modules'));
  copyFileSync('main/cli/start.mjs', join(root, 'main/cli/start.mjs'));
  writeFileSync(join(root, 'package.json'), '{ "type": "module" }');
  writeFileSync(
    join(root, 'main/cli/index.ts'),
    "const said: string = 'sources';\nconsole.log(said, process.argv[2]);\n",
  );
});
afterAll(() => rmSync(root, { recursive: true, force: true }));

function started(): string {
  const { stdout, stderr } = spawnSync(process.execPath, [join(root, 'main/cli/start.mjs'), 'check'], {
    encoding: 'utf8',
  });
  return `${stdout}${stderr}`.trim();
}

it('is the sources where nothing was built', () => {
  expect(started()).toBe('sources check');
});

it.each([
  ['newer than', HOUR_SECONDS, 'built check'],
  ['older than', -HOUR_SECONDS, 'sources check'],
])('is what it should be where the built program is %s its sources', (_, laterSeconds, expected) => {
  writeFileSync(built, "console.log('built', process.argv[2]);\n");
  const at = Date.now() / 1000 + laterSeconds;
  utimesSync(built, at, at);
  expect(started()).toBe(expected);
});
