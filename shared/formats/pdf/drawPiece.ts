// One piece at true scale: cutting line, seamline, notches, darts, grainline, fold, marks and words.
import type { PDFFont } from 'pdf-lib';
import type { Point } from '../../base/points.ts';
import { polylinePath } from '../../geometry/cubicPath.ts';
import { add, distance, leftNormal, lerp, scale, sub, unit } from '../../geometry/vector.ts';
import type { OtherMark } from '../../pattern/model.ts';
import type { PieceLines } from '../../pattern/pieceLines.ts';
import { blockBox, type WordsBlock, wordsPlace } from '../../pattern/wordsPlace.ts';
import { fillPolygon, type Pen, type Stroke, strokePaths, widthMm, writeWords } from './pen.ts';

/** Pens in millimetres; the lines are measured at their middle, so thin is true. */
const CUT: Stroke = { widthMm: 0.35 };
const SEAM: Stroke = { widthMm: 0.2, dashMm: [3, 1.5] };
const FOLD: Stroke = { widthMm: 0.6, dashMm: [8, 2, 1, 2] };
const MARK: Stroke = { widthMm: 0.3 };
const WORDS_MM = 5;
const LINE_MM = 7;
/** What hangs below a baseline. */
const DESCENT_MM = 1.5;
const HEAD_MM = 6;
const CROSS_MM = 2.5;
/** From the foldline to the middle of its word. */
const FOLD_WORD_MM = 10;
const FOLD_WORD = 'fold';

export function drawPiece(pen: Pen, lines: PieceLines, font: PDFFont): void {
  const { shape } = lines;
  const cut = lines.cutting.filter((path) => !lines.folds.includes(path));
  if (cut.length > 0) strokePaths(pen, cut, CUT);
  const seams = lines.seam.filter((path, i) => path !== lines.cutting[i] && shape.ring[i]?.role !== 'fold');
  if (seams.length > 0) strokePaths(pen, seams, SEAM);
  if (lines.folds.length > 0) strokePaths(pen, lines.folds, FOLD);
  const ticks = lines.notches.flatMap((notch) => notch.ticks);
  const darts = shape.darts.map((dart) => [dart.legs[0], dart.apex, dart.legs[1]]);
  const crosses = shape.marks.flatMap(markLines);
  const straight = [...ticks, ...darts, ...crosses].map((points) => polylinePath(points));
  if (straight.length > 0) strokePaths(pen, straight, MARK);
  const grain = shape.grainline;
  if (grain !== null && distance(grain.from, grain.to) > 0) {
    strokePaths(pen, [polylinePath([grain.from, grain.to])], MARK);
    if (grain.heads >= 1) arrowHead(pen, grain.from, grain.to);
    if (grain.heads === 2) arrowHead(pen, grain.to, grain.from);
  }
  const words = { font, heightMm: WORDS_MM, align: 'middle' } as const;
  const foldWords = lines.folds.map((path) => {
    const middle = lerp(path[0]!, path[path.length - 1]!, 0.5);
    return add(middle, scale(unit(sub(lines.middle, middle)), FOLD_WORD_MM));
  });
  for (const at of foldWords) writeWords(pen, FOLD_WORD, at, words);
  const at = wordsPlace(
    lines,
    blockOf(lines.words, font),
    foldWords.map((place) => blockBox(place, blockOf([FOLD_WORD], font))),
  );
  lines.words.forEach((line, i) => {
    writeWords(pen, line, add(at, [0, i * LINE_MM]), words);
  });
}

function blockOf(words: readonly string[], font: PDFFont): WordsBlock {
  return {
    widthMm: Math.max(...words.map((line) => widthMm(line, { font, heightMm: WORDS_MM }))),
    upMm: WORDS_MM,
    downMm: (words.length - 1) * LINE_MM + DESCENT_MM,
  };
}

function markLines(mark: OtherMark): Point[][] {
  if (!('at' in mark)) return [[mark.from, mark.to]];
  const [x, y] = mark.at;
  return [
    [
      [x - CROSS_MM, y],
      [x + CROSS_MM, y],
    ],
    [
      [x, y - CROSS_MM],
      [x, y + CROSS_MM],
    ],
  ];
}

function arrowHead(pen: Pen, tail: Point, tip: Point): void {
  const along = unit(sub(tip, tail));
  const back = add(tip, scale(along, -HEAD_MM));
  const side = scale(leftNormal(along), HEAD_MM * 0.3);
  fillPolygon(pen, [tip, add(back, side), sub(back, side)], 0);
}
