// The findings format, version 1: what the checks say about a set, for other programs. The JSON schema in assets/schema is
// generated from here; shared/checks/toFindingsJson.ts fills it.
import * as z from 'zod';

const FINDINGS_FORMAT = 'notchwise-findings/1';

const unit = z.enum(['mm', 'deg', 'count', 'ratio']);
const point = z.tuple([z.number(), z.number()]).describe("[x, y] in the piece's millimetres, y down");

const subject = z.object({
  piece: z.string().optional(),
  edge: z.string().optional(),
  seam: z.string().optional(),
  notch: z.string().optional(),
  dart: z.string().optional(),
  size: z.string().optional(),
});

const overlay = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('edge'),
    piece: z.string(),
    edge: z.string(),
    fromMm: z.number().optional(),
    toMm: z.number().optional(),
  }),
  z.object({ kind: z.literal('point'), piece: z.string(), at: point, label: z.string().optional() }),
  z.object({ kind: z.literal('segment'), piece: z.string(), from: point, to: point, label: z.string().optional() }),
]);

export const finding = z.object({
  rule: z.string(),
  verdict: z.enum(['clear', 'fault', 'unsure', 'not-applicable']),
  gravity: z.enum(['stop', 'mend', 'look', 'note']),
  subjects: z.array(subject),
  measured: z
    .object({ value: z.number(), sigma: z.number().min(0).describe('Standard uncertainty.'), unit })
    .optional(),
  limit: z.object({ value: z.number(), unit, source: z.string() }).optional(),
  sentence: z.string(),
  why: z.string(),
  overlay: z.array(overlay),
  remedies: z.array(
    z.object({
      grade: z.enum(['safe', 'choice']),
      sentence: z.string(),
      action: z
        .object({ id: z.string(), params: z.record(z.string(), z.union([z.string(), z.number()])) })
        .optional()
        .describe('Present where the remedy can apply itself: it was tried on a copy, mends and adds no fault.'),
    }),
  ),
  get consequences() {
    return z.array(finding).describe('Findings with the same cause.');
  },
});

export const counts = z.object({
  stop: z.number(),
  mend: z.number(),
  look: z.number(),
  note: z.number(),
  unsure: z.number(),
  clear: z.number(),
  notApplicable: z.number(),
});

export const findingsV1 = z.object({
  format: z.literal(FINDINGS_FORMAT),
  set: z.string(),
  findings: z.array(finding),
  counts: counts.describe('Faults by gravity, then the other verdicts; consequences are not counted again.'),
});
