// Every rule has its page in assets/rules, and the list of them is current. What stands on a page is tested with its rule.
import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { RULES } from '../../../shared/checks/registry.ts';

const PAGES = fileURLToPath(new URL('../../../assets/rules/', import.meta.url));

it('every rule has a page and every page a rule', () => {
  const pages = readdirSync(PAGES).filter((name) => name !== 'README.md');
  expect(pages.sort()).toEqual(RULES.map(({ id }) => `${id}.md`).sort());
});

it('the list of pages is current (npm run rules)', async () => {
  const lines = RULES.map(({ id, title }) => `- [${title}](${id}.md) (\`${id}\`)`);
  const list = [
    '# What the checks say, and why',
    'One page a rule: what it teaches, where its limit comes from, an example of every outcome as the checks tell it, and what to do. Written by `npm run rules` from the rules and their tests.',
    lines.join('\n'),
  ];
  await expect(`${list.join('\n\n')}\n`).toMatchFileSnapshot(`${PAGES}README.md`);
});
