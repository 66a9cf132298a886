// A set as a file that lasts, and back: the format writes and reads, the drawings of the pieces come from the SVG format.

import type { Result } from '../base/result.ts';
import { type ReadSet, readSetFile, readSetFiles } from '../formats/set/read.ts';
import { writeSetFile } from '../formats/set/write.ts';
import type { PatternSet } from '../pattern/model.ts';
import { pieceDrawings } from './drawings.ts';

export type OpenedSet = ReadSet;

export interface ArchivedSet {
  readonly set: PatternSet;
  /** Pictures of the shots by file name. */
  readonly pictures: ReadonlyMap<string, Uint8Array>;
}

/** The bytes of NAME.notchwise. */
export function packSet({ set, pictures }: ArchivedSet, savedAt: Date): Uint8Array {
  return writeSetFile({ set, pictures, drawings: pieceDrawings(set), savedAt });
}

/** From the bytes of a set file or a bare set.json. */
export function unpackSet(name: string, bytes: Uint8Array): Result<OpenedSet> {
  return readSetFile(name, bytes);
}

/** From the files of an unpacked set file, by path inside its folder. */
export function unpackSetFiles(name: string, files: ReadonlyMap<string, Uint8Array>): Result<OpenedSet> {
  return readSetFiles(name, files);
}
