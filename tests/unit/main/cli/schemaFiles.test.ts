import { readdirSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { schemaFiles } from '../../../../main/cli/schemaFiles.ts';

it('the schema files are those that the code gives now (npm run schema writes them)', () => {
  const files = schemaFiles();
  expect(readdirSync('assets/schema').sort()).toEqual([...files.keys()].sort());
  for (const [name, text] of files) expect(readFileSync(`assets/schema/${name}`, 'utf8')).toBe(text);
});

it('a hand-written set needs only its format and a name', () => {
  const schema = JSON.parse(schemaFiles().get('notchwise-set-1.json')!) as { readonly required: readonly string[] };
  expect(schema.required).toEqual(['format', 'name']);
});
