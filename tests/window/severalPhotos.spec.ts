// Several photos in a real browser: one long piece joined from two photos, the same photos kept apart, and single photos
// stopped and left out.
import { readFileSync } from 'node:fs';
import { expect, test } from '@playwright/test';
import { dropFiles, openWindow, programFor } from '../support/windowHost.ts';

/** A panel of 1.1 m that runs out of both photos: tests/photos/longPanel.ts, seed 11, 4 megapixels, cards as in the bench. */
const PHOTOS = ['panel-left.jpg', 'panel-right.jpg'].map((name) => ({
  name,
  bytes: readFileSync(`tests/fixtures/panel/${name}`),
}));

// A host of its own for each test: photos of equal names that one host has taken in get a number behind their name.
const program = programFor('each');

test('two photos of one long piece become one piece that names both, or stay apart when the person says so', async ({
  page,
}) => {
  const { errors } = await openWindow(page, program.host);
  await dropFiles(page, PHOTOS);
  const rows = page.getByRole('list', { name: 'Photos to be read' });
  await expect(rows.getByRole('button', { name: /panel-right\.jpg.*megapixels/ })).toBeVisible();
  await page.getByLabel('each a table of its own').check();
  await page.getByRole('button', { name: 'Read 2 photos' }).click();
  await expect(page.getByRole('alert').filter({ hasText: 'no whole' })).toBeVisible({ timeout: 90_000 });
  await expect(page.getByRole('button', { name: 'Read 2 photos' })).toBeEnabled();

  await page.getByLabel('one table, or one long piece').check();
  await page.getByRole('button', { name: 'Read 2 photos' }).click();
  await expect(page.getByText('Piece p1 is joined with panel-right.jpg')).toBeVisible({ timeout: 90_000 });
  await page.getByRole('button', { name: 'Go on to the pieces' }).click();
  await expect(page.getByText('Joined from panel-left.jpg and panel-right.jpg.')).toBeVisible();
  expect(errors).toEqual([]);
});

test('one photo can be stopped and left out while the others are read', async ({ page }) => {
  await openWindow(page, program.host);
  await dropFiles(page, PHOTOS);
  await page.getByRole('button', { name: 'Read 2 photos' }).click();
  await page.getByRole('button', { name: 'Stop reading panel-left.jpg' }).click();
  await expect(page.getByRole('button', { name: /panel-left\.jpg.*stopped/ })).toBeVisible({ timeout: 90_000 });
  await expect(page.getByRole('progressbar', { name: 'Reading' })).toHaveCount(0, { timeout: 90_000 });
  await expect(page.getByRole('button', { name: 'Read panel-left.jpg again' })).toBeEnabled();
  await page.getByRole('button', { name: 'Leave panel-left.jpg out' }).click();
  await expect(page.getByRole('button', { name: 'Read this photo' })).toBeVisible();
});
