// A set in one size as a true-scale SVG: width and height in millimetres, one user unit a millimetre, one group a piece.
// Data attributes carry what a drawing alone does not say, so that svg/read gives the same piece back.
import type { Point } from '../../base/points.ts';
import { type CubicPath, polylinePath } from '../../geometry/cubicPath.ts';
import { layOut } from '../../pattern/layOut.ts';
import type { Notch, OtherMark, PatternSet, Size } from '../../pattern/model.ts';
import { type PieceLines, pieceLines } from '../../pattern/pieceLines.ts';
import { wordsPlace } from '../../pattern/wordsPlace.ts';

const SVG_MARKER = 'notchwise-svg/1';

/** The SVG text of every piece that has a shape in that size; an empty sheet when none has. */
export function writeSvg(set: PatternSet, size: Size): string {
  const drawn = set.pieces.map((piece) => pieceLines(piece, size)).filter((lines) => lines !== null);
  const sheet = layOut(
    drawn.map(({ box }) => box),
    SHEET_WIDTH_MM,
    GAP_MM,
  );
  const [width, height] = [mm(sheet.widthMm), mm(sheet.heightMm)];
  const pieces = drawn.map((lines, i) => pieceGroup(lines, size, sheet.offsetsMm[i]!));
  return `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}"${attributes({ 'data-notchwise': SVG_MARKER, 'data-set': set.name })}>
<title>${escapeText(set.name)}, size ${escapeText(size)}</title>
<style>path,line,circle{fill:none;stroke:#111;stroke-width:.35}.seam{stroke-dasharray:3 1.5;stroke-width:.25}.fold{stroke-dasharray:8 2 1 2;stroke-width:.6}text{font:${WORDS_MM}px sans-serif;text-anchor:middle}</style>
<g${attributes({ id: xmlId(size), 'data-size': size })}>
${pieces.join('\n')}
</g>
</svg>
`;
}

/** Widest sheet before a new row of pieces begins. */
const SHEET_WIDTH_MM = 1500;
const GAP_MM = 15;

function pieceGroup(lines: PieceLines, size: Size, offset: Point): string {
  const { piece, shape } = lines;
  const edges = shape.ring.map((edge) =>
    pathTag(edge.curve, {
      class: `traced${edge.role === 'fold' ? ' fold' : shape.tracedLine === 'seam' ? ' seam' : ''}`,
      'data-edge': edge.id,
      'data-label': edge.label,
      'data-role': edge.role,
      'data-allowance-mm': String(edge.allowanceMm),
      'data-allowance-assumed': String(edge.allowanceAssumed),
      'data-sigma-mm': edge.sigmaMm === null ? undefined : String(edge.sigmaMm),
    }),
  );
  const derived = shape.tracedLine === 'cutting' ? lines.seam : lines.cutting;
  const other = derived.map((path) => pathTag(path, { class: shape.tracedLine === 'cutting' ? 'seam' : 'cutting' }));
  const notches = lines.notches.map(
    ({ notch, ticks }) =>
      `<g${attributes(notchData(notch))}>${ticks.map((tick) => pathTag(polylinePath(tick), {})).join('')}</g>`,
  );
  const darts = shape.darts.map((dart) =>
    pathTag(polylinePath([dart.legs[0], dart.apex, dart.legs[1]]), {
      'data-dart': dart.id,
      'data-on': dart.edge,
      'data-fold-to': dart.foldTo ?? undefined,
    }),
  );
  const pleats = shape.pleats.map(
    (pleat) =>
      `<g${attributes({
        'data-pleat': pleat.id,
        'data-on': pleat.edge,
        'data-from-mm': String(pleat.fromMm),
        'data-to-mm': String(pleat.toMm),
      })}/>`,
  );
  const grain =
    shape.grainline === null
      ? []
      : [
          pathTag(polylinePath([shape.grainline.from, shape.grainline.to]), {
            'data-grain-heads': String(shape.grainline.heads),
          }),
          ...arrowHeads(shape.grainline),
        ];
  const [x, y] = wordsPlace(lines, {
    widthMm: Math.max(...lines.words.map((line) => line.length)) * WORDS_MM * GLYPH_RATIO,
    upMm: WORDS_MM,
    downMm: (lines.words.length - 1) * LINE_MM + WORDS_MM / 3,
  });
  const words = lines.words.map(
    (line, i) => `<text x="${mm(x)}" y="${mm(y + i * LINE_MM)}">${escapeText(line)}</text>`,
  );
  const data = attributes({
    id: xmlId(`${size}-${piece.id}`),
    'data-piece': piece.id,
    'data-name': piece.name,
    'data-kind': piece.kind,
    'data-cut': JSON.stringify(piece.cut),
    'data-grain-intent': piece.grainIntent,
    'data-nap': piece.nap,
    'data-traced-line': shape.tracedLine,
    'data-accuracy': JSON.stringify(shape.accuracy),
    transform: `translate(${mm(offset[0])} ${mm(offset[1])})`,
    // The place on the sheet, so that a reader can give the piece its own coordinates back.
    'data-offset': `${mm(offset[0])} ${mm(offset[1])}`,
  });
  const content = [
    ...edges,
    ...other,
    ...notches,
    ...darts,
    ...pleats,
    ...grain,
    ...shape.marks.map(markTag),
    ...words,
  ];
  return `<g${data}>\n<title>${escapeText(piece.name)}</title>\n${content.join('\n')}\n</g>`;
}

const LINE_MM = 8;
/** As the style says. */
const WORDS_MM = 6;
/** A letter is about this wide against its height (from memory). */
const GLYPH_RATIO = 0.6;

function notchData({ id, edge, atMm, count, purpose, mate }: Notch): Record<string, string | undefined> {
  return {
    'data-notch': id,
    'data-on': edge,
    'data-at-mm': mm(atMm),
    'data-count': String(count),
    'data-purpose': purpose,
    'data-mate': mate.kind,
    'data-mate-piece': mate.kind === 'notch' ? mate.piece : undefined,
    'data-mate-notch': mate.kind === 'notch' ? mate.notch : undefined,
  };
}

function markTag(mark: OtherMark): string {
  const data = { 'data-mark': mark.kind, 'data-id': mark.id };
  if ('at' in mark) {
    const [x, y] = mark.at;
    return `<circle${attributes({ ...data, cx: mm(x), cy: mm(y), r: String(HOLE_RADIUS_MM) })}/>`;
  }
  return pathTag(polylinePath([mark.from, mark.to]), data);
}

const HOLE_RADIUS_MM = 1.5;
const HEAD_MM = 6;

function arrowHeads(grain: { readonly from: Point; readonly to: Point; readonly heads: 0 | 1 | 2 }): string[] {
  const heads: (readonly [Point, Point])[] = [];
  if (grain.heads >= 1) heads.push([grain.from, grain.to]);
  if (grain.heads === 2) heads.push([grain.to, grain.from]);
  return heads.map(([tail, tip]) => {
    const length = Math.hypot(tip[0] - tail[0], tip[1] - tail[1]) || 1;
    const [dx, dy] = [((tip[0] - tail[0]) / length) * HEAD_MM, ((tip[1] - tail[1]) / length) * HEAD_MM];
    const barb = (side: number): Point => [tip[0] - dx - side * dy * 0.4, tip[1] - dy + side * dx * 0.4];
    return pathTag(polylinePath([barb(1), tip, barb(-1)]), { class: 'head' });
  });
}

function pathTag(path: CubicPath, data: Record<string, string | undefined>): string {
  const [start, ...rest] = path;
  const curves = [];
  for (let i = 0; i < rest.length; i += 3)
    curves.push(
      `C${rest
        .slice(i, i + 3)
        .map(pair)
        .join(' ')}`,
    );
  return `<path${attributes(data)} d="M${pair(start!)}${curves.join('')}"/>`;
}

function pair([x, y]: Point): string {
  return `${mm(x)} ${mm(y)}`;
}

/** Six decimals: a nanometre, below every tolerance of the geometry. */
function mm(value: number): string {
  return String(Number(value.toFixed(6)));
}

function attributes(values: Readonly<Record<string, string | undefined>>): string {
  return Object.entries(values)
    .filter((entry): entry is [string, string] => entry[1] !== undefined)
    .map(([name, value]) => ` ${name}="${escapeText(value)}"`)
    .join('');
}

/** Letters, digits and a few signs only, as an id must be one XML name; other signs by their code, so that no two texts share an id. */
function xmlId(text: string): string {
  return `s-${text.replace(/[^A-Za-z0-9.-]/gu, (sign) => `_${sign.codePointAt(0)!.toString(16)}_`)}`;
}

function escapeText(text: string): string {
  const named: Record<string, string> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
  // Control characters other than tab and line ends may not stand in XML at all.
  return [...text]
    .filter((c) => c >= ' ' || c === '\t' || c === '\n')
    .map((c) => named[c] ?? c)
    .join('');
}
