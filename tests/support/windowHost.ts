// The program as a person starts it without a desktop: the loopback host as a process of its own, with its own empty home,
// and a page of the browser on it that fails the test when anything is written to its console as an error.
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test as base, expect, type Locator, type Page } from '@playwright/test';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { packSet } from '../../shared/usecases/archive.ts';

export interface WindowHost {
  readonly address: string;
  readonly home: string;
  /** Kills the program as a power cut would. */
  readonly kill: () => Promise<void>;
}

/** A folder that goes away with `remove`. */
function temporaryFolder(): { readonly path: string; readonly remove: () => void } {
  const path = mkdtempSync(join(tmpdir(), 'notchwise-window-'));
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}

function packed(set: PatternSet): Buffer {
  return Buffer.from(packSet({ set, pictures: new Map() }, new Date(2026, 10, 25)));
}

/** The program at home in that folder, with a set open in it where one is given. */
export async function startHost(home: string, set: PatternSet | null): Promise<WindowHost> {
  const file = set === null ? null : join(home, `${set.name}.notchwise`);
  if (set !== null && file !== null) writeFileSync(file, packed(set));
  const args = ['--import', 'tsx', 'main/cli/index.ts', 'window', ...(file === null ? [] : [file])];
  const child = spawn(process.execPath, [...args, '--no-browser', '--json'], {
    env: { ...process.env, NOTCHWISE_HOME: home },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  return { address: await addressOf(child), home, kill: () => killed(child) };
}

/** The program in a new home of its own, with a set open in it or with none, for the length of the work. */
export async function withProgram(set: PatternSet | null, work: (program: WindowHost) => Promise<void>): Promise<void> {
  const folder = temporaryFolder();
  const program = await startHost(folder.path, set);
  try {
    await work(program);
  } finally {
    await program.kill();
    folder.remove();
  }
}

/**
 * A test with the one program that all window tests share: it is started once, as starting is dear, and every test opens a
 * set of its own in it.
 */
export const test = base.extend<object, { readonly program: WindowHost }>({
  program: [
    // biome-ignore lint/correctness/noEmptyPattern: Playwright reads from the pattern which fixtures this one needs.
    async ({}, use) => withProgram(null, use),
    { scope: 'worker' },
  ],
});

/** Opens the window, and a set in it where one is given; collects what a browser reports as wrong. */
export async function openWindow(
  page: Page,
  host: WindowHost,
  set?: PatternSet,
): Promise<{ readonly errors: readonly string[] }> {
  const errors: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  page.on('pageerror', (error) => errors.push(String(error)));
  await page.emulateMedia({ reducedMotion: 'reduce' });
  await page.goto(host.address);
  await expect(page.getByText('Starting …')).toHaveCount(0);
  if (set !== undefined) {
    await dropFiles(page, [{ name: `${set.name}.notchwise`, bytes: packed(set) }]);
    await expect(page.getByText(`"${set.name}" is open`)).toBeVisible();
  }
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

/** How many pixels of the canvas have about this colour: all three parts together no farther off than `within`. */
export function pixelsOf(
  page: Page,
  [red, green, blue]: readonly [number, number, number],
  within = 60,
): Promise<number> {
  return page.evaluate(
    ([r, g, b, most]) => {
      const canvas = document.querySelector('canvas');
      const context = canvas?.getContext('2d');
      if (canvas === null || !context) throw new Error('there is no canvas');
      const { data } = context.getImageData(0, 0, canvas.width, canvas.height);
      let count = 0;
      for (let i = 0; i < data.length; i += 4) {
        const away = Math.abs(data[i]! - r) + Math.abs(data[i + 1]! - g) + Math.abs(data[i + 2]! - b);
        if (data[i + 3]! > 0 && away < most) count++;
      }
      return count;
    },
    [red, green, blue, within] as const,
  );
}

/** The same when the canvas is at rest: a view that still moves shows now more, now less. */
export async function pixelsAtRest(
  page: Page,
  colour: readonly [number, number, number],
  within?: number,
): Promise<number> {
  let last = -1;
  await expect
    .poll(async () => {
      const before = last;
      last = await pixelsOf(page, colour, within);
      return last === before;
    })
    .toBe(true);
  return last;
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
