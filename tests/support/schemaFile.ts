// The schema files as they are handed out, read as another program would: what they say of a document, not what our code says.
import { readFileSync } from 'node:fs';
import * as z from 'zod';

/** What is wrong with a document by `assets/schema/NAME.json`, one line each; none = nothing. */
export function againstSchemaFile(name: string, document: unknown): readonly string[] {
  const text = readFileSync(`assets/schema/${name}.json`, 'utf8');
  const judged = z.fromJSONSchema(JSON.parse(text)).safeParse(document);
  return judged.success ? [] : judged.error.issues.map(({ path, message }) => `${path.join('.')}: ${message}`);
}
