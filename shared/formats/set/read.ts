// Reads a set: the zip NAME.notchwise, a bare set.json written by another tool, or the files of an unpacked folder. Generous:
// what is left out gets its default; what is wrong gets one sentence that names the field.
import { strFromU8, unzipSync } from 'fflate';
import { fail, ok, type Result, type Warning } from '../../base/result.ts';
import { schemaSentence } from '../../base/schemaSentence.ts';
import type { PatternSet } from '../../pattern/model.ts';
import { modelFromDocument } from './convert.ts';
import { integrityProblems } from './integrity.ts';
import { attachExtras, unknownFields } from './unknownFields.ts';
import { SET_FORMAT, setV1 } from './v1.ts';

/** A set as it was read, with the pictures that the file carries. */
export interface ReadSet {
  readonly set: PatternSet;
  /** Pictures of the shots by file name inside `shots/`. */
  readonly pictures: ReadonlyMap<string, Uint8Array>;
  readonly warnings: readonly Warning[];
}

export const SET_JSON = 'set.json';
export const SHOTS_FOLDER = 'shots/';

/** Unpacked content beyond this is not a set file of ours; a small zip must not be able to fill the memory. */
const MAX_UNPACKED_BYTES = 1_000_000_000;
const FORMAT_NAME = 'notchwise-set';
const ZIP_START = [0x50, 0x4b];

/** The content of a file: a zip or JSON. `name` only appears in sentences. */
export function readSetFile(name: string, bytes: Uint8Array): Result<ReadSet> {
  if (bytes.length === 0) return fail('empty-file', `${name} is empty; choose a set file (.notchwise) or a set.json.`);
  if (bytes[0] !== ZIP_START[0] || bytes[1] !== ZIP_START[1]) {
    // Whatever begins otherwise is no JSON object, and may be as large as a film: it is not read to its end to say so.
    if (!/^[\uFEFF\s]*[{[]/.test(strFromU8(bytes.subarray(0, LOOK_BYTES)))) return notJson(name, '');
    return readSetJson(name, strFromU8(bytes));
  }
  let unpackedBytes = 0;
  let files: Record<string, Uint8Array>;
  try {
    files = unzipSync(bytes, {
      filter: (file) => {
        unpackedBytes += file.originalSize;
        return unpackedBytes <= MAX_UNPACKED_BYTES && (file.name === SET_JSON || file.name.startsWith(SHOTS_FOLDER));
      },
    });
  } catch {
    // fflate throws plain errors for every kind of damage; the person can do the same about all of them.
    return fail('broken-zip', `${name} is damaged and cannot be unpacked; take a copy made earlier.`);
  }
  if (unpackedBytes > MAX_UNPACKED_BYTES) {
    return fail('too-large', `${name} unpacks to more than a gigabyte, which no set does; it was not opened.`);
  }
  return readSetFiles(name, new Map(Object.entries(files)));
}

/** The files of an unpacked set by path inside its folder. */
export function readSetFiles(name: string, files: ReadonlyMap<string, Uint8Array>): Result<ReadSet> {
  const json = files.get(SET_JSON);
  if (json === undefined) {
    return fail('not-a-set', `${name} holds no ${SET_JSON}, so it is not a set; choose a file saved by this program.`);
  }
  const read = readSetJson(name, strFromU8(json));
  if (!read.ok) return read;
  const pictures = new Map(
    [...files]
      .filter(([path, bytes]) => path.startsWith(SHOTS_FOLDER) && bytes.length > 0)
      .map(([path, bytes]) => [path.slice(SHOTS_FOLDER.length), bytes]),
  );
  return ok({ ...read.value, pictures });
}

/** The text of a set.json. */
export function readSetJson(name: string, text: string): Result<ReadSet> {
  let document: unknown;
  try {
    document = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    // The engine quotes the text around the spot, line breaks, control characters and all.
    const said = error instanceof Error ? error.message.replace(/\s+/g, ' ') : '';
    return notJson(name, UNREADABLE.test(said) ? '' : ` (${said})`);
  }
  return readSetDocument(name, document);
}

/** Enough of a file to see how it begins. */
const LOOK_BYTES = 256;
/** What no sentence should repeat: control characters, and the sign for bytes that are no text. */
const UNREADABLE = /[\p{Cc}\uFFFD]/u;

function notJson(name: string, detail: string): Result<never> {
  return fail('not-json', `${name} is neither a set file nor JSON${detail}; choose a .notchwise file or a set.json.`);
}

/** A set document that has been parsed from JSON already. */
export function readSetDocument(name: string, document: unknown): Result<ReadSet> {
  const format =
    typeof document === 'object' && document !== null && 'format' in document ? document.format : undefined;
  if (format !== SET_FORMAT) return wrongFormat(name, format);
  const parsed = setV1.safeParse(document);
  if (!parsed.success) {
    const [issue, ...more] = parsed.error.issues;
    const rest = more.length === 0 ? '' : ` (and ${more.length} more like this)`;
    return fail('broken-set', `${name} cannot be read: ${schemaSentence(issue!, document)}${rest}.`);
  }
  const unknown = unknownFields(setV1, document);
  const slip = unknown.find((field) => field.meant !== null);
  if (slip !== undefined) {
    const where = slip.path.length === 0 ? 'the set' : slip.path.join('.');
    return fail(
      'unknown-field',
      `${name} cannot be read: ${where} has the field "${slip.key}", which is not known; did you mean "${slip.meant}"?`,
    );
  }
  const set = attachExtras(modelFromDocument(parsed.data), unknown);
  const problems = integrityProblems(set);
  if (problems.length > 0) {
    const rest = problems.length === 1 ? '' : ` (and ${problems.length - 1} more)`;
    return fail('broken-set', `${name} does not hold together: ${problems[0]}${rest}`);
  }
  const strange = unknown.filter((field) => !field.key.startsWith('$') && !field.key.startsWith('x-'));
  const warnings =
    strange.length === 0
      ? []
      : [
          {
            code: 'unknown-field',
            message: `${name} has fields that are not used here and are kept as they are: ${[...new Set(strange.map((field) => field.key))].join(', ')}.`,
          },
        ];
  return ok({ set, pictures: new Map(), warnings });
}

function wrongFormat(name: string, format: unknown): Result<never> {
  const [kind, version] = typeof format === 'string' ? format.split('/') : [];
  if (kind === FORMAT_NAME && /^\d+$/.test(version ?? '')) {
    return fail(
      'newer-version',
      `${name} is written in set format version ${version}, and this program reads version ${SET_FORMAT.split('/')[1]}; update the program.`,
    );
  }
  const got = format === undefined ? 'names no format' : `says its format is ${JSON.stringify(format)}`;
  return fail('not-a-set', `${name} ${got}; a set says "format": "${SET_FORMAT}".`);
}
