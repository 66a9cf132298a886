import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PiecePlan } from '../../../shared/pattern/model.ts';
import { assignPlans, matchPlan, PLAN_MATCHING, type TracedRing } from '../../../shared/usecases/matchPlan.ts';

function plan(
  edges: readonly [id: string, aboutMm: number, role?: 'fold' | 'seam'][],
  notches: readonly string[] = [],
): PiecePlan {
  return {
    tracedLine: 'cutting',
    edges: edges.map(([id, aboutMm, role = 'seam']) => ({ id, label: id, role, allowanceMm: 15, aboutMm })),
    notches: notches.map((edge, i) => ({
      id: `n${i}`,
      edge,
      aboutRatio: 0.5,
      purpose: 'match',
      mate: { kind: 'unknown' },
    })),
  };
}

function ring(lengthsMm: readonly number[], more: Partial<TracedRing> = {}): TracedRing {
  return { lengthsMm, notchCounts: lengthsMm.map(() => 0), folds: lengthsMm.map(() => false), ...more };
}

const bodice = plan([
  ['neck', 185],
  ['shoulder', 110],
  ['armhole', 215],
  ['side', 265],
  ['waist', 220],
  ['fold', 280, 'fold'],
]);
const LENGTHS = [188, 107, 222, 259, 216, 284];
const folds = (at: number) => LENGTHS.map((_, i) => i === at);

/** Traced edges of each planned edge, in the order of the plan. */
const found = (match: ReturnType<typeof matchPlan>) => match?.edges.map(({ traced }) => traced);

describe('laying a traced ring on a plan', () => {
  it('finds the turn, wherever the tracing starts', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 5 }), (by) => {
        const turned = ring([...LENGTHS.slice(by), ...LENGTHS.slice(0, by)], { folds: folds((5 - by + 6) % 6) });
        const match = matchPlan(bodice, turned);
        expect(match?.faceDown).toBe(false);
        expect(found(match)).toEqual(LENGTHS.map((_, i) => [(i - by + 6) % 6]));
      }),
    );
  });

  it('sees a piece that lies face down', () => {
    const match = matchPlan(bodice, ring(LENGTHS.toReversed(), { folds: folds(0) }));
    expect(match?.faceDown).toBe(true);
    expect(found(match)).toEqual([[5], [4], [3], [2], [1], [0]]);
  });

  it('joins traced edges where the tracing saw a corner too many', () => {
    const split = ring([188, 107, 222, 130, 129, 216, 284], {
      folds: [false, false, false, false, false, false, true],
    });
    expect(found(matchPlan(bodice, split))).toEqual([[0], [1], [2], [3, 4], [5], [6]]);
  });

  it('shares one traced edge in proportion where the tracing missed a corner', () => {
    const missed = ring([188, 107, 222, 259 + 216, 284], { folds: [false, false, false, false, true] });
    const match = matchPlan(bodice, missed);
    expect(found(match)).toEqual([[0], [1], [2], [3], [3], [4]]);
    expect(match?.edges[3]).toMatchObject({ fromRatio: 0, toRatio: 265 / 485 });
    expect(match?.edges[4]).toMatchObject({ fromRatio: 265 / 485, toRatio: 1 });
  });

  it('lets notches decide where lengths cannot', () => {
    const band = plan(
      [
        ['a', 100],
        ['b', 100],
        ['c', 100],
        ['d', 100],
      ],
      ['b'],
    );
    const match = matchPlan(band, ring([100, 100, 100, 100], { notchCounts: [0, 0, 0, 1] }));
    expect(match?.edges[1]?.traced).toEqual([3]);
  });

  it('an altered piece is still the piece: one edge 15 mm longer', () => {
    const altered = LENGTHS.map((length, i) => (i === 2 ? length + 15 : length));
    expect(matchPlan(bodice, ring(altered, { folds: folds(5) }))?.misfit).toBeLessThan(1);
  });
});

describe('which piece is which', () => {
  const sleeve = plan([
    ['cap', 495],
    ['front', 125],
    ['hem', 365],
    ['back', 125],
  ]);
  const pocket = plan([
    ['opening', 180],
    ['bag', 565],
  ]);

  it('gives each traced piece its plan, in any order', () => {
    const rings = [ring([560, 178]), ring(LENGTHS, { folds: folds(5) }), ring([126, 493, 124, 366])];
    const given = assignPlans([bodice, sleeve, pocket], rings);
    expect([...given].map(([traced, { plan: index }]) => [traced, index]).sort()).toEqual([
      [0, 2],
      [1, 0],
      [2, 1],
    ]);
  });

  it('uses no plan twice, and leaves out what fits none', () => {
    const given = assignPlans([pocket], [ring([560, 178]), ring([566, 180]), ring([40, 30, 40])]);
    expect([...given.keys()]).toEqual([1]);
  });

  it('never fits a piece worse than it says', () => {
    const lengths = fc.array(fc.double({ min: 20, max: 900, noNaN: true }), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(lengths, (traced) => {
        const given = assignPlans([bodice, sleeve, pocket], [ring(traced)]);
        for (const { match } of given.values()) expect(match.misfit).toBeLessThanOrEqual(PLAN_MATCHING.worstMisfit);
      }),
    );
  });
});
