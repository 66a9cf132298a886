// Benchmark scenes: every case can be laid out, fits the picture, and is the same again for the same seed.
import { describe, expect, it } from 'vitest';
import { makeCamera, project } from '../../photos/camera.ts';
import { tableFromItem } from '../../photos/layers.ts';
import { benchScene, SCENE_CASES } from '../../photos/scenes.ts';

const CARD_COUNTS: Readonly<Record<string, number>> = { 'one-card': 1, 'two-cards': 2, 'whole-page': 1 };

describe.each(SCENE_CASES)('the scene case %s', (sceneCase) => {
  const bench = benchScene(sceneCase, 4, 3);

  it('shows every item whole', () => {
    const camera = makeCamera(bench.scene.camera);
    for (const item of bench.scene.items) {
      for (const [x, y] of item.outline) {
        const [px, py] = project(camera, tableFromItem(item, x, y), 0);
        expect(px).toBeGreaterThan(0);
        expect(py).toBeGreaterThan(0);
        expect(px).toBeLessThan(bench.scene.camera.widthPx - 1);
        expect(py).toBeLessThan(bench.scene.camera.heightPx - 1);
      }
    }
  });

  it('has its cards, its truths and nothing random', () => {
    const cards = bench.scene.items.filter((item) => /^N\d\d(-N\d\d)?$/.test(item.id));
    expect(cards).toHaveLength(CARD_COUNTS[sceneCase] ?? 4);
    expect(bench.truths.length).toBeGreaterThan(0);
    expect(benchScene(sceneCase, 4, 3)).toEqual(bench);
  });
});
