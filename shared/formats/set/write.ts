// Writes the set file NAME.notchwise: a zip that still makes sense in twenty years without this program. Strict: every field
// is written out. The drawings are handed in, because a format never imports another.
import { strToU8, zipSync } from 'fflate';
import type { PatternSet } from '../../pattern/model.ts';
import { documentFromModel } from './convert.ts';
import { SET_JSON, SHOTS_FOLDER } from './read.ts';
import { readmeText } from './readme.ts';
import { carryExtras } from './unknownFields.ts';
import type { SetV1 } from './v1.ts';

export interface SetFileParts {
  readonly set: PatternSet;
  /** Pictures of the shots by file name inside `shots/`. */
  readonly pictures: ReadonlyMap<string, Uint8Array>;
  /** True-scale SVG text by file name inside `pieces/`. */
  readonly drawings: ReadonlyMap<string, string>;
  /** Stamped on the files in the zip. */
  readonly savedAt: Date;
}

/** The set as a document: what set.json holds and what travels to the window. */
export function setDocument(set: PatternSet): SetV1 {
  const document = documentFromModel(set);
  carryExtras(set, document);
  return document;
}

/** The whole file as bytes. The same parts give the same bytes. */
export function writeSetFile(parts: SetFileParts): Uint8Array {
  const json = `${JSON.stringify(setDocument(parts.set), null, 1)}\n`;
  const files: Record<string, Uint8Array> = { [SET_JSON]: strToU8(json), 'README.txt': strToU8(readmeText(parts.set)) };
  for (const [name, svg] of parts.drawings) files[`pieces/${name}`] = strToU8(svg);
  const stored: Record<string, Uint8Array> = {};
  for (const [name, bytes] of parts.pictures) stored[`${SHOTS_FOLDER}${name}`] = bytes;
  return zipSync(
    {
      ...files,
      // Pictures are compressed already.
      ...Object.fromEntries(Object.entries(stored).map(([name, bytes]) => [name, [bytes, { level: 0 }] as const])),
    },
    { mtime: parts.savedAt },
  );
}
