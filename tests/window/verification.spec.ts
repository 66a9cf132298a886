// The verification pass in a real browser, on the demo's set as a faultless camera would trace it: remedies looked at before
// they are applied, a seam walked, the tables of sizes and of fit, and an alteration carried through.
import { expect } from '@playwright/test';
import { idealSet } from '../photos/marl/idealSet.ts';
import { twoSizes } from '../support/alterSets.ts';
import { openWindow, pixelsAtRest, pixelsOf, step, test } from '../support/windowHost.ts';

const BEFORE = [122, 47, 134] as const;
const AFTER = [10, 79, 89] as const;
const MEETS = [44, 97, 65] as const;
/** Nearer than the soft rim of a black line comes to it. */
const WITHIN = 30;
const MISSES = [154, 74, 0] as const;

test('a remedy is looked at, applied and undone; the old lines lie dashed over the new ones meanwhile', async ({
  page,
  program,
}) => {
  const { errors } = await openWindow(page, program, idealSet('as traced'));
  const rule = page.locator('[data-rule="length-differs"]');
  await rule.getByRole('button').first().click();
  await rule.getByText('The rule, with examples').click();
  await expect(rule.getByRole('region', { name: 'Rule length-differs' })).toContainText('Outside the limit with all');
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

test('a seam of a chain is walked with the keys; marks meet or miss in shape and word, and the sides part where they do', async ({
  page,
  program,
}) => {
  const { errors } = await openWindow(page, program, idealSet('as traced'));
  await step(page, 'Seams').click();
  await page.getByRole('list', { name: 'Seams' }).getByRole('button', { name: 'sleeve cap' }).click();
  await page.getByRole('button', { name: 'Walk this seam' }).click();
  const slider = page.getByRole('slider', { name: 'Sleeve rolled along Back bodice + Front bodice' });
  const marks = page.getByRole('list', { name: 'Marks along the seam' }).getByRole('listitem');
  await slider.focus();
  await expect(marks.first()).toHaveAttribute('data-state', 'ahead');
  const [meets, misses] = [await pixelsAtRest(page, MEETS, WITHIN), await pixelsAtRest(page, MISSES)];
  await page.keyboard.press('End');
  await expect(slider).toHaveAttribute(
    'aria-valuetext',
    /434.0 of 434.0 mm: the second side is 28.0 ± 0.\d mm longer so far/,
  );
  await expect(marks.first()).toContainText('meets');
  await expect(marks.last()).toContainText('end at 434.0 mm: off by +28.0');
  await expect.poll(() => pixelsOf(page, MEETS, WITHIN)).toBeGreaterThan(meets + 40);
  expect(await pixelsOf(page, MISSES)).toBeGreaterThan(misses + 100);
  await page.keyboard.press('Home');
  await page.keyboard.press('ArrowRight');
  await expect(slider).toHaveAttribute('aria-valuetext', /^1.0 of/);
  await page.getByRole('button', { name: 'Go there' }).click();
  await expect(slider).toHaveAttribute('aria-valuetext', /^222.0 of/);
  await expect(page.getByText('At the end the edges beside the seam meet in 179')).toBeVisible();
  await page.getByLabel('How it is rolled').selectOption('eased');
  await expect(marks.nth(1)).toContainText('brought together, +16.0 mm eased in');
  await page.getByRole('button', { name: 'End the walk' }).click();
  await expect(slider).toHaveCount(0);
  expect(errors).toEqual([]);
});

test('every seam stands in every size; a cell shows its seam in its size, and the keys go from cell to cell', async ({
  page,
  program,
}) => {
  const { errors } = await openWindow(page, program, twoSizes());
  await step(page, 'Sizes').click();
  const cap = page.getByRole('button', { name: /^sleeve cap, size M/ });
  // Size L is M enlarged by a twentieth, its ease of 28 mm with it.
  await expect(page.getByRole('button', { name: /^sleeve cap, size L: \+29.4 ± \d.\d mm/ })).toBeVisible();
  await cap.click();
  await expect(page.getByRole('figure', { name: 'Seam ruler' })).toBeVisible();
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('region', { name: 'Chosen seam' })).toContainText('sleeve cap, size L');
  await expect(page.locator('.status')).toContainText('size L');
  await expect.poll(() => pixelsOf(page, [138, 75, 8])).toBeGreaterThan(100);
  expect(errors).toEqual([]);
});

test('an armhole is opened by amount, its followers are carried through, and all of it is one step to undo', async ({
  page,
  program,
}) => {
  const { errors } = await openWindow(page, program, idealSet('as designed'));
  await step(page, 'Alter').click();
  await page.getByLabel('What to change').selectOption('armhole-depth');
  const slider = page.getByRole('slider', { name: /^Slider: How far the underarm point moves/ });
  await slider.focus();
  for (let i = 0; i < 4; i++) await page.keyboard.press('ArrowRight');
  const what = page.getByRole('region', { name: 'What it would do' });
  await expect(what).toContainText('Armholes opened by 2.0 mm');
  await expect.poll(() => pixelsOf(page, BEFORE)).toBeGreaterThan(40);
  const number = page.getByRole('spinbutton', { name: /How far the underarm point moves/ });
  await number.fill('12.7');
  await expect(what).toContainText('Armholes opened by 12.7 mm');
  const followers = page.getByRole('list', { name: 'What must follow' });
  await expect(followers).toContainText('sleeve cap');
  await expect(followers).toContainText(/the cap made \d+\.\d mm longer/);
  await expect(what).toContainText('Nothing is left behind.');
  const carry = page.getByRole('checkbox', { name: /Carry through/ });
  await carry.uncheck();
  await expect(followers).toContainText('Not carried through');
  await expect(what).toContainText('1 seam is left behind');
  await carry.check();
  await expect(what).toContainText('Nothing is left behind.');
  await what.getByRole('button', { name: 'Apply' }).click();
  await expect(page.getByRole('list', { name: 'History' })).toContainText('Armholes opened by 12.7 mm');
  await expect.poll(() => pixelsOf(page, BEFORE)).toBe(0);
  await step(page, 'Findings').click();
  await expect(page.getByRole('status').filter({ hasText: 'to stop for' })).toContainText('0 to stop for');
  await expect(page.locator('[data-rule="left-behind"]')).toHaveCount(0);
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(page.getByRole('button', { name: 'Undo' })).toBeDisabled();
  expect(errors).toEqual([]);
});

test('a body is typed in, compared with the finished measures, which are shown on the pieces, and undone', async ({
  page,
  program,
}) => {
  const { errors } = await openWindow(page, program, { ...idealSet('as designed'), bodies: [] });
  await step(page, 'Fit').click();
  await expect(page.getByText('No body is known yet')).toBeVisible();
  const name = page.getByLabel('Add a body by name');
  await name.fill('me');
  await name.press('Enter');
  const bust = page.getByLabel(/^bust: the largest girth/);
  await bust.fill('1000');
  await bust.press('Enter');
  const table = page.getByRole('region', { name: 'Finished measures' });
  const line = table.getByRole('row', { name: /^bust/ });
  await expect(line).toContainText('1000.0');
  await expect(line).toContainText(/less than usual|measure again/);
  await expect(page.getByRole('list', { name: 'Findings about fit' })).toContainText('bust');
  const showBust = line.getByRole('button', { name: 'bust' });
  const chalk = await pixelsAtRest(page, [15, 107, 120]);
  await showBust.click();
  await expect.poll(() => pixelsOf(page, [15, 107, 120])).toBeGreaterThan(chalk + 200);
  await page.getByText('Bodies from a table', { exact: true }).click();
  await page.getByLabel('Table of bodies').setInputFiles({
    name: 'bodies.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from('name,bust,waist\nthem,900,740\n'),
  });
  await page.getByLabel('Body', { exact: true }).selectOption('them');
  await expect(line).toContainText('900.0');
  await expect(line).toContainText('enough');
  await page.getByLabel('Table', { exact: true }).selectOption({ index: 0 });
  await expect(page.getByText('Source: ')).toBeVisible();
  for (let i = 0; i < 3; i++) await page.getByRole('button', { name: 'Undo' }).click();
  await expect(page.getByText('No body is known yet')).toBeVisible();
  expect(errors).toEqual([]);
});
