// npm run schema: writes the JSON schemas of our formats to assets/schema.
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { realDisk } from '../files/disk.ts';
import { need } from './exitCodes.ts';
import { schemaFiles } from './schemaFiles.ts';

const folder = fileURLToPath(new URL('../../assets/schema', import.meta.url));
need(await realDisk.makeFolder(folder));
for (const [name, text] of schemaFiles()) need(await realDisk.write(join(folder, name), text));
