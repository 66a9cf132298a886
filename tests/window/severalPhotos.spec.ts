// Several photos in a real browser: single photos stopped, photos kept apart, and one long piece joined from two photos.
import { readFileSync } from 'node:fs';
import { expect } from '@playwright/test';
import { emptySet } from '../../shared/usecases/setFromCapture.ts';
import { dropFiles, openWindow, step, test } from '../support/windowHost.ts';

/** A panel of 1.1 m that runs out of both photos: tests/photos/longPanel.ts, seed 11, 4 megapixels, cards as in the bench. */
const PHOTOS = ['panel-left.jpg', 'panel-right.jpg'].map((name) => ({
  name,
  bytes: readFileSync(`tests/fixtures/panel/${name}`),
}));

test('one of two photos is stopped and the other read by itself; both together become one piece that names both', async ({
  page,
  program,
}) => {
  const { errors } = await openWindow(page, program, emptySet('Panel'));
  await step(page, 'Photos').click();
  await dropFiles(page, PHOTOS);
  const rows = page.getByRole('list', { name: 'Photos to be read' });
  await expect(rows.getByRole('button', { name: /panel-right\.jpg.*megapixels/ })).toBeVisible();
  await page.getByLabel('each a table of its own').check();
  await page.getByRole('button', { name: 'Read 2 photos' }).click();
  await page.getByRole('button', { name: 'Stop reading panel-left.jpg' }).click();
  await expect(page.getByRole('button', { name: /panel-left\.jpg.*stopped/ })).toBeVisible();
  await expect(page.getByRole('alert').filter({ hasText: 'no whole' })).toBeVisible({ timeout: 180_000 });
  await expect(page.getByRole('progressbar', { name: 'Reading' })).toHaveCount(0);
  await expect(page.getByRole('button', { name: 'Read panel-left.jpg again' })).toBeEnabled();
  await page.getByRole('button', { name: 'Leave panel-left.jpg out' }).click();
  await expect(page.getByRole('button', { name: 'Read this photo' })).toBeVisible();

  await dropFiles(page, PHOTOS.slice(0, 1));
  await page.getByLabel('one table, or one long piece').check();
  await page.getByRole('button', { name: 'Read 2 photos' }).click();
  await expect(page.getByText(/Piece p1 is joined with panel-(left|right)\.jpg/).first()).toBeVisible({
    timeout: 180_000,
  });
  await page.getByRole('button', { name: 'Go on to the pieces' }).click();
  // A photo that comes in a second time gets a number behind its name.
  await expect(page.getByText(/^Joined from panel-\S+( \(2\))? and panel-\S+( \(2\))?\.$/)).toBeVisible();
  expect(errors).toEqual([]);
});
