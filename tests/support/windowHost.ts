// The program as a person starts it without a desktop: the loopback host as a process of its own, with its own empty home,
// and a page of the browser on it that fails the test when anything is written to its console as an error.
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, type Locator, type Page, test } from '@playwright/test';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { packSet } from '../../shared/usecases/archive.ts';

export interface WindowHost {
  readonly address: string;
  readonly home: string;
  /** Kills the program as a power cut would. */
  readonly kill: () => Promise<void>;
}

/** A folder that goes away with `remove`. */
export function temporaryFolder(): { readonly path: string; readonly remove: () => void } {
  const path = mkdtempSync(join(tmpdir(), 'notchwise-window-'));
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}

export function writeSet(folder: string, set: PatternSet): string {
  const path = join(folder, `${set.name}.notchwise`);
  writeFileSync(path, packSet({ set, pictures: new Map() }, new Date(2026, 10, 25)));
  return path;
}

export async function startHost(home: string, set?: string): Promise<WindowHost> {
  const args = ['--import', 'tsx', 'main/cli/index.ts', 'window', ...(set === undefined ? [] : [set])];
  const child = spawn(process.execPath, [...args, '--no-browser', '--json'], {
    env: { ...process.env, NOTCHWISE_HOME: home },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  return { address: await addressOf(child), home, kill: () => killed(child) };
}

/** The program with a set open in it, at home in a folder of its own. */
export function startWith(folder: string, set: PatternSet): Promise<WindowHost> {
  return startHost(mkdtempSync(join(folder, 'home-')), writeSet(folder, set));
}

/** The program that the tests of a file run on, one for all or a new one for each; ended behind them, its folder taken away. */
export function programFor(tests: 'all' | 'each', set?: PatternSet): { host: WindowHost } {
  const running = {} as { host: WindowHost };
  let folder: ReturnType<typeof temporaryFolder>;
  const before = async () => {
    folder = temporaryFolder();
    running.host = await (set === undefined ? startHost(folder.path) : startWith(folder.path, set));
  };
  const after = async () => {
    await running.host.kill();
    folder.remove();
  };
  if (tests === 'all') {
    test.beforeAll(before);
    test.afterAll(after);
  } else {
    test.beforeEach(before);
    test.afterEach(after);
  }
  return running;
}

/** Opens the window and collects what a browser reports as wrong. */
export async function openWindow(page: Page, host: WindowHost): Promise<{ readonly errors: readonly string[] }> {
  const errors: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  page.on('pageerror', (error) => errors.push(String(error)));
  await page.emulateMedia({ reducedMotion: 'reduce' });
  await page.goto(host.address);
  await expect(page.getByText('Starting …')).toHaveCount(0);
  return { errors };
}

/** Files dropped on the window as a file manager drops them. */
export async function dropFiles(page: Page, files: readonly { readonly name: string; readonly bytes: Buffer }[]) {
  const given = files.map(({ name, bytes }) => ({ name, base64: bytes.toString('base64') }));
  const transfer = await page.evaluateHandle((list) => {
    const data = new DataTransfer();
    for (const { name, base64 } of list) {
      data.items.add(new File([Uint8Array.from(atob(base64), (c) => c.charCodeAt(0))], name));
    }
    return data;
  }, given);
  await page.dispatchEvent('.canvas', 'drop', { dataTransfer: transfer });
}

/** How many pixels of the canvas have about this colour. */
export function pixelsOf(page: Page, [red, green, blue]: readonly [number, number, number]): Promise<number> {
  return page.evaluate(
    ([r, g, b]) => {
      const canvas = document.querySelector('canvas');
      const context = canvas?.getContext('2d');
      if (canvas === null || !context) throw new Error('there is no canvas');
      const { data } = context.getImageData(0, 0, canvas.width, canvas.height);
      let count = 0;
      for (let i = 0; i < data.length; i += 4) {
        const away = Math.abs(data[i]! - r) + Math.abs(data[i + 1]! - g) + Math.abs(data[i + 2]! - b);
        if (data[i + 3]! > 0 && away < 60) count++;
      }
      return count;
    },
    [red, green, blue] as const,
  );
}

async function addressOf(child: ChildProcess): Promise<string> {
  let said = '';
  child.stderr?.on('data', (text) => {
    said += text;
  });
  return new Promise((done, bad) => {
    child.stdout?.on('data', (text) => {
      said += text;
      const address = /"address":"([^"]+)"/.exec(said)?.[1];
      if (address !== undefined) done(address);
    });
    child.once('exit', () => bad(new Error(`the program ended before it had an address: ${said}`)));
  });
}

async function killed(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const ended = once(child, 'exit');
  child.kill('SIGKILL');
  await ended;
}

/** The button of a step of the job, at the top of the window. */
export function step(page: Page, name: string): Locator {
  return page.getByRole('navigation', { name: 'Steps' }).getByRole('button', { name });
}
