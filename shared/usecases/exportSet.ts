// A set as files for other programs and for paper, at true scale. One file a size.
import { fail, ok, type Result } from '../base/result.ts';
import { writePdf } from '../formats/pdf/write.ts';
import { writeSvg } from '../formats/svg/write.ts';
import type { PatternSet, Size } from '../pattern/model.ts';
import type { MadeFile } from './madeFile.ts';

export interface ExportOptions {
  /** PDF only: one page as large as the pieces need, or pages of a home printer. */
  readonly page: 'one' | 'a4' | 'letter';
}

interface ExportFormat {
  readonly mime: string;
  readonly write: (set: PatternSet, size: Size, options: ExportOptions) => Promise<Result<string | Uint8Array>>;
}

/** One line a format. */
const EXPORT_FORMATS = {
  svg: { mime: 'image/svg+xml', write: async (set, size) => ok(writeSvg(set, size)) },
  pdf: { mime: 'application/pdf', write: writePdf },
} as const satisfies Record<string, ExportFormat>;

export type ExportKind = keyof typeof EXPORT_FORMATS;

/** Every size that has a shape; the only size needs no name in the file's. */
export async function exportFiles(
  set: PatternSet,
  as: ExportKind,
  options: ExportOptions,
): Promise<Result<readonly MadeFile[]>> {
  const sizes = set.sizes.filter((size) => set.pieces.some((piece) => piece.shapes[size] !== undefined));
  if (sizes.length === 0) {
    return fail(
      'nothing-traced',
      `"${set.name}" has no traced piece yet, so there is nothing to export; trace one first.`,
    );
  }
  const format: ExportFormat = EXPORT_FORMATS[as];
  const files: MadeFile[] = [];
  const names = distinct(sizes.map((size) => plainName(sizes.length === 1 ? set.name : `${set.name} ${size}`)));
  for (const [i, size] of sizes.entries()) {
    const content = await format.write(set, size, options);
    if (!content.ok) return content;
    files.push({ name: `${names[i]}.${as}`, mime: format.mime, content: content.value });
  }
  return ok(files);
}

function plainName(name: string): string {
  const plain = name.replace(/[^\p{L}\p{N} ._-]+/gu, ' ').trim();
  return plain === '' ? 'set' : plain;
}

/** A number behind a name that was there before: "38/40" and "38 40" are one name for a disk, as "xl" and "XL" may be. */
function distinct(names: readonly string[]): string[] {
  const taken = new Set<string>();
  return names.map((name) => {
    let own = name;
    for (let copy = 2; taken.has(own.toLowerCase()); copy++) own = `${name} (${copy})`;
    taken.add(own.toLowerCase());
    return own;
  });
}
