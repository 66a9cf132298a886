import { describe, expect, it } from 'vitest';
import { toggled } from '../../../../renderer/seams/pickEdges.ts';
import { keyed, passes } from '../../../../renderer/state/findingKeys.ts';
import { verify } from '../../../../shared/usecases/verify.ts';
import { idealSet } from '../../../photos/marl/idealSet.ts';

const { findings } = verify(idealSet('as traced')).findings;

describe('findings in the list', () => {
  it('have keys of their own that are the same after checking again', () => {
    const keys = keyed(findings).map(({ key }) => key);
    expect(new Set(keys).size).toBe(keys.length);
    expect(keyed(verify(idealSet('as traced')).findings.findings).map(({ key }) => key)).toEqual(keys);
  });

  it('are shown by verdict and gravity', () => {
    const count = (filter: Parameters<typeof passes>[0]) =>
      findings.filter((finding) => passes(filter, finding)).length;
    expect(count('stop')).toBeGreaterThan(0);
    expect(count('to-do')).toBe(count('stop') + count('mend') + count('look') + count('unsure'));
    expect(count('all')).toBe(count('to-do') + count('clear'));
  });
});

describe('edges picked for a seam', () => {
  it('are added at the end of the chain and taken out by a second press', () => {
    const side = [{ piece: 'a', edge: 'x', reversed: true, stretch: null }];
    const two = toggled(side, 'b', 'y');
    expect(two.map(({ edge }) => edge)).toEqual(['x', 'y']);
    expect(toggled(two, 'a', 'x').map(({ edge }) => edge)).toEqual(['y']);
  });
});
