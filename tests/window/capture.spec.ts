// Capture in a real browser: the look before reading, tapes, known phones and unsure stretches.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from '@playwright/test';
import { realDisk } from '../../main/files/disk.ts';
import { phoneStore } from '../../main/files/phoneStore.ts';
import { decodePhoto } from '../../main/imaging/decodePhoto.ts';
import { pathLengthMm, subPath } from '../../shared/geometry/arcLength.ts';
import { emptySet } from '../../shared/usecases/setFromCapture.ts';
import { profileKey } from '../../shared/vision/plane/phoneProfile.ts';
import { idealSet } from '../photos/marl/idealSet.ts';
import { dropFiles, openWindow, pixelsOf, step, test, withProgram } from '../support/windowHost.ts';

const SKIRT = { name: '3-front-skirt.jpg', bytes: readFileSync('assets/demo/photos/marl-m/3-front-skirt.jpg') };
const UNSURE = [154, 74, 0] as const;

test('a photo is looked at before it is read: cards, trust, advice; a tape says what it changes', async ({
  page,
  program,
}) => {
  const { errors } = await openWindow(page, program, emptySet('Looked at'));
  await step(page, 'Photos').click();
  await dropFiles(page, [SKIRT]);
  await expect(page.getByRole('button', { name: /3-front-skirt\.jpg.*4 cards seen/ })).toBeVisible({
    timeout: 120_000,
  });
  await expect(page.getByRole('figure', { name: 'Legend of the map of trust' })).toContainText('to ±0.6 good');
  await expect(page.getByRole('region', { name: 'Quality of this photo' })).toContainText('two check rulers');
  await page.getByLabel('Show where lengths can be trusted').uncheck();
  await expect(page.getByRole('figure', { name: 'Legend of the map of trust' })).toHaveCount(0);

  await page.getByText('Measured with a tape', { exact: true }).click();
  await page.getByRole('button', { name: 'Add a measured distance' }).click();
  const cards = await page.getByLabel('From').locator('option').allTextContents();
  await page.getByLabel('From').selectOption(cards[1]!);
  await page.getByLabel('To', { exact: true }).selectOption(cards[3]!);
  await page.getByLabel('You measured').fill('100');
  await page.keyboard.press('Enter');
  const refusal = page.getByText(/Not used: you measured 100\.0 mm, but the photo alone says/);
  await expect(refusal).toBeVisible({ timeout: 120_000 });
  const seenMm = Number(/says ([\d.]+)/.exec((await refusal.textContent())!)![1]);
  await page.getByRole('button', { name: /^Take out the distance/ }).click();

  await page.getByRole('button', { name: 'Add a measured distance' }).click({ timeout: 120_000 });
  await page.getByLabel('From').selectOption(cards[1]!);
  await page.getByLabel('To', { exact: true }).selectOption(cards[3]!);
  await page.getByLabel('You measured').fill(String(seenMm));
  await page.keyboard.press('Enter');
  await expect(page.getByText(/^Used: you measured/)).toBeVisible({ timeout: 120_000 });
  await expect(page.getByText(/Over 500 mm everything is 0\.\d\d mm .* instead of ±/)).toBeVisible();

  // Two points of the picture, as of a ruler that lies in it.
  await page.getByRole('button', { name: 'Add a measured distance' }).click();
  const box = (await page.locator('.canvas').boundingBox())!;
  await page.mouse.click(box.x + box.width * 0.5, box.y + box.height * 0.45);
  await page.locator('.canvas').focus();
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Enter');
  await expect(page.getByLabel('To', { exact: true })).toContainText('the point you pressed');
  await expect(page.getByLabel('You measured')).toBeVisible();
  expect(errors).toEqual([]);
});

test('known phones are listed and forgotten, and a photo that contradicts one says so', async ({ page }) => {
  await withProgram(null, async (program) => {
    const decoded = await decodePhoto(SKIRT.name, new Uint8Array(SKIRT.bytes));
    if (!decoded.ok) throw new Error(decoded.error.sentence);
    const { make, model, lens, focal35Mm } = decoded.value.photo.metadata;
    const profile = {
      key: profileKey(decoded.value.photo.metadata)!,
      make: make!,
      model: model!,
      lens: lens ?? '',
      focal35Mm: focal35Mm!,
      // A focal length that this photo cannot have been taken with.
      mean: [0.4, 0, 0] as const,
      covariance: [
        [1e-6, 0, 0],
        [0, 1e-6, 0],
        [0, 0, 1e-6],
      ],
      photos: 7,
      taughtBy: ['an earlier photo'],
      conflicts: 0,
    };
    const folders = { data: join(program.home, 'data'), logs: '', archive: '' };
    const taught = await phoneStore(realDisk, folders, () => new Date(2026, 10, 20)).teach([profile]);
    if (!taught.ok) throw new Error(taught.error.sentence);
    await openWindow(page, program);
    await dropFiles(page, [SKIRT]);
    await expect(page.getByText('does not fit this photo and was not used')).toBeVisible({ timeout: 120_000 });
    await page.getByText('Known phones (1)').click();
    await expect(page.getByText(/learnt from 7 photos, the last on 2026-11-20/)).toBeVisible();
    await page.getByRole('button', { name: /^Forget / }).click();
    await expect(page.getByText('Known phones (0)')).toBeVisible();
  });
});

test('an unsure stretch has its word in the list and its dash on the line, and can be settled', async ({
  page,
  program,
}) => {
  const traced = idealSet('as traced');
  const pieces = traced.pieces.map((piece) => {
    if (piece.name !== 'Pocket bag') return piece;
    const shapes = Object.entries(piece.shapes).map(([size, shape]) => {
      const { curve } = shape.ring[0]!;
      const lengthMm = pathLengthMm(curve);
      const points = subPath(curve, lengthMm * 0.3, lengthMm * 0.7).filter((_, i) => i % 3 === 0);
      return [size, { ...shape, unsure: [{ reason: 'covered' as const, points }] }] as const;
    });
    return { ...piece, shapes: Object.fromEntries(shapes) };
  });
  await openWindow(page, program, { ...traced, name: 'Unsure', pieces });
  await step(page, 'Pieces').click();
  await page.getByRole('button', { name: 'Pocket bag', exact: false }).first().click();
  const edge = page.getByRole('button', { name: /Unsure from 48 to 112 mm: something lay over it\./ });
  await expect(edge).toBeVisible();
  await expect.poll(() => pixelsOf(page, UNSURE)).toBeGreaterThan(150);
  await edge.click();
  await page.getByRole('button', { name: 'I looked: the line runs right' }).click();
  await expect(edge).toHaveCount(0);
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(edge).toBeVisible();
});
