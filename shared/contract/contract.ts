// Everything a window may ask of its host, in one list: name, argument schema, value schema. The desktop's preload and the
// loopback server are two thin carriers of this list; both sides derive their types from it. Adding a request: one entry
// here, one handler in main/service (a missing handler does not compile).
import * as z from 'zod';
import { captureCalls, captureEvents, startArgs } from './captureCalls.ts';
import { changeCalls } from './changeCalls.ts';
import { fitCalls } from './fitCalls.ts';
import {
  bytes,
  destination,
  documentHandle,
  findingsDocument,
  jobHandle,
  openDocument,
  photoHandle,
  type Reply,
  setDocument,
  source,
  traceDocument,
  warning,
  written,
} from './values.ts';

const nothing = z.strictObject({});

/** What a finished capture gives: the new state of the document, and the trace itself. */
const captured = z.strictObject({ document: openDocument, trace: traceDocument });

const jobState = z.discriminatedUnion('state', [
  z.strictObject({ state: z.literal('running'), progress: z.number(), sentence: z.string() }),
  z.strictObject({ state: z.literal('done'), result: captured }),
  z.strictObject({ state: z.literal('failed'), error: z.strictObject({ code: z.string(), sentence: z.string() }) }),
  z.strictObject({ state: z.literal('cancelled') }),
]);

export const calls = {
  /** What kind of host this is. `canPick`: dialogs exist; without them the window sends and receives bytes. */
  'app.info': {
    args: nothing,
    value: z.strictObject({
      version: z.string(),
      host: z.enum(['desktop', 'loopback']),
      canPick: z.boolean(),
      /** In words, for sentences such as "saved in …"; never used as a path. */
      archiveName: z.string(),
    }),
  },

  'set.new': { args: z.strictObject({ name: z.string().min(1).max(120) }), value: openDocument },
  /** A set file, a bare set.json, or a plan (a set without shapes). */
  'set.open': { args: z.strictObject({ from: source }), value: openDocument },
  /** The document the host was started with or worked on last; null = none. */
  'set.current': { args: nothing, value: openDocument.nullable() },
  /** The whole set after a change; the host checks it, keeps it and journals it. Refused when it does not hold together. */
  'set.update': {
    args: z.strictObject({ document: documentHandle, set: setDocument }),
    value: z.strictObject({ unsaved: z.boolean() }),
  },
  /** Saves where the set was last saved; the error code `never-saved` asks for saveAs. */
  'set.save': { args: z.strictObject({ document: documentHandle }), value: written },
  'set.saveAs': { args: z.strictObject({ document: documentHandle, to: destination }), value: written },

  /** Takes photos in: decoded far enough to know that they are pictures and how large. */
  'photos.add': {
    args: z.strictObject({ document: documentHandle, from: source }),
    value: z.strictObject({
      photos: z.array(
        z.strictObject({
          photo: photoHandle,
          name: z.string(),
          widthPx: z.number(),
          heightPx: z.number(),
          warnings: z.array(warning),
        }),
      ),
      /** Files that could not be taken in, a sentence each. */
      refused: z.array(z.strictObject({ name: z.string(), code: z.string(), sentence: z.string() })),
    }),
  },
  /** The photo itself, upright, as JPEG. */
  'photo.picture': {
    args: z.strictObject({ photo: photoHandle, maxSidePx: z.number().int().min(16).max(8192).default(2048) }),
    value: z.strictObject({ mime: z.literal('image/jpeg'), bytes, widthPx: z.number(), heightPx: z.number() }),
  },

  ...captureCalls,

  /** Starts reading pieces from photos that were added. Several photos are joined through shared cards unless told otherwise. */
  'job.start': { args: startArgs, value: z.strictObject({ job: jobHandle }) },
  'job.state': { args: z.strictObject({ job: jobHandle }), value: jobState },

  /**
   * The true-scale picture of a shot. A table point (x, y) in mm lies at pixel ((x - originMm.x) / mmPerPixel, …);
   * a piece lies on the table by its shape's placement.
   */
  'shot.picture': {
    args: z.strictObject({ document: documentHandle, shot: z.string() }),
    value: z.strictObject({
      mime: z.string(),
      bytes,
      widthPx: z.number(),
      heightPx: z.number(),
      mmPerPixel: z.number(),
      /** Table millimetres at the picture's top left corner. */
      originMm: z.tuple([z.number(), z.number()]),
    }),
  },

  'seams.propose': {
    args: z.strictObject({ set: setDocument }),
    /** The same set with the proposed seams added; confirmed seams stay as they are. */
    value: z.strictObject({ set: setDocument }),
  },
  'checks.run': { args: z.strictObject({ set: setDocument }), value: findingsDocument },

  ...changeCalls,
  ...fitCalls,

  'report.html': { args: z.strictObject({ set: setDocument }), value: z.strictObject({ html: z.string() }) },
  export: {
    args: z.strictObject({
      set: setDocument,
      as: z.enum(['svg', 'pdf']),
      /** PDF only: one large page, or pages of a home printer. */
      page: z.enum(['one', 'a4', 'letter']).default('one'),
      to: destination,
    }),
    value: written,
  },
  /** Reads drawings whose paths carry a real-world size into pieces of the document's set. */
  import: { args: z.strictObject({ document: documentHandle, from: source }), value: openDocument },

  /** The page of reference cards. */
  'card.page': {
    args: z.strictObject({
      page: z.enum(['a4', 'letter']),
      as: z.enum(['pdf', 'svg']),
      /** Which print of four cards, from 1; cards of different prints may lie on one table. */
      print: z.number().int().min(1).max(1000).default(1),
      to: destination,
    }),
    value: written,
  },
} satisfies Record<string, Call>;

/** What the host tells the window without being asked. */
export const events = {
  'job.progress': z.strictObject({ job: jobHandle, progress: z.number(), sentence: z.string() }),
  /** Ask job.state for the result. */
  'job.ended': z.strictObject({ job: jobHandle, state: z.enum(['done', 'failed', 'cancelled']) }),
  ...captureEvents,
  /** The desktop's menu chose something the window does itself. */
  'menu.chosen': z.strictObject({ item: z.enum(['new', 'open', 'save', 'save-as', 'undo', 'redo', 'report']) }),
} satisfies Record<string, z.ZodType>;

interface Call {
  readonly args: z.ZodType;
  readonly value: z.ZodType;
}

export type CallName = keyof typeof calls;
/** What the window sends: fields with defaults may be left out. */
export type CallArgs<N extends CallName> = z.input<(typeof calls)[N]['args']>;
/** What a handler gets: parsed, defaults filled in. */
export type ParsedArgs<N extends CallName> = z.output<(typeof calls)[N]['args']>;
export type CallValue<N extends CallName> = z.output<(typeof calls)[N]['value']>;
export type CallReply<N extends CallName> = Reply<CallValue<N>>;

export type EventName = keyof typeof events;
export type EventValue<N extends EventName> = z.output<(typeof events)[N]>;

export const CALL_NAMES = Object.keys(calls) as readonly CallName[];
export const EVENT_NAMES = Object.keys(events) as readonly EventName[];

/** What the host implements, once. */
export type Handlers = { readonly [N in CallName]: (args: ParsedArgs<N>) => Promise<CallReply<N>> };

/** What the window uses: one function for each call, and one to listen to each event. */
export interface Bridge {
  readonly call: { readonly [N in CallName]: (args: CallArgs<N>) => Promise<CallReply<N>> };
  readonly on: { readonly [N in EventName]: (listener: (value: EventValue<N>) => void) => () => void };
}

/** The name under which the desktop's preload puts the bridge on the window. */
export const BRIDGE_GLOBAL = 'notchwise';
