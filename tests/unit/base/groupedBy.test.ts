import { describe, expect, it } from 'vitest';
import { groupedBy } from '../../../shared/base/groupedBy.ts';

describe('groupedBy', () => {
  it('keeps the order of keys and items, and puts an item with several keys into several groups, once each', () => {
    const words = ['side', 'waist', 'side waist', 'side side'];
    expect([...groupedBy(words, (word) => word.split(' '))]).toEqual([
      ['side', ['side', 'side waist', 'side side']],
      ['waist', ['waist', 'side waist']],
    ]);
  });

  it('leaves out an item without a key', () => {
    expect(groupedBy([1], () => [])).toEqual(new Map());
  });
});
