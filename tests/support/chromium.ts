// Finds a Chromium for the window tests: an environment variable, the system's, Playwright's own download, and at last,
// as root on a Debian-like system, the package manager. Fails with one sentence when none can be had.
import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { chromium } from '@playwright/test';
import { fail, ok, type Result } from '../../shared/base/result.ts';

const VARIABLE = 'NOTCHWISE_CHROMIUM';
const SYSTEM_NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'];

export function findChromium(): Result<string> {
  const named = process.env[VARIABLE];
  if (named !== undefined && named !== '') {
    return isExecutable(named)
      ? ok(named)
      : fail('chromium-missing', `${VARIABLE} names ${named}, which cannot be run: point it at a Chromium program.`);
  }
  return (
    firstFound(systemChromium) ??
    firstFound(playwrightChromium, () => run('npx', ['playwright', 'install', 'chromium'])) ??
    firstFound(systemChromium, installWithApt) ??
    fail(
      'chromium-missing',
      `The window tests need a Chromium and none could be found or installed: install one or set ${VARIABLE} to its path.`,
    )
  );
}

function firstFound(find: () => string | null, prepare?: () => void): Result<string> | null {
  const before = find();
  if (before !== null) return ok(before);
  if (prepare === undefined) return null;
  prepare();
  const after = find();
  return after === null ? null : ok(after);
}

function systemChromium(): string | null {
  const folders = (process.env.PATH ?? '').split(delimiter);
  for (const name of SYSTEM_NAMES) {
    for (const folder of folders) {
      const path = join(folder, name);
      if (isExecutable(path)) return path;
    }
  }
  return null;
}

function playwrightChromium(): string | null {
  const path = chromium.executablePath();
  return isExecutable(path) ? path : null;
}

function installWithApt(): void {
  const isRoot = process.getuid?.() === 0;
  if (!isRoot || !existsSync('/usr/bin/apt-get')) return;
  run('apt-get', ['update']);
  run('apt-get', ['install', '-y', '--no-install-recommends', 'chromium']);
}

/** Its outcome is judged by whether a browser is there afterwards; what it says goes to the log. */
function run(command: string, args: readonly string[]): void {
  spawnSync(command, args, {
    stdio: ['ignore', 'inherit', 'inherit'],
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  });
}

function isExecutable(path: string): boolean {
  if (path === '' || !existsSync(path)) return false;
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false; // not runnable: the caller goes on to the next place
  }
}
