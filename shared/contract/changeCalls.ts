// What the window may ask about changes to a set: remedies of one finding, and alterations by amount. The host keeps nothing of
// it: the window decides whether what it got was a preview.
import * as z from 'zod';
import { setDocument } from './values.ts';

/** What a finding is about, enough to find it again in the set that it was found in. */
const findingPlace = z.strictObject({
  rule: z.string(),
  subjects: z.array(z.record(z.string(), z.string())),
});

const amounts = z.record(z.string(), z.union([z.string(), z.number()]));
const remedyCall = z.strictObject({ id: z.string(), params: amounts });
const shapeName = z.strictObject({ piece: z.string(), size: z.string() });
const measured = z.strictObject({
  value: z.number(),
  sigma: z.number(),
  unit: z.enum(['mm', 'deg', 'count', 'ratio']),
});
const gravity = z.enum(['stop', 'mend', 'look', 'note']);

/** An alteration or a remedy as the window offers it: its title and a field for each amount. */
const changeSpec = z.strictObject({
  id: z.string(),
  kind: z.enum(['alteration', 'remedy']),
  title: z.string(),
  sentence: z.string().nullable(),
  params: z.array(
    z.looseObject({ name: z.string(), unit: z.enum(['mm', 'deg', 'count', 'name']), sentence: z.string() }),
  ),
});

const follower = z.strictObject({
  seam: z.string(),
  size: z.string(),
  /** The side of the seam that must follow. */
  side: z.union([z.literal(0), z.literal(1)]),
  missingMm: z.number(),
  sentence: z.string(),
  /** Why it was not carried through; null = nobody tried. */
  reason: z.string().nullable(),
});

export const changeCalls = {
  /**
   * Remedies that apply themselves for one finding: each was tried on a copy, mends the finding and adds nothing to stop for
   * or to mend. The one that leaves the fewest faults comes first. `changed` names the shapes that a preview shows.
   */
  'remedies.list': {
    args: z.strictObject({ set: setDocument, finding: findingPlace }),
    value: z.strictObject({
      offers: z.array(
        z.strictObject({
          ...remedyCall.shape,
          grade: z.enum(['safe', 'choice']),
          sentence: z.string(),
          /** Null = the finding is gone. */
          after: z.strictObject({
            verdict: z.enum(['clear', 'fault', 'unsure', 'not-applicable']).nullable(),
            gravity: gravity.nullable(),
            measured: measured.nullable(),
          }),
          leaves: z.number(),
          changed: z.array(shapeName),
        }),
      ),
    }),
  },
  /** The set with one remedy applied, for a preview or for good: the last step of its history tells what was done. */
  'remedies.apply': {
    args: z.strictObject({ set: setDocument, remedy: remedyCall }),
    value: z.strictObject({ set: setDocument, sentence: z.string(), changed: z.array(shapeName) }),
  },
  'changes.list': { args: z.strictObject({}), value: z.strictObject({ changes: z.array(changeSpec) }) },
  /** An alteration (or a remedy) by amount, for a preview or for good: the new set, and what has to follow it. */
  'changes.apply': {
    args: z.strictObject({
      set: setDocument,
      change: remedyCall,
      /** Null = every piece or size that it fits. */
      pieces: z.array(z.string()).nullable().default(null),
      sizes: z.array(z.string()).nullable().default(null),
      /** Also redraw what must follow. */
      carry: z.boolean().default(false),
    }),
    value: z.strictObject({
      set: setDocument,
      sentence: z.string(),
      edges: z.array(z.strictObject({ piece: z.string(), edge: z.string(), size: z.string(), byMm: z.number() })),
      followers: z.array(follower),
      carried: z.array(z.strictObject({ seam: z.string(), size: z.string(), byMm: z.number(), sentence: z.string() })),
      left: z.array(follower),
      changed: z.array(shapeName),
    }),
  },
} as const;
