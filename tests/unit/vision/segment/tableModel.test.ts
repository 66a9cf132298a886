// What counts as table is seen by what becomes of the paper: paper that is taken for table is not found. Scenes are our own.
import { describe, expect, it } from 'vitest';
import type { Point } from '../../../../shared/base/points.ts';
import { segmentPaper } from '../../../../shared/vision/stages/segmentPaper.ts';
import { distanceToRing, type Linear, paperRaster, rectangleRing } from '../../../support/paperRaster.ts';

const WHITE: Linear = [0.8, 0.79, 0.76];
const CLOTH: Linear = [0.02, 0.022, 0.03];
const MM_PER_PX = 0.9;

function segment(papers: readonly Point[][], cards: readonly Point[][], table: (x: number, y: number) => Linear) {
  const drawn = [...papers, ...cards].map((ring) => ({ ring, colour: WHITE }));
  const rgb = paperRaster({ widthMm: 360, heightMm: 300, mmPerPx: MM_PER_PX, table, papers: drawn });
  return segmentPaper({ rgb, mmPerPx: MM_PER_PX, originMm: [0, 0] }, cards).value.regions;
}

describe('tableModel', () => {
  it('takes a panel that runs out of the photo for paper, however near the cards lie to it', () => {
    const panel: Point[] = [
      [100, -20],
      [380, -20],
      [380, 230],
      [100, 230],
    ];
    const cards = [rectangleRing(62, 60, 54, 54, 0), rectangleRing(62, 180, 54, 54, 0)];
    const regions = segment([panel], cards, () => CLOTH);
    expect(regions.map((region) => region.cutOff)).toEqual([true]);
    const inside = regions[0]!.coarse.polygon.filter(([x, y]) => x < 340 && y > 15);
    const off = inside.map((p) => distanceToRing(panel, p)).sort((a, b) => a - b);
    expect(off[Math.floor(off.length * 0.95)]).toBeLessThan(1);
  });

  it('takes both halves of a table of two colours for table, when a card lies on each', () => {
    const cards = [rectangleRing(50, 60, 54, 54, 0), rectangleRing(310, 240, 54, 54, 0)];
    const piece: Point[] = [
      [120, 70],
      [240, 80],
      [230, 230],
      [125, 225],
    ];
    const regions = segment([piece], cards, (x) => (x < 180 ? CLOTH : [0.25, 0.12, 0.05]));
    expect(regions).toHaveLength(1);
    expect(regions[0]!.cutOff).toBe(false);
  });
});
