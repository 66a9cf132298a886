// An alteration driven by its handles in a real browser: dragged, pushed with the keys, taken back with Escape; slider, handle
// and canvas say the same; sizes and pieces are chosen; and the units of the set hold in the panel and at the handle.
import { expect, type Locator, type Page } from '@playwright/test';
import { twoSizes } from '../support/alterSets.ts';
import { openWindow, pixelsOf, step, test } from '../support/windowHost.ts';

const BEFORE = [122, 47, 134] as const;

test('the underarm point is dragged: handle, slider and canvas follow, both partners are redrawn, all is one step', async ({
  page,
  program,
}) => {
  const { errors } = await openWindow(page, program, twoSizes());
  await step(page, 'Alter').click();
  const front = handle(page, 'Front bodice');
  const back = handle(page, 'Back bodice');
  const rest = await middle(front);
  // Down the side seam and a little across it: only what lies along the side counts.
  await dragBy(page, front, [6, 14]);
  await expect(front).toHaveAttribute('aria-valuetext', /^\d+\.[05] mm$/);
  const amountMm = Number(await front.getAttribute('aria-valuenow'));
  expect(amountMm).toBeGreaterThan(5);
  await expect(back).toHaveAttribute('aria-valuenow', String(amountMm));
  await expect(page.getByRole('slider', { name: /^Slider: How far the underarm/ })).toHaveValue(String(amountMm));
  expect((await middle(front))[1] - rest[1]).toBeGreaterThan(10);
  const what = page.getByRole('region', { name: 'What it would do' });
  await expect(what).toContainText(`Armholes opened by ${amountMm.toFixed(1)} mm`);
  await expect.poll(() => pixelsOf(page, BEFORE)).toBeGreaterThan(80);
  const followers = page.getByRole('list', { name: 'What must follow' }).getByRole('listitem');
  await expect(followers).toHaveCount(2);
  await expect(followers.first()).toContainText(/the cap made \d+\.\d mm longer/);
  await what.getByRole('button', { name: 'Apply' }).click();
  await expect(front).toHaveAttribute('aria-valuetext', /^0.0 mm, nothing changed yet/);
  await expect.poll(async () => (await middle(front))[1] - rest[1]).toBeGreaterThan(10);
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(page.getByRole('button', { name: 'Undo' })).toBeDisabled();
  await expect.poll(async () => Math.abs((await middle(front))[1] - rest[1])).toBeLessThan(1);
  expect(errors).toEqual([]);
});

test('keys push a handle where they point, Escape takes a drag back, and a line is held as well as a corner', async ({
  page,
  program,
}) => {
  const { errors } = await openWindow(page, program, twoSizes());
  await step(page, 'Alter').click();
  const front = handle(page, 'Front bodice');
  await front.focus();
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Shift+ArrowDown');
  await expect(front).toHaveAttribute('aria-valuenow', '5.5');
  const [x, y] = await middle(front);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x, y - 20, { steps: 3 });
  await expect(front).toHaveAttribute('aria-valuenow', /^-/);
  await page.keyboard.press('Escape');
  await expect(front).toHaveAttribute('aria-valuenow', '5.5');
  await page.mouse.move(x, y + 20, { steps: 3 });
  await page.mouse.up();
  await expect(front).toHaveAttribute('aria-valuenow', '5.5');
  await page.keyboard.press('Escape');
  await expect(front).toHaveAttribute('aria-valuetext', /nothing changed yet/);
  await expect(page.getByText('Drag a handle on the canvas')).toBeVisible();

  await page.getByLabel('What to change').selectOption('skirt-length');
  const skirt = handle(page, 'Front skirt');
  await skirt.focus();
  await page.keyboard.press('PageUp');
  await expect(page.getByRole('region', { name: 'What it would do' })).toContainText('The skirt made 5.0 mm longer');
  await page.getByLabel('What to change').selectOption('rotate-dart');
  await expect(page.getByRole('slider', { name: /handle on/ })).toHaveCount(0);
  await page.getByLabel('The piece that holds the dart').selectOption('front-bodice');
  await page.getByLabel('The dart that is closed').selectOption('d1');
  await page.getByLabel('The edge on which it opens').selectOption('waist');
  await handle(page, 'Front bodice').focus();
  await page.keyboard.press('ArrowRight');
  await expect(page.getByRole('region', { name: 'What it would do' })).toContainText(
    'The dart on the side of "Front bodice" rotated to the waist',
  );
  expect(errors).toEqual([]);
});

test('sizes and pieces are chosen; an inch is an inch at the handle, in the panel and in the sentence', async ({
  page,
  program,
}) => {
  const { errors } = await openWindow(page, program, twoSizes());
  await page.getByLabel('Lengths in').selectOption('in');
  await step(page, 'Alter').click();
  const front = handle(page, 'Front bodice');
  await front.focus();
  for (let i = 0; i < 8; i++) await page.keyboard.press('ArrowDown');
  await expect(front).toHaveAttribute('aria-valuetext', '1/2 in');
  await expect(page.getByRole('spinbutton', { name: /How far the underarm point moves/ })).toHaveValue('1/2');
  const what = page.getByRole('region', { name: 'What it would do' });
  await expect(what).toContainText('Armholes opened by 1/2 in');
  await page.getByText('Edges that change').click();
  await expect(what).toContainText('size L');
  await page.getByLabel('In which sizes').selectOption('shown');
  await expect(what).not.toContainText('size L');
  await page.getByLabel('On which pieces').selectOption('some');
  await page.getByRole('checkbox', { name: 'Back bodice' }).uncheck();
  await expect(handle(page, 'Back bodice')).toHaveCount(0);
  await expect(what).toContainText('Front bodice, side, size M');
  await expect(what).not.toContainText('Back bodice, armhole, size M');
  expect(errors).toEqual([]);
});

function handle(page: Page, piece: string): Locator {
  return page.getByRole('slider', { name: new RegExp(`handle on ${piece}$`) });
}

async function middle(one: Locator): Promise<readonly [x: number, y: number]> {
  const box = await one.boundingBox();
  if (box === null) throw new Error('the handle is not in sight');
  return [box.x + box.width / 2, box.y + box.height / 2];
}

async function dragBy(page: Page, one: Locator, [dx, dy]: readonly [number, number]): Promise<void> {
  const [x, y] = await middle(one);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + dx, y + dy, { steps: 5 });
  await page.mouse.up();
}
