// The step "Photos" in a real browser: a plan opened, photos dropped, read, cancelled, refused.
import { readFileSync } from 'node:fs';
import { expect } from '@playwright/test';
import { dropFiles, openWindow, pixelsOf, step, test, withProgram } from '../support/windowHost.ts';

const PLAN = { name: 'marl-plan.json', bytes: readFileSync('assets/demo/marl-plan.json') };
const SKIRT = {
  name: '3-front-skirt.jpg',
  bytes: readFileSync('assets/demo/photos/marl-m/3-front-skirt.jpg'),
};
/** Reading takes its time where many tests run at once. */
const READ = { timeout: 180_000 } as const;
const TRACED_LINE = [194, 24, 91] as const;

test('a plan and a photo become a piece with its outline over the photo; a correction by hand outlives another reading', async ({
  page,
}) => {
  test.setTimeout(480_000);
  await withProgram(null, async (program) => {
    const { errors } = await openWindow(page, program);
    await expect(page.getByRole('heading', { name: 'Check your pattern before you cut' })).toBeVisible();
    await dropFiles(page, [PLAN]);
    await expect(page.getByRole('button', { name: /Pieces/ })).toContainText('0 of 9');

    await dropFiles(page, [SKIRT]);
    await expect(page.getByRole('button', { name: /3-front-skirt\.jpg.*megapixels/ })).toBeVisible();
    expect(await pixelsOf(page, TRACED_LINE)).toBe(0);

    await page.getByLabel('Ruler X').fill('18');
    await page.getByRole('button', { name: 'Read this photo' }).click();
    await expect(page.getByRole('alert')).toContainText('Measure both rulers');
    await page.getByRole('alert').getByRole('button', { name: 'Close this message' }).click();
    await page.getByLabel('Ruler X').fill('180');
    await page.getByLabel('Ruler Y').fill('240');
    // Half-way cancelled, nothing is changed and the photo waits to be read again.
    await page.getByRole('button', { name: 'Read this photo' }).click();
    await expect(page.getByRole('progressbar', { name: 'Reading' })).toBeVisible();
    await page.getByRole('button', { name: 'Cancel' }).click();
    await expect(page.getByText('The reading was cancelled; nothing was changed.')).toBeVisible();
    await expect(page.getByRole('button', { name: /Pieces/ })).toContainText('0 of 9');

    await page.getByRole('button', { name: 'Read this photo' }).click();
    await expect(page.getByText('One piece was found')).toBeVisible(READ);
    await expect(page.getByRole('button', { name: /3-front-skirt\.jpg.*4 cards.*1 piece\b/ })).toBeVisible();
    await expect.poll(() => pixelsOf(page, TRACED_LINE)).toBeGreaterThan(800);
    await expect(page.getByRole('button', { name: /Pieces/ })).toContainText('1 of 9');

    const undo = page.getByRole('button', { name: 'Undo' });
    const redo = page.getByRole('button', { name: 'Redo' });
    await undo.click();
    await expect(page.getByRole('button', { name: /Pieces/ })).toContainText('0 of 9');
    await redo.click();
    await expect(page.getByRole('button', { name: /Pieces/ })).toContainText('1 of 9');

    await page.getByRole('button', { name: 'Go on to the pieces' }).click();
    await expect(page.getByText('From 3-front-skirt.jpg.')).toBeVisible();
    const side = page.getByRole('button', { name: /^side.*sewn/ });
    const before = await side.textContent();
    await page.locator('.canvas').focus();
    await page.keyboard.press('.');
    for (let i = 0; i < 3; i++) await page.keyboard.press('Shift+ArrowDown');
    await expect(page.getByText('Corrections by hand (1)')).toBeVisible();
    const corrected = lengthIn(await side.textContent());
    expect(Math.abs(corrected - lengthIn(before))).toBeGreaterThan(1);

    await step(page, 'Photos').click();
    await page.getByRole('button', { name: /3-front-skirt\.jpg.*4 cards/ }).click();
    await page.getByRole('button', { name: 'Read it again' }).click();
    await page.getByRole('button', { name: 'Read this photo' }).click();
    await expect(page.getByRole('button', { name: /3-front-skirt\.jpg.*megapixels/ })).toHaveCount(0, READ);
    await page.getByRole('button', { name: 'Go on to the pieces' }).click();
    await expect(page.getByText('Corrections by hand (1)')).toBeVisible();
    // The old outline is laid onto the new one to hundredths of a millimetre.
    const again = await side.textContent();
    expect(Math.abs(lengthIn(again) - corrected)).toBeLessThan(0.15);
    for (let i = 0; i < 2; i++) await undo.click();
    await expect(side).toHaveText(before!);
    for (let i = 0; i < 2; i++) await redo.click();
    await expect(side).toHaveText(again!);
    expect(errors).toEqual([]);
  });
});

test('a file that is no picture gets one sentence with its name, and the good one beside it is taken in', async ({
  page,
  program,
}) => {
  await openWindow(page, program);
  await dropFiles(page, [{ name: 'shopping list.txt', bytes: Buffer.from('buttons, thread, calico') }, SKIRT]);
  await expect(page.getByRole('alert')).toContainText('shopping list.txt');
  await expect(page.getByRole('button', { name: /3-front-skirt\.jpg.*megapixels/ })).toBeVisible();
});

test('a broken set is refused in one sentence and what was open stays open', async ({ page, program }) => {
  await openWindow(page, program);
  await dropFiles(page, [PLAN]);
  await expect(page.getByRole('button', { name: /Pieces/ })).toContainText('of 9');
  await dropFiles(page, [{ name: 'old.notchwise', bytes: Buffer.from('{"format":"notchwise-set/9"}') }]);
  await expect(page.getByRole('alert')).toContainText('update the program');
  await expect(page.getByRole('button', { name: /Pieces/ })).toContainText('of 9');
});

test('the page of reference cards comes as a PDF', async ({ page, program }) => {
  await openWindow(page, program);
  await page.getByText('Print reference cards').last().click();
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'A4', exact: true }).click();
  expect((await download).suggestedFilename()).toMatch(/\.pdf$/);
});

function lengthIn(words: string | null): number {
  return Number(/([\d.]+) ±/.exec(words ?? '')?.[1]);
}
