// The trace format, version 1: what was read from photos, for other programs. Millimetres of the table, y down as seen from
// above. The JSON schema in assets/schema is generated from here; shared/usecases/traceDocument.ts fills it.
import * as z from 'zod';

export const TRACE_FORMAT = 'notchwise-trace/1';

const point = z.tuple([z.number(), z.number()]).describe('[x, y] in millimetres, y down');

const quality = z
  .object({
    cornerSigmaPx: z.number().min(0).describe('Standard uncertainty of one card corner.'),
    worstRatio: z
      .number()
      .min(0)
      .nullable()
      .describe('Worst of the map without its outermost cells; null = part of the photo shows no table.'),
    map: z.object({
      columns: z.number().int().min(1),
      rows: z.number().int().min(1),
      sigmaRatios: z
        .array(z.number().min(0).nullable())
        .describe('Relative standard uncertainty of a short length, row by row; null = no table there.'),
    }),
    advice: z.array(z.object({ code: z.string(), message: z.string() })).describe('What would make the photo better.'),
  })
  .describe('Where lengths can be trusted. Added after the first edition; absent in older files.');

const unsureStretch = z.object({
  reason: z
    .enum(['weak-edge', 'covered', 'shadow', 'gap'])
    .describe('Hardly an edge seen; something lies over it; a shadow or the edge; a gap in a drawn line.'),
  points: z.array(point).min(2).describe('Along the outline, in its direction.'),
});

const confidence = z
  .number()
  .min(0)
  .max(1)
  .optional()
  .describe('How surely the mark is there, 0 to 1. Added after the first edition; absent in older files.');

const mark = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('notch'),
    atMm: point,
    count: z.union([z.literal(1), z.literal(2), z.literal(3)]),
    confidence,
  }),
  z.object({ kind: z.literal('grainline'), fromMm: point, toMm: point, confidence }),
  z.object({ kind: z.literal('dart'), legsMm: z.tuple([point, point]), apexMm: point, confidence }),
  z.object({ kind: z.literal('fold'), fromMm: point, toMm: point, confidence }),
  z
    .object({ kind: z.literal('lengthen-shorten'), fromMm: point, toMm: point, confidence })
    .describe('The middle between the two lines. Added after the first edition.'),
  z.object({ kind: z.literal('hole'), atMm: point, confidence }),
]);

export const traceV1 = z.object({
  format: z.literal(TRACE_FORMAT),
  photos: z.array(
    z.object({
      file: z.string(),
      mmPerPixel: z.number().positive().describe('In the middle of the photo.'),
      tiltDeg: z.number().min(0).max(90).describe('Between the line of sight and the upright on the table.'),
      cards: z.array(z.object({ id: z.string(), residualPx: z.number().min(0) })),
      quality: quality.optional(),
    }),
  ),
  yAxis: z.literal('down'),
  pieces: z.array(
    z.object({
      id: z.string(),
      photos: z.array(z.string()),
      outline: z.object({
        points: z
          .array(point)
          .describe('Closed, clockwise as seen, the first point not repeated; chords within 0.02 mm.'),
      }),
      edges: z.array(
        z.object({
          id: z.string(),
          fromMm: point,
          toMm: point,
          lengthMm: z.number().min(0),
          sigmaMm: z.number().min(0).describe('Standard uncertainty of lengthMm, everything included.'),
        }),
      ),
      marks: z.array(mark),
      unsure: z
        .array(unsureStretch)
        .optional()
        .describe('Where the outline may lie elsewhere. Added after the first edition; absent in older files.'),
      sigmaMm: z.number().min(0).describe('Standard uncertainty of one outline point.'),
    }),
  ),
  warnings: z.array(z.object({ code: z.string(), message: z.string() })),
});

export type TraceV1 = z.output<typeof traceV1>;
