// Which size to start from, by region.
import { describe, expect, it } from 'vitest';
import { type FinishedMeasures, finishedMeasures } from '../../../shared/fit/finished.ts';
import { garmentIn } from '../../../shared/fit/garment.ts';
import { adviseSize } from '../../../shared/fit/sizeAdvice.ts';
import type { Body, PatternSet } from '../../../shared/pattern/model.ts';
import { body, forBody, skirt, top } from '../../support/fitSets.ts';
import { nestOf } from '../../support/nestSets.ts';

const SIZES: readonly Body[] = [
  { name: 'S', measuresMm: { bust: 880, waist: 720, hip: 950 } },
  { name: 'M', measuresMm: { bust: 920, waist: 760, hip: 990 } },
  { name: 'L', measuresMm: { bust: 960, waist: 800, hip: 1030 } },
];

const TOPS = nestOf({
  S: top({ quarterMm: 235, waistQuarterMm: 190 }),
  M: top({ quarterMm: 245, waistQuarterMm: 200 }),
  L: top({ quarterMm: 255, waistQuarterMm: 210 }),
});

function finishedOf(set: PatternSet): ReadonlyMap<string, FinishedMeasures> {
  const options = { measuring: { assumedAllowanceSigmaMm: 3 }, hipDepthMm: 178 };
  return new Map(set.sizes.map((size) => [size, finishedMeasures(garmentIn(set, size, options))]));
}

function advise(set: PatternSet, measuresMm: Body['measuresMm']) {
  return adviseSize(set, body(measuresMm), finishedOf(set));
}

describe('the size to start from', () => {
  it('is that of the nearest body, and one size throughout has nothing to add', () => {
    const advice = advise(forBody(TOPS, ...SIZES), { bust: 925, waist: 765, hip: 985 });
    expect(advice).toMatchObject({ start: 'M', differing: [] });
    expect(advice!.regions.map(({ by }) => by)).toEqual(['body', 'body', 'body']);
  });

  it('is that of the bust where the regions differ, and the others are named', () => {
    const advice = advise(forBody(TOPS, ...SIZES), { bust: 885, waist: 795, hip: 1000 });
    expect(advice!.start).toBe('S');
    expect(advice!.differing.map(({ region, size }) => [region, size])).toEqual([
      ['waist', 'L'],
      ['hip', 'M'],
    ]);
  });

  it('is that of the hip for a skirt', () => {
    const skirts = nestOf({
      S: skirt({ waistQuarterMm: 190, hipQuarterMm: 250 }),
      M: skirt({ waistQuarterMm: 200, hipQuarterMm: 260 }),
    });
    expect(advise(forBody(skirts, ...SIZES.slice(0, 2)), { bust: 880, hip: 1000 })).toMatchObject({ start: 'M' });
  });

  it('is the larger of two that are equally near, because taking in is easier', () => {
    expect(advise(forBody(TOPS, ...SIZES), { bust: 900 })!.start).toBe('M');
  });

  it('says when a body lies beyond every size', () => {
    expect(advise(forBody(TOPS, ...SIZES), { bust: 1000 })!.regions[0]).toMatchObject({
      size: 'L',
      beyond: 'larger than every size',
    });
    expect(advise(forBody(TOPS, ...SIZES), { bust: 840 })!.regions[0]).toMatchObject({
      size: 'S',
      beyond: 'smaller than every size',
    });
    expect(advise(forBody(TOPS, ...SIZES), { bust: 970 })!.regions[0]!.beyond).toBeNull();
  });

  it('goes by the room that the garment leaves where the sizes name no bodies', () => {
    // 940, 980, 1020 round: a bust of 935 needs 38.1 more, which M is the first to give.
    const advice = advise(TOPS, { bust: 935, waist: 805 });
    expect(advice!.regions).toMatchObject([
      { region: 'bust', size: 'M', by: 'finished', beyond: null },
      { region: 'waist', size: 'L', by: 'finished', beyond: null },
    ]);
    expect(advise(TOPS, { bust: 1000 })!.regions[0]).toMatchObject({ size: 'L', beyond: 'larger than every size' });
  });

  it('is not told where nothing can be compared', () => {
    expect(advise(TOPS, { inseam: 780 })).toBeNull();
  });
});
