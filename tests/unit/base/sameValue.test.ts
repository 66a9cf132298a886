import { describe, expect, it } from 'vitest';
import { hasSameParts, isSame, keepSame } from '../../../shared/base/sameValue.ts';

describe('isSame', () => {
  it('compares by value all the way down, maps and lists too', () => {
    const make = () => ({ a: [1, { b: 'x' }], m: new Map([['k', [Number.NaN]]]), n: null });
    expect(isSame(make(), make())).toBe(true);
    expect(isSame(make(), { ...make(), n: undefined })).toBe(false);
    expect(isSame(make(), { ...make(), a: [1, { b: 'y' }] })).toBe(false);
    expect(isSame(make(), { ...make(), m: new Map([['k', [0]]]) })).toBe(false);
    expect(isSame({ a: 1 }, { a: 1, b: undefined })).toBe(false);
    expect(isSame([1, 2], [1, 2, 3])).toBe(false);
    expect(isSame([1], { 0: 1 })).toBe(false);
  });

  it('takes functions for the same only when they are one', () => {
    const f = () => 1;
    expect(isSame({ f }, { f })).toBe(true);
    expect(isSame({ f: () => 1 }, { f: () => 1 })).toBe(false);
  });

  it('tells one thing in two places from two things that are equal', () => {
    const corner = { deg: 90 };
    expect(isSame([corner, corner], [{ deg: 90 }, { deg: 90 }])).toBe(false);
    expect(isSame([{ deg: 90 }, { deg: 90 }], [corner, corner])).toBe(false);
    expect(isSame([corner, corner], [corner, { deg: 90 }])).toBe(false);
    expect(isSame([corner, { deg: 90 }], [corner, corner])).toBe(false);
  });
});

describe('hasSameParts', () => {
  it('looks at the parts themselves and no further', () => {
    const part = {};
    expect(hasSameParts({ part, n: 1 }, { part, n: 1 })).toBe(true);
    expect(hasSameParts({ part }, { part: {} })).toBe(false);
    expect(hasSameParts({ part }, { part, more: undefined })).toBe(false);
    expect(hasSameParts({ part, more: undefined }, { part })).toBe(false);
    expect(hasSameParts({ one: undefined }, { other: undefined })).toBe(false);
    expect(hasSameParts([part], [part])).toBe(true);
    expect(hasSameParts([part], [part, part])).toBe(false);
  });
});

describe('keepSame', () => {
  const before = {
    name: 'set',
    list: [
      { id: 'a', at: [1, 2] },
      { id: 'b', at: [3, 4] },
    ],
    deep: { x: { y: 1 } },
  };

  it('is the older object where nothing changed', () => {
    expect(keepSame(before, structuredClone(before))).toBe(before);
  });

  it('is the newer value, with the older objects wherever they say the same', () => {
    const after = structuredClone(before);
    after.list[1]!.at[0] = 9;
    const kept = keepSame(before, after);
    expect(kept).toEqual(after);
    expect(kept.list[0]).toBe(before.list[0]);
    expect(kept.deep).toBe(before.deep);
    expect(kept.list[1]).not.toBe(before.list[1]);
  });

  it('finds things with an id wherever they stand', () => {
    const after = structuredClone(before);
    after.list.unshift({ id: 'new', at: [0, 0] });
    const kept = keepSame(before, after);
    expect(kept).toEqual(after);
    expect(kept.list[1]).toBe(before.list[0]);
    expect(kept.list[2]).toBe(before.list[1]);
  });

  it('loses what the newer one has lost', () => {
    expect(keepSame(before, { name: 'set' })).toEqual({ name: 'set' });
    expect(keepSame(before, { ...before, list: [] }).list).toEqual([]);
    expect(keepSame([1, 2], [1])).toEqual([1]);
    expect(keepSame(null, before)).toBe(before);
  });
});
