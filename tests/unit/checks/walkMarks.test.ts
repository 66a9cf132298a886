// What a walk shows of its marks: met, missed, ahead, unsure or alone, by the checks' own limits.
import { describe, expect, it } from 'vitest';
import { contextOf } from '../../../shared/checks/context.ts';
import { pointOnChain, runningDifference, walkMarks } from '../../../shared/checks/seams/walkMarks.ts';
import type { PatternSet } from '../../../shared/pattern/model.ts';
import { type Rolling, rollSeam } from '../../../shared/pattern/rollSeam.ts';
import { idealSet } from '../../photos/marl/idealSet.ts';
import { apart } from '../../support/alterSets.ts';
import { loneNotch } from '../../support/mendSets.ts';

function walked(set: PatternSet, name: string | null, alongMm: number, rolling: Rolling = 'even') {
  const context = contextOf(set);
  const walk = context.walks().find(({ seam }) => name === null || seam.name === name)!;
  const rolled = rollSeam(walk, alongMm, rolling);
  return { context, walk, rolled, marks: walkMarks(walk, rolled, rolling, context) };
}

const CAP = idealSet('as traced');

describe('the marks of a walk', () => {
  it('lie ahead until the first side reaches them, then meet or miss', () => {
    // The demo's cap is drafted with 16 and 12 mm of ease between its notches, none below them.
    const at = (mm: number) => walked(CAP, 'sleeve cap', mm).marks.map(({ state }) => state);
    expect(at(0)).toEqual(['ahead', 'ahead', 'ahead', 'ahead']);
    expect(at(100)).toEqual(['meets', 'ahead', 'ahead', 'ahead']);
    expect(at(1000)).toEqual(['meets', 'misses', 'misses', 'misses']);
  });

  it('are all brought together as it is sewn, with the ease so far', () => {
    const { marks } = walked(CAP, 'sleeve cap', 1000, 'eased');
    expect(marks.map(({ state }) => state)).toEqual(['meets', 'meets', 'meets', 'meets']);
    expect(marks.map(({ easedMm }) => Math.round(easedMm!))).toEqual([0, 16, 28, 28]);
  });

  it('say so when the measurement is too coarse to tell', () => {
    const coarse: PatternSet = {
      ...CAP,
      pieces: CAP.pieces.map((piece) => ({
        ...piece,
        shapes: Object.fromEntries(
          Object.entries(piece.shapes).map(([size, shape]) => [
            size,
            { ...shape, accuracy: { ...shape.accuracy, pointSigmaMm: 3 } },
          ]),
        ),
      })),
    };
    expect(walked(coarse, 'sleeve cap', 100).marks[0]!.state).toBe('unsure');
  });

  it('name a notch without partner on its own side', () => {
    const { marks } = walked(loneNotch(), null, 1000);
    expect(marks[0]).toMatchObject({ state: 'alone', name: 'double notch', atMm: [80, null], miss: null });
    expect(walked(loneNotch(), null, 10).marks[0]!.state).toBe('ahead');
  });

  it('lie on the rolled pieces where they touch', () => {
    const { walk, rolled } = walked(CAP, 'sleeve cap', 300);
    const first = pointOnChain(walk.sides[0], rolled.sides[0], rolled.atMm[0]);
    const second = pointOnChain(walk.sides[1], rolled.sides[1], rolled.atMm[1]);
    expect(apart(first, second)).toBeLessThan(1e-6);
  });
});

describe('the running difference', () => {
  it('is that of the whole seam at its end, with an uncertainty that grows on the way', () => {
    const at = (mm: number) => {
      const { walk, rolled, context } = walked(CAP, 'sleeve cap', mm);
      return runningDifference(walk, rolled, context);
    };
    expect(at(1000).valueMm).toBeCloseTo(28, 3);
    expect(at(0).valueMm).toBe(0);
    expect(at(50).sigmaMm).toBeLessThan(at(1000).sigmaMm);
  });
});
