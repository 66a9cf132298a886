// Pieces, seams, findings and archive in a real browser, on the demo's set as a faultless camera would trace it.
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { expect, type Page } from '@playwright/test';
import { idealSet } from '../photos/marl/idealSet.ts';
import { openWindow, pixelsOf, startHost, step, test, withProgram } from '../support/windowHost.ts';

const MEND = [154, 74, 0] as const;
const STOP = [140, 28, 58] as const;

const traced = idealSet('as traced');
const SET = {
  ...traced,
  name: 'Marl class copy',
  seams: traced.seams.map((seam, i) => (i < 2 ? { ...seam, status: 'proposed' as const } : seam)),
};
test('findings are listed heaviest first, and choosing one shows its place on the canvas', async ({
  page,
  program,
}) => {
  const { errors } = await openWindow(page, program, SET);
  const items = page.getByRole('list', { name: 'Findings' }).locator('button.finding');
  await expect(items.first()).toContainText('Stop');
  await expect(items.last()).toContainText('Mend');
  expect(await pixelsOf(page, STOP)).toBe(0);
  await items.first().click();
  await expect.poll(() => pixelsOf(page, STOP)).toBeGreaterThan(200);
  await expect(page.getByRole('figure', { name: 'Seam ruler' })).toBeVisible();
  await page.keyboard.press('j');
  await expect(items.nth(1)).toBeFocused();
  await expect.poll(() => pixelsOf(page, MEND)).toBeGreaterThan(60);
  await expect(items.nth(1)).toHaveAttribute('aria-expanded', 'true');
  await page.getByText('Why this matters').click();
  await expect(page.getByRole('status').filter({ hasText: 'to stop for' })).toContainText('clear');
  expect(errors).toEqual([]);
});

test('a notch made double by hand clears its finding, and undo brings the finding back', async ({ page, program }) => {
  await openWindow(page, program, SET);
  const rule = page.locator('[data-rule="notch-count"]');
  await expect(rule).toHaveCount(1);
  await step(page, 'Pieces').click();
  await page.getByRole('button', { name: 'Back bodice', exact: false }).first().click();
  await page.getByRole('button', { name: /single notch on armhole/ }).click();
  await page.getByLabel('It is', { exact: true }).selectOption('double');
  await expect(page.getByRole('button', { name: /double notch on armhole/ })).toBeVisible();
  await step(page, 'Findings').click();
  await expect(rule).toHaveCount(0);
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(rule).toHaveCount(1);
});

test('a corner dragged with the mouse or pushed with the keys changes the length; undo and redo are exact', async ({
  page,
  program,
}) => {
  await openWindow(page, program, SET);
  await step(page, 'Pieces').click();
  await page.getByRole('button', { name: 'Pocket bag', exact: false }).first().click();
  const edge = page.getByRole('button', { name: /^opening.*sewn/ });
  const before = await edge.textContent();
  await page.locator('.canvas').focus();
  await page.keyboard.press('.');
  await expect(page.locator('.canvas')).toHaveAttribute('aria-label', /the corner of opening and bag is selected/);
  for (let i = 0; i < 3; i++) await page.keyboard.press('Shift+ArrowDown');
  const pushed = await edge.textContent();
  expect(pushed).not.toBe(before);
  await page.keyboard.press('Control+z');
  await expect(edge).toHaveText(before!);
  await page.keyboard.press('Control+Shift+z');
  await expect(edge).toHaveText(pushed!);
  await page.keyboard.press('Control+z');

  const corner = await selectedMark(page);
  await page.mouse.move(corner.x, corner.y);
  await page.mouse.down();
  await page.mouse.move(corner.x + 30, corner.y + 40, { steps: 5 });
  await page.mouse.up();
  await expect(edge).not.toHaveText(before!);
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(edge).toHaveText(before!);
});

test('every tool works with the pointer, each use is one step, and the view stays where it is', async ({
  page,
  program,
}) => {
  await openWindow(page, program, SET);
  await step(page, 'Pieces').click();
  await page.getByRole('button', { name: 'Pocket bag', exact: false }).first().click();
  const undo = page.getByRole('button', { name: 'Undo' });
  await page.locator('.canvas').focus();
  await page.keyboard.press('.');
  const corner = await selectedMark(page);
  const canvas = await page.locator('.canvas').boundingBox();
  const inside = { x: canvas!.x + canvas!.width / 2, y: canvas!.y + canvas!.height / 2 };

  await page.keyboard.press('g');
  await drag(page, inside, { x: inside.x + 10, y: inside.y - 120 });
  await expect(undo).toHaveAttribute('title', /Draw the grainline of Pocket bag/);
  await page.keyboard.press('d');
  const point = { x: inside.x - 60, y: inside.y + 40 };
  await drag(page, corner, point);
  await expect(undo).toHaveAttribute('title', /Draw a dart on Pocket bag/);
  await expect(page.getByRole('button', { name: /^dart on/ })).toBeVisible();
  await page.keyboard.press('n');
  await page.mouse.click(corner.x, corner.y);
  await expect(undo).toHaveAttribute('title', /Put a notch on Pocket bag/);
  await page.keyboard.press('v');
  await drag(page, point, { x: point.x + 20, y: point.y });
  await expect(undo).toHaveAttribute('title', /Move the dart point of Pocket bag/);
  for (let i = 0; i < 4; i++) await undo.click();
  await expect(undo).toBeDisabled();
});

test('a piece is named, its kind said and its cut list written, each one step to undo', async ({ page, program }) => {
  await openWindow(page, program, SET);
  await step(page, 'Pieces').click();
  await page.getByRole('button', { name: 'Pocket bag', exact: false }).first().click();
  await page.getByLabel('Name', { exact: true }).first().fill('Side pocket');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { name: 'Side pocket' })).toBeVisible();
  await page.getByLabel('Kind').selectOption('facing');
  await page.getByText('Cut list', { exact: true }).click();
  await page.getByRole('button', { name: 'Add a line to the cut list' }).click();
  await expect(page.getByRole('button', { name: 'Undo' })).toHaveAttribute('title', /cut list of Side pocket/);
  for (let i = 0; i < 3; i++) await page.getByRole('button', { name: 'Undo' }).click();
  await expect(page.getByRole('heading', { name: 'Pocket bag' })).toBeVisible();
  await expect(page.getByRole('button', { name: 'Undo' })).toBeDisabled();
});

test('proposed seams are confirmed one by one or all, and a seam shows its ruler and its edges', async ({
  page,
  program,
}) => {
  await openWindow(page, program, SET);
  await step(page, 'Seams').click();
  await expect(step(page, 'Seams')).toContainText('2 to confirm');
  const seams = page.getByRole('list', { name: 'Seams' });
  await seams.getByRole('button', { name: SET.seams[0]!.name }).first().click();
  await expect(page.getByRole('figure', { name: 'Seam ruler' })).toBeVisible();
  await expect.poll(() => pixelsOf(page, [138, 75, 8])).toBeGreaterThan(100);
  await page.getByRole('button', { name: 'Yes, these are sewn together' }).click();
  await expect(step(page, 'Seams')).toContainText('1 to confirm');
  await page.getByRole('button', { name: 'Confirm all' }).click();
  await expect(page.getByText('All seams are confirmed.')).toBeVisible();
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(step(page, 'Seams')).toContainText('1 to confirm');
});

test('a change survives the program being killed, and saving puts it into the archive', async ({ page }) => {
  await withProgram(SET, async (program) => {
    await openWindow(page, program);
    await step(page, 'Archive').click();
    await page.getByLabel('Name of the set').fill('Marl after the power cut');
    await page.keyboard.press('Enter');
    await expect(page.locator('.status')).toContainText('changes kept');
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByRole('button', { name: 'Redo' }).click();
    await expect.poll(async () => existsSync(join(program.home, 'data'))).toBe(true);
    await page.waitForLoadState('networkidle');
    await program.kill();
    const again = await startHost(program.home, null);
    try {
      await openWindow(page, again);
      await expect(page.locator('.status')).toContainText('Marl after the power cut');
      await step(page, 'Archive').click();
      await page.getByRole('button', { name: 'Save under this name' }).click();
      await expect(page.getByText(/Saved as .*Marl after the power cut\.notchwise/)).toBeVisible();
      expect(existsSync(join(program.home, 'archive', 'Marl after the power cut.notchwise'))).toBe(true);
    } finally {
      await again.kill();
    }
  });
});

test('the report and the true-scale drawings come as files', async ({ page, program }) => {
  await openWindow(page, program, SET);
  await step(page, 'Archive').click();
  for (const [button, ending] of [
    ['Report as a web page', /\.html$/],
    ['SVG', /\.svg$/],
    ['PDF on A4 pages', /\.pdf$/],
  ] as const) {
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: button, exact: true }).click();
    expect((await download).suggestedFilename()).toMatch(ending);
  }
});

test('nothing is cut off with text at 200 % or in a small window', async ({ page, program }) => {
  await openWindow(page, program, SET);
  for (const [width, height, text] of [
    [1280, 800, '100%'],
    [1280, 800, '200%'],
    [1920, 1080, '200%'],
    // What 200 % zoom of the browser leaves of 1280 × 800.
    [640, 400, '100%'],
  ] as const) {
    await page.setViewportSize({ width, height });
    await page.evaluate((size) => {
      document.documentElement.style.fontSize = size;
    }, text);
    for (const name of ['Photos', 'Pieces', 'Seams', 'Findings', 'Sizes', 'Fit', 'Alter', 'Archive']) {
      await step(page, name).click();
      const over = await page.evaluate(() => {
        const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
        const panel = document.querySelector('.panel');
        return Math.max(wide, panel === null ? 0 : panel.scrollWidth - panel.clientWidth);
      });
      expect(over, `${name} at ${width} × ${height}, text ${text}`).toBeLessThanOrEqual(1);
    }
  }
});

async function drag(page: Page, from: { x: number; y: number }, to: { x: number; y: number }) {
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(to.x, to.y, { steps: 5 });
  await page.mouse.up();
}

/** The middle of the mark that is drawn as selected, in page pixels. */
async function selectedMark(page: Page): Promise<{ x: number; y: number }> {
  await expect(page.locator('.canvas')).toHaveAttribute('aria-label', /is selected/);
  // The drawing follows the words by a frame or two.
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  return page.evaluate(() => {
    const canvas = document.querySelector('canvas');
    const context = canvas?.getContext('2d');
    if (canvas === null || !context) throw new Error('there is no canvas');
    const { data } = context.getImageData(0, 0, canvas.width, canvas.height);
    const chalk = (x: number, y: number) => {
      const i = 4 * (y * canvas.width + x);
      return Math.abs(data[i]! - 15) + Math.abs(data[i + 1]! - 107) + Math.abs(data[i + 2]! - 120) < 30;
    };
    // The selected mark is the only filled square of this colour as large as this.
    const half = 5;
    for (let y = half; y < canvas.height - half; y++) {
      for (let x = half; x < canvas.width - half; x++) {
        let full = true;
        for (let d = -half; full && d <= half; d++)
          full = chalk(x + d, y - half) && chalk(x + d, y + half) && chalk(x, y + d);
        if (!full) continue;
        const box = canvas.getBoundingClientRect();
        const ratio = box.width / canvas.width;
        return { x: box.left + x * ratio, y: box.top + y * ratio };
      }
    }
    throw new Error('no mark is drawn as selected');
  });
}
