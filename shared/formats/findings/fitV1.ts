// What `fit` prints for other programs, version 1: the finished measures against a body. The JSON schemas in assets/schema are
// generated from here; shared/usecases/fitReport.ts fills them.
import * as z from 'zod';
import { finding } from './v1.ts';

const point = z.tuple([z.number(), z.number()]);
const fitClass = z.enum(['close', 'fitted', 'semi-fitted', 'loose', 'very loose']);
const body = z.object({
  name: z.string(),
  measuresMm: z.record(z.string(), z.number()),
  size: z.string().optional().describe('The size that is sewn for this body.'),
  wanted: fitClass.optional(),
});

const line = z.object({
  measure: z.string(),
  finished: z
    .object({ valueMm: z.number(), sigmaMm: z.number().min(0) })
    .nullable()
    .describe('In the round where it is a girth; null when it could not be taken.'),
  halfMm: z.number().nullable().describe('What the pieces show, where they show half.'),
  passesMm: z.number().nullable().describe('An opening undone.'),
  bodyMeasure: z.string(),
  bodyMm: z.number().nullable(),
  easeMm: z.number().nullable().describe('Finished (undone, for an opening) less body.'),
  leastEaseMm: z.number().nullable().describe('Usual at least.'),
  fitClass: fitClass.nullable(),
  notes: z.array(z.enum(['pleats-open', 'by-band', 'without-cuff'])),
  lines: z.array(
    z.discriminatedUnion('kind', [
      z.object({ kind: z.literal('segment'), piece: z.string(), from: point, to: point }),
      z.object({ kind: z.literal('edge'), piece: z.string(), edge: z.string() }),
    ]),
  ),
  problem: z.string().nullable().describe('Why it could not be taken.'),
});

const region = z.object({
  region: z.string(),
  bodyMm: z.number(),
  size: z.string(),
  by: z.enum(['body', 'finished']),
  sizeMm: z.number(),
  beyond: z.enum(['larger than every size', 'smaller than every size']).nullable(),
});

/** `fit SET`. */
export const fitV1 = z.object({
  format: z.literal('notchwise-fit/1'),
  set: z.string(),
  size: z.string(),
  body: body.nullable(),
  lines: z.array(line),
  findings: z.array(finding),
  advice: z
    .object({ regions: z.array(region), start: z.string(), differing: z.array(region), sentence: z.string() })
    .nullable()
    .describe('Which size to start from, region by region.'),
});

/** `fit SET --set …` on a plan of which nothing was traced yet. */
export const bodiesV1 = z.object({ format: z.literal('notchwise-bodies/1'), set: z.string(), bodies: z.array(body) });
