// What `alter` and `mend` print for other programs, version 1: what can be done to a set, and what was done. The JSON schemas in
// assets/schema are generated from here; main/cli/commands fills them.
import * as z from 'zod';
import { counts, finding } from './v1.ts';

const params = z.record(z.string(), z.union([z.string(), z.number(), z.boolean()])).describe('By name of the amount.');

const step = z.object({ what: z.string(), params, sentence: z.string() }).describe('A step of the history.');

const missing = {
  seam: z.string(),
  size: z.string(),
  missingMm: z.number().describe('How much longer (shorter where negative) the side that did not follow must become.'),
  missingBySectionMm: z.array(z.number()).nullable().describe('The same between the notches.'),
  sentence: z.string(),
};

const follower = z.object(missing);
const left = z.object({ ...missing, reason: z.string().nullable().describe('Why it could not be carried through.') });

const spec = z.object({
  name: z.string(),
  unit: z.enum(['mm', 'deg', 'count', 'name']),
  default: z.union([z.number(), z.string()]).nullable().describe('null = must be given.'),
  like: z.string().optional().describe('The amount that it equals when it is not given.'),
  min: z.number().optional(),
  max: z.number().optional(),
  sentence: z.string(),
});

/** `alter SET --list`. */
export const alterationsV1 = z.object({
  format: z.literal('notchwise-alterations/1'),
  alterations: z.array(
    z.object({
      id: z.string(),
      kind: z.enum(['alteration', 'remedy']),
      fits: z.boolean().nullable().describe('Whether the set has something that it fits; null = it must be named.'),
      title: z.string(),
      grade: z.enum(['safe', 'choice']).optional(),
      sentence: z.string().optional(),
      params: z.array(spec),
    }),
  ),
});

/** `alter SET ID`. */
export const alterationV1 = z.object({
  format: z.literal('notchwise-alteration/1'),
  alteration: z.string(),
  sentence: z.string(),
  changed: z.array(
    z.object({
      piece: z.string(),
      edge: z.string(),
      size: z.string(),
      byMm: z.number().describe('Change of the sewn length.'),
    }),
  ),
  followers: z.array(follower),
  carried: z.array(z.string()),
  left: z.array(left),
  before: z.array(finding),
  after: z.array(finding),
  history: z.array(step),
});

/** `alter SET --like OTHER`. */
export const repeatedV1 = z.object({
  format: z.literal('notchwise-repeated/1'),
  done: z.array(z.string()),
  skipped: z.array(z.object({ sentence: z.string(), reason: z.string() })),
  left: z.array(finding),
  counts,
  history: z.array(step),
});

/** `mend SET`. */
export const remediesV1 = z.object({
  format: z.literal('notchwise-remedies/1'),
  set: z.string(),
  findings: z.array(
    finding.extend({
      offers: z.array(
        z.object({
          number: z.int().positive().describe('For --apply.'),
          id: z.string(),
          params,
          grade: z.enum(['safe', 'choice']),
          sentence: z.string(),
          after: z
            .object({
              verdict: finding.shape.verdict.nullable(),
              gravity: finding.shape.gravity.nullable(),
              measured: finding.shape.measured.unwrap().nullable(),
            })
            .describe('What the finding says then; null verdict = it is gone.'),
          leaves: z.int().min(0).describe('Faults to stop for or to mend that the set then still has.'),
          changed: z.array(z.object({ piece: z.string(), size: z.string() })),
        }),
      ),
    }),
  ),
});

/** `mend SET --apply N` and `--rule ID`. */
export const mendedV1 = z.object({
  format: z.literal('notchwise-mended/1'),
  set: z.string(),
  applied: z.array(z.object({ id: z.string(), params, sentence: z.string() })),
  counts,
});
