// The set file's own types, version 1, as a zod schema: what other tools may write by hand. Everything that has an obvious
// meaning when left out may be left out; convert.ts fills it in. The JSON schema in assets/schema is generated from here.
import * as z from 'zod';

export const SET_FORMAT = 'notchwise-set/1';

const id = z.string().min(1).max(100);
const words = z.string().max(10_000);
const mm = z.number().min(-100_000).max(100_000);
const point = z.tuple([mm, mm]).describe('[x, y] in millimetres, x right, y down');
const sigma = z.number().min(0).max(1000);

const pieceKind = z.enum([
  'front bodice',
  'back bodice',
  'side panel',
  'sleeve',
  'top sleeve',
  'under sleeve',
  'collar',
  'stand',
  'neckband',
  'cuff',
  'front skirt',
  'back skirt',
  'trouser front',
  'trouser back',
  'facing',
  'waistband',
  'pocket',
  'yoke',
  'other',
]);

const cutEntry = z.object({
  material: z.enum(['shell', 'lining', 'facing', 'interfacing']).default('shell'),
  count: z
    .number()
    .int()
    .min(1)
    .max(1000)
    .default(1)
    .describe('Pieces cut in all: a pair is 2, a piece on the fold is 1.'),
  onFold: z.boolean().default(false),
  mirrored: z.boolean().default(false).describe('Cut as left and right.'),
  allowanceMm: mm.nullable().default(null).describe("Overrides the edges' allowance for this material."),
});

const edge = z.object({
  id: id.optional().describe('Default e1, e2, … in the order of the ring; the same in every size.'),
  label: words.optional().describe('What the person calls it: "side", "armhole". Default: the id.'),
  role: z.enum(['seam', 'fold', 'hem', 'opening']).default('seam'),
  curve: z
    .array(point)
    .min(2)
    .max(30_001)
    .describe('3n+1 control points of a cubic path along the traced line; exactly 2 points are a straight edge.'),
  allowanceMm: mm.min(0).optional().describe('Seam allowance; default 0 on a traced seamline.'),
  allowanceAssumed: z.boolean().optional().describe('True when nobody has said what the allowance is.'),
  sigmaMm: sigma.nullable().default(null).describe('Own standard uncertainty of the length, without the shared scale.'),
});

const mate = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('notch'), piece: id, notch: id }),
  z.object({ kind: z.literal('seam-end') }),
  z.object({ kind: z.literal('dart-leg') }),
  z.object({ kind: z.literal('centre-or-fold') }),
  z.object({ kind: z.literal('none') }),
  z.object({ kind: z.literal('unknown') }),
]);

const notchPurpose = z.enum(['match', 'dart', 'pleat', 'hem-turn', 'opening-stop', 'allowance']);

const notch = z.object({
  id: id.optional(),
  edge: id,
  atMm: mm.min(0).describe("Along the edge's seamline from the edge's start, darts and pleats open."),
  count: z.union([z.literal(1), z.literal(2), z.literal(3)]).default(1),
  purpose: notchPurpose.default('match'),
  mate: mate.default({ kind: 'unknown' }),
});

const dart = z.object({
  id: id.optional(),
  edge: id,
  legs: z.tuple([point, point]).describe('Where the legs meet the traced line, in the order of the edge.'),
  apex: point,
  foldTo: z.enum(['start', 'end']).nullable().default(null),
});

const pleat = z.object({ id: id.optional(), edge: id, fromMm: mm.min(0), toMm: mm.min(0) });

const grainline = z.object({
  from: point,
  to: point,
  heads: z.union([z.literal(0), z.literal(1), z.literal(2)]).default(1),
});

const mark = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('hole'), id: id.optional(), at: point }),
  z.object({ kind: z.literal('button'), id: id.optional(), at: point }),
  z.object({ kind: z.literal('buttonhole'), id: id.optional(), from: point, to: point }),
  z.object({ kind: z.literal('lengthen-shorten'), id: id.optional(), from: point, to: point }),
  z.object({ kind: z.literal('placement'), id: id.optional(), from: point, to: point }),
]);

const repairMark = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('notch'), at: point, count: z.union([z.literal(1), z.literal(2), z.literal(3)]) }),
  z.object({ kind: z.literal('dart'), legs: z.tuple([point, point]), apex: point }),
  z.object({
    kind: z.literal('grainline'),
    from: point,
    to: point,
    heads: z.union([z.literal(0), z.literal(1), z.literal(2)]),
  }),
  z.object({ kind: z.literal('hole'), at: point }),
  z.object({ kind: z.literal('button'), at: point }),
  z.object({ kind: z.literal('buttonhole'), from: point, to: point }),
  z.object({ kind: z.literal('lengthen-shorten'), from: point, to: point }),
  z.object({ kind: z.literal('placement'), from: point, to: point }),
]);

const repairFacts = {
  id,
  setAside: z.boolean().default(false).describe('True when it found no place in the last trace; not applied.'),
};

const repair = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('corner-moved'), ...repairFacts, from: point, to: point }),
  z.object({
    kind: z.literal('stretch-redrawn'),
    ...repairFacts,
    curve: z
      .array(point)
      .min(4)
      .max(30_001)
      .refine((points) => points.length % 3 === 1, '3n+1 control points'),
  }),
  z.object({ kind: z.literal('edge-split'), ...repairFacts, at: point }),
  z.object({ kind: z.literal('edges-joined'), ...repairFacts, at: point }),
  z.object({ kind: z.literal('mark-added'), ...repairFacts, mark: repairMark }),
  z.object({ kind: z.literal('mark-moved'), ...repairFacts, from: point, mark: repairMark }),
  z.object({
    kind: z.literal('mark-removed'),
    ...repairFacts,
    mark: z.enum(['notch', 'dart', 'grainline', 'hole', 'button', 'buttonhole', 'lengthen-shorten', 'placement']),
    at: point,
  }),
]);

const shape = z.object({
  ring: z
    .array(edge)
    .min(1)
    .max(500)
    .describe('Edges in order, clockwise as seen with y down, each starting where the one before ends.'),
  tracedLine: z.enum(['cutting', 'seam']).describe('Which line the ring is: the cutting line or the seamline.'),
  notches: z.array(notch).default([]),
  darts: z.array(dart).default([]),
  pleats: z.array(pleat).default([]),
  grainline: grainline.nullable().default(null),
  marks: z.array(mark).default([]),
  accuracy: z
    .object({
      scaleSources: z
        .array(z.object({ id, sigmaRatio: z.number().min(0).max(1) }))
        .default([])
        .describe('Equal ids are the same error: it cancels between pieces.'),
      pointSigmaMm: sigma.default(0),
    })
    .default({ scaleSources: [], pointSigmaMm: 0 }),
  placement: z.object({ shot: id, originMm: point, turnDeg: z.number().min(-360).max(360) }).optional(),
  unsure: z
    .array(
      z.object({
        reason: z.enum(['weak-edge', 'covered', 'shadow', 'gap']),
        points: z.array(point).min(2).max(20_000),
      }),
    )
    .optional()
    .describe('Stretches of the traced line that no photo showed well.'),
  repairs: z
    .array(repair)
    .optional()
    .describe('Corrections by hand, already made; made again when the piece is traced anew.'),
});

const piecePlan = z
  .object({
    tracedLine: z.enum(['cutting', 'seam']),
    edges: z
      .array(
        z.object({
          id,
          label: words.optional(),
          role: z.enum(['seam', 'fold', 'hem', 'opening']).default('seam'),
          allowanceMm: mm.min(0).default(0),
          aboutMm: mm.positive().describe('Rough length of the traced line, darts and pleats open.'),
        }),
      )
      .min(2)
      .describe('In order around the piece, clockwise as seen with y down.'),
    notches: z
      .array(
        z.object({
          id: id.optional(),
          edge: id,
          aboutRatio: z.number().min(0).max(1).describe('Rough place along the edge, 0 at its start, 1 at its end.'),
          purpose: notchPurpose.default('match'),
          mate: mate.default({ kind: 'unknown' }),
        }),
      )
      .default([]),
  })
  .describe('What is known of a piece before it is traced: enough to recognise it and to name what is read.');

const piece = z.object({
  id: id.optional().describe('Default: the name in small letters with hyphens.'),
  name: words.min(1),
  kind: pieceKind.default('other'),
  cut: z.array(cutEntry).default([]),
  grainIntent: z.enum(['straight', 'cross', 'bias']).default('straight'),
  nap: z.enum(['none', 'one-way']).default('none'),
  shapes: z.record(z.string().min(1), shape).default({}).describe('One shape for each size; none = a plan.'),
  origin: z
    .object({ source: z.enum(['photo', 'import', 'drafted', 'plan']), detail: words.default('') })
    .default({ source: 'drafted', detail: '' }),
  plan: piecePlan.optional(),
  before: z
    .record(z.string().min(1), shape)
    .optional()
    .describe('Shapes as they were before they were altered or traced again, by size.'),
});

const span = z.object({
  piece: id,
  edge: id,
  reversed: z.boolean().default(false).describe("Walked from the edge's end to its start."),
  stretch: z
    .object({ fromMm: mm.min(0), toMm: mm.min(0) })
    .nullable()
    .default(null)
    .describe('null = the whole edge'),
});

const seam = z.object({
  id: id.optional(),
  name: words.min(1),
  sides: z
    .tuple([z.array(span).min(1), z.array(span).min(1)])
    .describe('Both start at the same end; the second may be fuller. Ease = second - first.'),
  join: z
    .enum(['even', 'eased', 'gathered', 'pleated', 'stretched', 'bound', 'elasticated', 'lapped', 'applied'])
    .default('even'),
  wantedEaseMm: mm.nullable().default(null),
  wantedSectionsMm: z.array(mm).nullable().default(null),
  overlapMm: mm
    .default(0)
    .describe('What the band (waistband, cuff, collar; else the second side) has beyond the other on purpose.'),
  status: z.enum(['proposed', 'confirmed']).default('confirmed'),
});

const shot = z.object({
  id,
  file: words,
  mmPerPixel: z.number().positive(),
  tiltDeg: z.number().default(0),
  cards: z.array(z.object({ id, residualPx: z.number().min(0) })).default([]),
  warnings: z.array(z.object({ code: id, message: words })).default([]),
  picture: z
    .object({
      file: z
        .string()
        .regex(/^[A-Za-z0-9._-]+$/, 'a plain file name')
        .max(100),
      widthPx: z.number().int().positive(),
      heightPx: z.number().int().positive(),
      mmPerPixel: z.number().positive(),
      originMm: point,
    })
    .optional(),
  quality: z
    .object({
      columns: z.number().int().min(1).max(200),
      rows: z.number().int().min(1).max(200),
      sigmaRatios: z
        .array(z.number().min(0).nullable())
        .describe('Relative standard uncertainty of a short length, cell by cell; null = no table there.'),
      cornersMm: z
        .array(point.nullable())
        .describe('Corners of the cells on the table, (columns + 1) x (rows + 1); null = no table there.'),
      advice: z.array(z.object({ code: id, message: words })),
    })
    .refine(
      ({ columns, rows, sigmaRatios, cornersMm }) =>
        sigmaRatios.length === columns * rows && cornersMm.length === (columns + 1) * (rows + 1),
      'one value for each cell and one for each corner of a cell',
    )
    .optional(),
});

export const setV1 = z.object({
  format: z.literal(SET_FORMAT),
  name: words.min(1),
  displayUnits: z
    .enum(['mm', 'cm', 'in'])
    .default('mm')
    .describe('For reading only: every length in the file is in mm.'),
  preset: z
    .object({
      tolerance: z.enum(['home', 'studio']).default('home'),
      cloth: z.enum(['woven', 'knit', 'tailored', 'shirt']).default('woven'),
    })
    .default({ tolerance: 'home', cloth: 'woven' }),
  sizes: z.array(z.string().min(1)).optional().describe('Smallest first. Default: the sizes that the pieces have.'),
  baseSize: z.string().min(1).optional().describe('Default: the first size.'),
  pieces: z.array(piece).max(2000).default([]),
  seams: z.array(seam).max(5000).default([]),
  expectedPieces: z
    .array(z.object({ name: words.min(1), kind: pieceKind.default('other'), cut: z.array(cutEntry).default([]) }))
    .default([])
    .describe('The cutting list: what the set should hold.'),
  bodies: z
    .array(
      z.object({
        name: words.min(1).describe('A body named as one of the sizes is the one this size was drafted for.'),
        measuresMm: z.record(z.string(), mm).describe('By name: bust, waist, hip, biceps, head, back length, …'),
        size: z.string().min(1).optional().describe('The size that is sewn for this body.'),
        wanted: z.enum(['close', 'fitted', 'semi-fitted', 'loose', 'very loose']).optional(),
      }),
    )
    .default([]),
  fabric: z
    .object({ widthMm: z.number().positive().max(100_000) })
    .optional()
    .describe('The cloth it is cut from: usable width between the selvages.'),
  shots: z.array(shot).default([]),
  history: z
    .array(
      z.object({
        what: words,
        params: z.record(z.string(), z.union([z.string(), z.number(), z.boolean()])).default({}),
        sentence: words,
      }),
    )
    .default([]),
});

/** A set document with its constant defaults filled in. */
export type SetV1 = z.output<typeof setV1>;
