// What the window asks about fit: the table of finished and body measures, bodies typed in or taken from a table, the cloth.
// Every change answers with the new set; the window decides whether it keeps it.
import * as z from 'zod';
import { setDocument, source } from './values.ts';

const fitClass = z.enum(['close', 'fitted', 'semi-fitted', 'loose', 'very loose']);
const mm = z.number().min(0).max(100_000);
const bodyName = z.string().min(1).max(120);

const body = z.strictObject({
  name: bodyName,
  measuresMm: z.record(z.string(), z.number()),
  size: z.string().optional(),
  wanted: fitClass.optional(),
});

/** The set after a change, and what was done in one sentence. */
const changedSet = z.strictObject({ set: setDocument, sentence: z.string() });

const point = z.tuple([z.number(), z.number()]);

const fitLine = z.strictObject({
  measure: z.string(),
  /** In the round where it is a girth; null when it could not be taken: `problem` says why. */
  finished: z.strictObject({ valueMm: z.number(), sigmaMm: z.number() }).nullable(),
  /** What the pieces show, where they show half of the round. */
  halfMm: z.number().nullable(),
  /** An opening undone. */
  passesMm: z.number().nullable(),
  bodyMeasure: z.string(),
  bodyMm: z.number().nullable(),
  /** Finished (undone, for an opening) less body. */
  easeMm: z.number().nullable(),
  leastEaseMm: z.number().nullable(),
  fitClass: fitClass.nullable(),
  notes: z.array(z.enum(['pleats-open', 'by-band', 'without-cuff'])),
  /** Where on the pieces it was taken, piece millimetres. */
  lines: z.array(
    z.discriminatedUnion('kind', [
      z.strictObject({ kind: z.literal('segment'), piece: z.string(), from: point, to: point }),
      z.strictObject({ kind: z.literal('edge'), piece: z.string(), edge: z.string() }),
    ]),
  ),
  problem: z.string().nullable(),
});

const regionAdvice = z.strictObject({
  region: z.enum(['bust', 'waist', 'hip']),
  bodyMm: z.number(),
  size: z.string(),
  /** By the body that the size was drafted for, or by the room that the finished garment leaves. */
  by: z.enum(['body', 'finished']),
  sizeMm: z.number(),
  beyond: z.enum(['larger than every size', 'smaller than every size']).nullable(),
});

export const fitCalls = {
  /** The names of body measures with where the tape lies, and the published tables that can be taken as examples. */
  'fit.names': {
    args: z.strictObject({}),
    value: z.strictObject({
      measures: z.array(z.strictObject({ name: z.string(), how: z.string() })),
      classes: z.array(fitClass),
      tables: z.array(
        z.strictObject({ id: z.string(), title: z.string(), source: z.string(), sizes: z.array(z.string()) }),
      ),
    }),
  },
  /** The table of fit for one body in one size; null = the first person (else the size's own body), and the size it sews. */
  'fit.read': {
    args: z.strictObject({
      set: setDocument,
      body: bodyName.nullable().default(null),
      size: z.string().nullable().default(null),
    }),
    value: z.strictObject({
      size: z.string(),
      body: body.nullable(),
      /** All bodies of the set, in its order; one named as a size is the body that size was drafted for. */
      bodies: z.array(body),
      lines: z.array(fitLine),
      /** Sentences of the checks about fit, faults and doubts first. */
      findings: z.array(
        z.strictObject({
          rule: z.string(),
          verdict: z.enum(['clear', 'fault', 'unsure', 'not-applicable']),
          gravity: z.enum(['stop', 'mend', 'look', 'note']),
          sentence: z.string(),
        }),
      ),
      /** Which size to start from; null when nothing can be compared. */
      advice: z
        .strictObject({
          start: z.string(),
          regions: z.array(regionAdvice),
          differing: z.array(regionAdvice),
          sentence: z.string(),
        })
        .nullable(),
    }),
  },
  /** Adds a body or changes some of its measures; null takes a measure, the size or the wish away, left out = as it was. */
  'fit.setBody': {
    args: z.strictObject({
      set: setDocument,
      body: z.strictObject({
        name: bodyName,
        measuresMm: z.record(z.string(), mm.nullable()).default({}),
        size: z.string().nullable().optional(),
        wanted: fitClass.nullable().optional(),
      }),
    }),
    value: changedSet,
  },
  'fit.removeBody': { args: z.strictObject({ set: setDocument, name: bodyName }), value: changedSet },
  /** Bodies from a CSV or JSON file of the person; bodies of the same name are replaced. */
  'fit.importTable': { args: z.strictObject({ set: setDocument, from: source }), value: changedSet },
  /** Bodies of a published table for the sizes of the set: `columns` says which of its columns stands for which size. */
  'fit.useTable': {
    args: z.strictObject({
      set: setDocument,
      table: z.string(),
      columns: z.record(z.string(), z.string()).nullable().default(null),
    }),
    value: changedSet,
  },
  /** How wide the cloth is between the selvages; null = not said. */
  'fit.setFabric': { args: z.strictObject({ set: setDocument, widthMm: mm.nullable() }), value: changedSet },
};
