// The judgement "silently wrong" of the bench.
import { describe, expect, it } from 'vitest';
import { type OutlineSample, type Reading, silentFaults } from '../../bench/silentlyWrong.ts';

/** A closed outline in steps of a millimetre. */
const outline = (offs: readonly number[], isUnsure = (_: number) => false): OutlineSample[] =>
  offs.map((offMm, i) => ({ stepMm: 1, offMm, isUnsure: isUnsure(i) }));
const times = (count: number, offMm: number): number[] => Array.from({ length: count }, () => offMm);
const reading = (said: Partial<Reading>): Reading => ({
  outlines: [],
  lengths: [],
  invented: 0,
  warnings: [],
  ...said,
});

describe('silently wrong', () => {
  it('is not an outline within a millimetre of the truth', () => {
    expect(silentFaults(reading({ outlines: [outline(times(100, 0.99))] }))).toEqual([]);
  });

  it('is an outline that is off over a stretch, once for each stretch, with its largest error', () => {
    const offs = [...times(20, 0), ...times(6, 2), 3, ...times(20, 0), ...times(8, 1.5)];
    expect(silentFaults(reading({ outlines: [outline(offs)] }))).toEqual([
      { kind: 'outline', offMm: 3 },
      { kind: 'outline', offMm: 1.5 },
    ]);
  });

  it('is not the rounding of a corner, which is shorter than a stretch', () => {
    expect(silentFaults(reading({ outlines: [outline([...times(50, 0), ...times(4, 2), ...times(50, 0)])] }))).toEqual(
      [],
    );
  });

  it('joins a stretch that runs over the end of the outline', () => {
    const offs = [...times(3, 2), ...times(50, 0), ...times(3, 2)];
    expect(silentFaults(reading({ outlines: [outline(offs)] }))).toEqual([{ kind: 'outline', offMm: 2 }]);
  });

  it('is an outline that is off all round', () => {
    expect(silentFaults(reading({ outlines: [outline(times(40, 4))] }))).toEqual([{ kind: 'outline', offMm: 4 }]);
  });

  it('is not what was marked unsure, but what lies beside it', () => {
    const offs = [...times(20, 0), ...times(20, 3), ...times(20, 0)];
    expect(silentFaults(reading({ outlines: [outline(offs, (i) => i >= 20 && i < 40)] }))).toEqual([]);
    expect(silentFaults(reading({ outlines: [outline(offs, (i) => i >= 20 && i < 30)] }))).toHaveLength(1);
  });

  it('is no outline and no invented piece when the whole outline was doubted, and still is a length', () => {
    const wrong = { outlines: [outline(times(40, 4))], invented: 1 };
    const length = { errorMm: -2, sigmaMm: 0.1, isUnsure: false };
    expect(silentFaults(reading({ ...wrong, warnings: ['print-unchecked'] }))).toHaveLength(2);
    expect(silentFaults(reading({ ...wrong, warnings: ['outline-unsure'] }))).toHaveLength(2);
    expect(silentFaults(reading({ ...wrong, lengths: [length], warnings: ['piece-faint'] }))).toEqual([
      { kind: 'length', offMm: 2 },
    ]);
  });

  it('is a length off by more than three sigma and half a millimetre whose edge is sure', () => {
    const fault = (errorMm: number, sigmaMm: number, isUnsure: boolean) =>
      silentFaults(reading({ lengths: [{ errorMm, sigmaMm, isUnsure }] })).length;
    expect(fault(0.6, 0.1, false)).toBe(1);
    expect(fault(-0.6, 0.1, false)).toBe(1);
    expect(fault(0.4, 0.1, false)).toBe(0);
    expect(fault(0.6, 0.25, false)).toBe(0);
    expect(fault(0.6, 0.1, true)).toBe(0);
  });
});
