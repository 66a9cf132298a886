// One true-scale drawing for each piece and size: what lies in `pieces/` of a set file and what `export --to svg` writes.
import { writeSvg } from '../formats/svg/write.ts';
import type { PatternSet } from '../pattern/model.ts';

/** SVG text by file name. */
export function pieceDrawings(set: PatternSet): ReadonlyMap<string, string> {
  return new Map(
    set.pieces.flatMap((piece) =>
      Object.keys(piece.shapes).map((size) => [
        `${fileSafe(piece.id)}-${fileSafe(size)}.svg`,
        writeSvg({ ...set, pieces: [piece] }, size),
      ]),
    ),
  );
}

/** Ids and sizes may hold anything; file names may not. Different names stay different. */
function fileSafe(name: string): string {
  return name.replace(/[^A-Za-z0-9_]/g, (char) => (char === ' ' ? '_' : `(${char.codePointAt(0)?.toString(16)})`));
}
