// Lengths typed and shown in fields. An inch is 25.4 mm by definition.
import { describe, expect, it } from 'vitest';
import { fieldText, typedMm } from '../../../../renderer/app/lengths.ts';

describe('a typed length', () => {
  it.each([
    ['in', '5/8', 15.875],
    ['in', '1 3/8', 34.925],
    ['in', '-1/2', -12.7],
    ['in', '0.5', 12.7],
    ['in', '12.7 mm', 12.7],
    ['mm', '12,7', 12.7],
    ['mm', '1/2"', 12.7],
    ['cm', '.5', 5],
    ['cm', '2 in', 50.8],
  ] as const)('in %s: %s', (units, typed, mm) => {
    expect(typedMm(units, typed)).toBeCloseTo(mm, 9);
  });

  it.each(['', 'long', '1 2', '1/0', '3//4', '5 miles', '1.2.3', '--1'])('%s is none', (typed) => {
    expect(typedMm('in', typed)).toBeNull();
  });
});

describe('the text of a field', () => {
  it('is what a tape shows where the length lies on a line of it, and comes back as it was', () => {
    expect(fieldText('in', 34.925)).toBe('1 3/8');
    expect(fieldText('in', -12.7)).toBe('-1/2');
    expect(fieldText('in', 10)).toBe('0.3937');
    expect(fieldText('mm', 12.7)).toBe('12.7');
    for (const mm of [-40, -12.7, 0, 1.5875, 10, 34.925])
      for (const units of ['mm', 'cm', 'in'] as const)
        expect(Math.abs(typedMm(units, fieldText(units, mm))! - mm)).toBeLessThan(0.006);
  });
});
