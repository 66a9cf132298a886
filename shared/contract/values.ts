// The values that several requests share: handles, documents, files, and the shape of a reply.
// Documents of our own formats pass through by their format name; their own readers (shared/formats) judge the rest.
import * as z from 'zod';
import type { Failure } from '../base/result.ts';

/** Opaque names of things that the host holds. The window never sees a path. */
export const documentHandle = z.string().min(1).max(64);
export const photoHandle = z.string().min(1).max(64);
export const jobHandle = z.string().min(1).max(64);

/** A set as the set format writes it (shared/formats/set/v1.ts). */
export const setDocument = z.looseObject({ format: z.literal('notchwise-set/1') });
export type SetDocument = z.infer<typeof setDocument>;

/** Findings as the findings format writes them (shared/formats/findings/v1.ts). */
export const findingsDocument = z.looseObject({ format: z.literal('notchwise-findings/1') });

/** A trace as the trace format writes it (shared/formats/trace/v1.ts). */
export const traceDocument = z.looseObject({ format: z.literal('notchwise-trace/1') });

export const bytes = z.custom<Uint8Array>((value) => value instanceof Uint8Array, 'bytes');

/** A file that the person chose or dropped in the window: its name without a folder, and its content. */
const givenFile = z.strictObject({ name: z.string().min(1).max(255), bytes });

export const warning = z.strictObject({ code: z.string(), message: z.string() });

/** What the window shows of an open set. */
export const openDocument = z.strictObject({
  document: documentHandle,
  title: z.string(),
  /** The file's name without its folder; null = never saved. */
  savedAs: z.string().nullable(),
  /** True when the journal holds changes that the file does not. */
  unsaved: z.boolean(),
  set: setDocument,
  /** Shots whose picture can be asked for. */
  pictures: z.array(z.string()),
  warnings: z.array(warning),
});
export type OpenDocument = z.infer<typeof openDocument>;

/** Where a file goes: a dialog of the desktop, the archive folder of the user, or back to the window as bytes. */
export const destination = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('pick') }),
  z.strictObject({ kind: z.literal('archive'), name: z.string().min(1).max(120) }),
  z.strictObject({ kind: z.literal('window') }),
]);

/** What came of writing files: where they lie in words, or the bytes for the window to hand on. */
export const written = z.strictObject({
  /** Names without folders. */
  names: z.array(z.string()),
  /** One sentence that says where the files are; null when the bytes came back to the window. */
  sentence: z.string().nullable(),
  files: z.array(z.strictObject({ name: z.string(), mime: z.string(), bytes })),
});

/** Where files come from: a dialog of the desktop, or the window itself (drop, file input). */
export const source = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('pick') }),
  z.strictObject({ kind: z.literal('given'), files: z.array(givenFile).min(1).max(200) }),
]);

/** Every reply: a value, or a code for programs with one sentence for the person. */
export type Reply<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly error: Failure };
