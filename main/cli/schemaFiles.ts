// The JSON schemas of our formats, generated from the zod schemas that read them. `npm run schema` writes them to
// assets/schema; a test proves that they are current.
import * as z from 'zod';
import {
  alterationsV1,
  alterationV1,
  mendedV1,
  remediesV1,
  repeatedV1,
} from '../../shared/formats/findings/changesV1.ts';
import { bodiesV1, fitV1 } from '../../shared/formats/findings/fitV1.ts';
import { findingsV1 } from '../../shared/formats/findings/v1.ts';
import { phoneV1 } from '../../shared/formats/phone/v1.ts';
import { setV1 } from '../../shared/formats/set/v1.ts';
import { traceV1 } from '../../shared/formats/trace/v1.ts';

const SCHEMAS = {
  'notchwise-set-1': { title: 'A set of pattern pieces (notchwise-set/1)', schema: setV1 },
  'notchwise-trace-1': { title: 'What was read from photos (notchwise-trace/1)', schema: traceV1 },
  'notchwise-findings-1': { title: 'What the checks say (notchwise-findings/1)', schema: findingsV1 },
  'notchwise-phone-1': { title: 'What photos taught about a phone (notchwise-phone/1)', schema: phoneV1 },
  'notchwise-alterations-1': { title: 'What can be done to a set (notchwise-alterations/1)', schema: alterationsV1 },
  'notchwise-alteration-1': { title: 'What an alteration did (notchwise-alteration/1)', schema: alterationV1 },
  'notchwise-repeated-1': { title: 'Changes of another set repeated (notchwise-repeated/1)', schema: repeatedV1 },
  'notchwise-remedies-1': { title: 'Remedies that apply themselves (notchwise-remedies/1)', schema: remediesV1 },
  'notchwise-mended-1': { title: 'Remedies that were applied (notchwise-mended/1)', schema: mendedV1 },
  'notchwise-fit-1': { title: 'Finished measures against a body (notchwise-fit/1)', schema: fitV1 },
  'notchwise-bodies-1': { title: 'Bodies that were entered (notchwise-bodies/1)', schema: bodiesV1 },
} as const;

/** Text of each schema file by its name. Fields with defaults are not required: the schema is for who writes. */
export function schemaFiles(): ReadonlyMap<string, string> {
  return new Map(
    Object.entries(SCHEMAS).map(([name, { title, schema }]) => {
      const { $schema, ...rest } = z.toJSONSchema(schema, { io: 'input' });
      return [`${name}.json`, `${JSON.stringify({ $schema, title, ...rest }, null, 2)}\n`];
    }),
  );
}
