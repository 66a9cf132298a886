// The table of the mutation proof stays current: every rule has changes that break it, and each change still fits its file.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../../shared/checks/registry.ts';
import { MUTATIONS } from '../../mutations/table.ts';

const ROOT = fileURLToPath(new URL('../../../', import.meta.url));

describe('the mutation table', () => {
  it('breaks every rule of the registry and no other', () => {
    const broken = new Set(MUTATIONS.map(({ rule }) => rule));
    expect([...broken].sort()).toEqual(RULES.map(({ id }) => id).sort());
  });

  it.each(MUTATIONS)('$rule: "$what" fits one place of $file and changes it', ({ file, find, put }) => {
    const source = readFileSync(`${ROOT}${file}`, 'utf8');
    expect(source.split(find).length - 1).toBe(1);
    expect(put).not.toBe(find);
  });
});
