// Names on the canvas, on the demo's nine pieces: what is written lies over nothing else that is written, judged by boxes of the
// letters worked out here.
import { expect, it } from 'vitest';
import { boxUnder, layPieces } from '../../../../renderer/canvas/layout.ts';
import { type Named, placeNames } from '../../../../renderer/canvas/names.ts';
import { fitBox } from '../../../../renderer/canvas/viewport.ts';
import { apply } from '../../../../shared/geometry/transform.ts';
import { boxOf, pieceLines } from '../../../../shared/pattern/pieceLines.ts';
import { idealSet } from '../../../photos/marl/idealSet.ts';

const LETTERS = [15, 12];

const set = idealSet('as traced');
const { places } = layPieces(set, 'M', null);
const NAMES = set.pieces.map((piece): Named => {
  const { canvasFromPiece } = places.get(piece.id)!;
  const box = boxUnder(piece.shapes.M!, canvasFromPiece);
  const at = apply(canvasFromPiece, pieceLines(piece, 'M')!.middle);
  return { piece: piece.id, name: piece.name, at, box, isFirst: false };
});

function mmPerPxOn(widthPx: number, heightPx: number): number {
  const all = boxOf(NAMES.flatMap(({ box: [a, b, c, d] }) => [[a, b] as const, [c, d] as const]));
  return 1 / fitBox(all, { widthPx, heightPx }).pxPerMm;
}

/** A letter of a bold sans-serif is on average 0.55 to 0.6 of its height wide (from memory). */
function letterBoxes(placed: ReturnType<typeof placeNames>, mmPerPx: number) {
  return placed.map(({ words, at: [x, y], px }) => {
    const lines = words.split('\n');
    const halfWidth = (Math.max(...lines.map((line) => line.length)) * px * mmPerPx * 0.55) / 2;
    const halfHeight = (lines.length * px * mmPerPx * 1.2) / 2;
    return [x - halfWidth, y - halfHeight, x + halfWidth, y + halfHeight] as const;
  });
}

it.each([
  [900, 700],
  [600, 500],
  [320, 260],
])('no name of the demo lies over another on a canvas of %i by %i', (widthPx, heightPx) => {
  const mmPerPx = mmPerPxOn(widthPx, heightPx);
  const placed = placeNames(NAMES, mmPerPx, LETTERS);
  const boxes = letterBoxes(placed, mmPerPx);
  boxes.forEach((a, i) => {
    for (const b of boxes.slice(i + 1)) expect(a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] || b[3] <= a[1]).toBe(true);
  });
});

it('writes every name where there is room for all, the chosen one even where there is room for one', () => {
  expect(placeNames(NAMES, mmPerPxOn(900, 700), LETTERS)).toHaveLength(9);
  const choosing = NAMES.map((one) => ({ ...one, isFirst: one.piece === 'back-neckband' }));
  const [chosen] = placeNames(choosing, 40, LETTERS);
  expect(chosen?.piece).toBe('back-neckband');
});
