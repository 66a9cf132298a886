// Drawings of other programs into a set: the format reads pieces, here they find their place beside the ones there are.
import { fail, ok, type Result, type Salvaged, type Warning } from '../base/result.ts';
import { readSvg } from '../formats/svg/read.ts';
import type { PatternSet, Piece, Size } from '../pattern/model.ts';

export interface DrawingFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** What nobody says in a drawing without data of ours: most drawings show the line to cut along. */
const UNSAID = { tracedLine: 'cutting', allowanceMm: 15 } as const;

/** The set with the pieces of all files added. A file that cannot be read is a warning unless nothing could be read. */
export function importInto(
  set: PatternSet,
  files: readonly DrawingFile[],
  decode: (bytes: Uint8Array) => string,
): Result<Salvaged<PatternSet>> {
  let grown = set;
  const warnings: Warning[] = [];
  let first: Result<never> | null = null;
  for (const file of files) {
    const read = readDrawing(file, decode);
    if (!read.ok) {
      first ??= read;
      warnings.push({ code: read.error.code, message: read.error.sentence });
      continue;
    }
    warnings.push(...read.value.warnings);
    grown = withPieces(grown, read.value.value);
  }
  return first !== null && grown === set ? first : ok({ value: grown, warnings });
}

interface Imported {
  readonly sizes: readonly Size[];
  readonly pieces: readonly Piece[];
}

function readDrawing({ name, bytes }: DrawingFile, decode: (bytes: Uint8Array) => string): Result<Salvaged<Imported>> {
  const ending = name.slice(name.lastIndexOf('.') + 1).toLowerCase();
  if (ending !== 'svg') {
    return fail('not-importable', `${name} cannot be imported; save the drawing as SVG with its real-world size.`);
  }
  return readSvg(decode(bytes), name, UNSAID);
}

/** Ids stay unique; a set that had no size of its own takes those of the drawing. */
function withPieces(set: PatternSet, imported: Imported): PatternSet {
  const used = set.pieces.some((piece) => Object.keys(piece.shapes).length > 0);
  const kept = used || set.pieces.length > 0 ? set.sizes : [];
  const sizes = [...kept, ...imported.sizes.filter((size) => !kept.includes(size))];
  const ids = new Set(set.pieces.map((piece) => piece.id));
  const pieces = imported.pieces.map((piece) => {
    const id = freeId(piece.id, ids);
    ids.add(id);
    return { ...piece, id };
  });
  return {
    ...set,
    sizes,
    baseSize: sizes.includes(set.baseSize) ? set.baseSize : (sizes[0] ?? set.baseSize),
    pieces: [...set.pieces, ...pieces],
  };
}

function freeId(wanted: string, taken: ReadonlySet<string>): string {
  let id = wanted;
  for (let copy = 2; taken.has(id); copy++) id = `${wanted}-${copy}`;
  return id;
}
