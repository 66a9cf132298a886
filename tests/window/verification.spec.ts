// The verification pass in a real browser, on the demo's set as a faultless camera would trace it: remedies looked at before
// they are applied, a seam walked, the tables of sizes and of fit, and an alteration carried through.
import { join } from 'node:path';
import { expect, test } from '@playwright/test';
import { idealSet } from '../photos/marl/idealSet.ts';
import { openWindow, pixelsOf, startHost, temporaryFolder, type WindowHost, writeSet } from '../support/windowHost.ts';

const BEFORE = [122, 47, 134] as const;
const AFTER = [10, 79, 89] as const;

const folder = temporaryFolder();
let host: WindowHost;
const start = async (set = idealSet('as traced')) => {
  host = await startHost(join(folder.path, String(Date.now())), writeSet(folder.path, set));
};
test.afterEach(() => host.kill());
test.afterAll(() => folder.remove());

test('a remedy is looked at, applied and undone; the old lines lie dashed over the new ones meanwhile', async ({
  page,
}) => {
  await start();
  const { errors } = await openWindow(page, host);
  const rule = page.locator('[data-rule="length-differs"]');
  await rule.getByRole('button').first().click();
  const offer = rule.getByRole('list', { name: 'Remedies' }).getByRole('listitem').first();
  await expect(offer).toContainText('afterwards, then');
  expect(await pixelsOf(page, BEFORE)).toBe(0);
  await offer.getByRole('button', { name: 'Preview' }).focus();
  await expect.poll(() => pixelsOf(page, BEFORE)).toBeGreaterThan(5);
  await offer.getByRole('button', { name: 'Preview' }).press('Enter');
  await expect.poll(() => pixelsOf(page, BEFORE)).toBeGreaterThan(80);
  await expect.poll(() => pixelsOf(page, AFTER)).toBeGreaterThan(80);
  await offer.getByRole('button', { name: 'Apply' }).click();
  await expect(rule).toHaveCount(0);
  expect(await pixelsOf(page, BEFORE)).toBe(0);
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(rule).toHaveCount(1);
  await expect(page.getByRole('button', { name: 'Undo' })).toBeDisabled();
  expect(errors).toEqual([]);
});
