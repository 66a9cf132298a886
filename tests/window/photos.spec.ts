// The step "Photos" in a real browser: a plan opened, photos dropped, read, cancelled, refused.
import { readFileSync } from 'node:fs';
import { expect, test } from '@playwright/test';
import { dropFiles, openWindow, pixelsOf, programFor } from '../support/windowHost.ts';

const program = programFor('all');

const PLAN = { name: 'marl-plan.json', bytes: readFileSync('assets/demo/marl-plan.json') };
const SKIRT = {
  name: '3-front-skirt.jpg',
  bytes: readFileSync('assets/demo/photos/marl-m/3-front-skirt.jpg'),
};
const TRACED_LINE = [194, 24, 91] as const;

test('a plan and a photo become a piece with its outline over the photo, and can be undone', async ({ page }) => {
  const { errors } = await openWindow(page, program.host);
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
  await page.getByRole('button', { name: 'Read this photo' }).click();
  await expect(page.getByRole('progressbar', { name: 'Reading' })).toBeVisible();
  await expect(page.getByText('One piece was found')).toBeVisible({ timeout: 60_000 });
  await expect(page.getByRole('button', { name: /3-front-skirt\.jpg.*4 cards.*1 pieces/ })).toBeVisible();
  await expect.poll(() => pixelsOf(page, TRACED_LINE)).toBeGreaterThan(800);
  await expect(page.getByRole('button', { name: /Pieces/ })).toContainText('1 of 9');

  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(page.getByRole('button', { name: /Pieces/ })).toContainText('0 of 9');
  await page.getByRole('button', { name: 'Redo' }).click();
  await expect(page.getByRole('button', { name: /Pieces/ })).toContainText('1 of 9');
  expect(errors).toEqual([]);
});

test('a reading that is cancelled half-way changes nothing and leaves the photo to be read again', async ({ page }) => {
  await openWindow(page, program.host);
  await dropFiles(page, [PLAN]);
  await dropFiles(page, [SKIRT]);
  await page.getByRole('button', { name: 'Read this photo' }).click();
  await page.getByRole('button', { name: 'Cancel' }).click();
  await expect(page.getByText('The reading was cancelled; nothing was changed.')).toBeVisible();
  await expect(page.getByRole('button', { name: /Pieces/ })).toContainText('0 of 9');
  await expect(page.getByRole('button', { name: 'Read this photo' })).toBeEnabled();
});

test('a file that is no picture gets one sentence with its name, and the good one beside it is taken in', async ({
  page,
}) => {
  await openWindow(page, program.host);
  await dropFiles(page, [{ name: 'shopping list.txt', bytes: Buffer.from('buttons, thread, calico') }, SKIRT]);
  await expect(page.getByRole('alert')).toContainText('shopping list.txt');
  await expect(page.getByRole('button', { name: /3-front-skirt\.jpg.*megapixels/ })).toBeVisible();
});

test('a broken set is refused in one sentence and what was open stays open', async ({ page }) => {
  await openWindow(page, program.host);
  await dropFiles(page, [PLAN]);
  await expect(page.getByRole('button', { name: /Pieces/ })).toContainText('of 9');
  await dropFiles(page, [{ name: 'old.notchwise', bytes: Buffer.from('{"format":"notchwise-set/9"}') }]);
  await expect(page.getByRole('alert')).toContainText('update the program');
  await expect(page.getByRole('button', { name: /Pieces/ })).toContainText('of 9');
});

test('the page of reference cards comes as a PDF', async ({ page }) => {
  await openWindow(page, program.host);
  await page.getByText('Print reference cards').last().click();
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'A4', exact: true }).click();
  expect((await download).suggestedFilename()).toMatch(/\.pdf$/);
});
