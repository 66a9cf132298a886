// The part of the contract that takes photos in: looking at a photo, reading photos as a job, what is known about phones.
import * as z from 'zod';
import { documentHandle, jobHandle, photoHandle, warning } from './values.ts';

const nothing = z.strictObject({});
const cardNameText = z.string().regex(/^N\d{2,4}$/);
const pointPx = z.tuple([z.number(), z.number()]);
const ratio = z.number().min(0).nullable();

const tapeFacts = {
  lengthMm: z.number().positive().max(10_000),
  sigmaMm: z.number().positive().max(10).default(0.5),
};

/**
 * A distance measured with a tape. Between two cards: from the top left corner of the one's chequer to the other's, as they
 * look when the card is turned so that its number can be read. Or between two points picked in one photo, upright pixels.
 */
const tape = z.union([
  z.strictObject({ from: cardNameText, to: cardNameText, ...tapeFacts }),
  z.strictObject({ photo: photoHandle, fromPx: pointPx, toPx: pointPx, ...tapeFacts }),
]);

/** What the plane of the table depends on. */
const planeOptions = {
  /** Measured divided by nominal length of the print's two rulers; null = the print was not checked. */
  printScale: z
    .strictObject({ x: z.number().min(0.9).max(1.1), y: z.number().min(0.9).max(1.1) })
    .nullable()
    .default(null),
  taped: z.array(tape).max(20).default([]),
};

const captureOptions = z.strictObject({
  /** Which edge of a drawn line is the piece's outline. */
  line: z.enum(['centre', 'inner', 'outer']).default('centre'),
  /** Paper edges, drawn lines, or whichever a piece shows. */
  outline: z.enum(['auto', 'paper', 'drawn']).default('auto'),
  ...planeOptions,
  /** Whether photos that show the same cards lying unmoved are joined into one table. */
  arrangement: z.enum(['one-table', 'separate']).default('one-table'),
  /** The piece that these photos show again; null = whichever they show. */
  again: z.string().nullable().default(null),
});

/** How far one photo of a job is. */
const photoInJob = z.strictObject({
  photo: photoHandle,
  state: z.enum(['waiting', 'reading', 'read', 'failed', 'cancelled']),
  progress: z.number(),
  /** What is being done, or why it failed. */
  sentence: z.string(),
});

const trustMap = z.strictObject({
  columns: z.number(),
  rows: z.number(),
  /** Relative standard uncertainty of a short length, row by row over the photo; null = no table there. */
  sigmaRatios: z.array(ratio),
});

export const captureCalls = {
  /** A quick look before reading: cards, trust map, advice, what a tape changes. */
  'photo.look': {
    args: z.strictObject({ photo: photoHandle, options: z.strictObject(planeOptions) }),
    value: z.strictObject({
      widthPx: z.number(),
      heightPx: z.number(),
      cards: z.array(z.strictObject({ id: z.string(), outlinePx: z.array(pointPx), tapeEndPx: pointPx })),
      tiltDeg: z.number(),
      map: trustMap,
      advice: z.array(warning),
      phone: z.enum(['unknown', 'used', 'contradicted']),
      tapes: z.array(
        z.strictObject({ typedMm: z.number(), seenMm: z.number(), seenSigmaMm: z.number(), used: z.boolean() }),
      ),
      taping: z
        .strictObject({ scaleRatio: z.number(), sigmaRatioBefore: z.number(), sigmaRatioAfter: z.number() })
        .nullable(),
      warnings: z.array(warning),
    }),
  },

  /** How far each photo of a job is. */
  'job.photos': { args: z.strictObject({ job: jobHandle }), value: z.strictObject({ photos: z.array(photoInJob) }) },
  /** The whole job, or one photo of it: the others are read on. */
  'job.cancel': {
    args: z.strictObject({ job: jobHandle, photo: photoHandle.nullable().default(null) }),
    value: nothing,
  },

  /** What photos have taught about phones. */
  'phones.list': {
    args: nothing,
    value: z.strictObject({
      phones: z.array(
        z.strictObject({
          key: z.string(),
          /** As the camera names itself. */
          name: z.string(),
          focal35Mm: z.number(),
          photos: z.number(),
          conflicts: z.number(),
          /** False while photos contradict one another. */
          used: z.boolean(),
          /** Day of the last photo that taught something, ISO 8601; null = not noted. */
          lastTaught: z.string().nullable(),
        }),
      ),
      warnings: z.array(warning),
    }),
  },
  'phones.forget': { args: z.strictObject({ key: z.string().min(1) }), value: nothing },
} as const;

export const captureEvents = {
  /** One photo of a job has come on. */
  'job.photo': z.strictObject({ job: jobHandle, ...photoInJob.shape }),
};

/** What job.start asks for. */
export const startArgs = z.strictObject({
  document: documentHandle,
  photos: z.array(photoHandle).min(1).max(50),
  options: captureOptions.prefault({}),
});
