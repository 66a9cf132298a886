// Words on a printed piece, on the demo's nine pieces: no line that is cut, sewn or laid by runs through them, judged by points
// stepped along the lines instead of by the clipping that places them.
import { expect, it } from 'vitest';
import type { Point } from '../../../shared/base/points.ts';
import { flattenRing } from '../../../shared/geometry/flatten.ts';
import { pointInPolygon, resamplePolyline } from '../../../shared/geometry/polygon.ts';
import { distance } from '../../../shared/geometry/vector.ts';
import { type PieceLines, pieceLines } from '../../../shared/pattern/pieceLines.ts';
import { wordsPlace } from '../../../shared/pattern/wordsPlace.ts';
import { idealSet } from '../../photos/marl/idealSet.ts';

const BLOCK = { widthMm: 50, upMm: 5, downMm: 16 };
const STEP_MM = 0.5;
/** Curved bands 40 mm wide: no room for three lines of words anywhere. */
const TOO_NARROW = ['Front neckband', 'Back neckband'];

const PIECES = idealSet('as traced').pieces.map((piece) => pieceLines(piece, 'M')!);

function drawnPoints({ shape, cutting, seam, notches }: PieceLines): Point[] {
  const rings = [cutting, seam].map((paths) => flattenRing(paths, 0.1)).map((ring) => [...ring, ring[0]!]);
  const grain = shape.grainline === null ? [] : [[shape.grainline.from, shape.grainline.to]];
  const darts = shape.darts.map(({ legs, apex }) => [legs[0], apex, legs[1]]);
  const lines = [...rings, ...grain, ...darts, ...notches.flatMap(({ ticks }) => ticks)];
  return lines.flatMap((line) => resamplePolyline(line, STEP_MM));
}

it.each(PIECES.map((lines) => [lines.piece.name, lines] as const))('stand clear of every line of %s', (_, lines) => {
  const [x, y] = wordsPlace(lines, BLOCK);
  const crossed = drawnPoints(lines).filter(
    (p) => Math.abs(p[0] - x) < BLOCK.widthMm / 2 && p[1] > y - BLOCK.upMm && p[1] < y + BLOCK.downMm,
  );
  const outline = flattenRing(lines.cutting, 0.1);
  if (!TOO_NARROW.includes(lines.piece.name)) expect(crossed).toEqual([]);
  expect(pointInPolygon([x, y], outline)).toBe(true);
});

it('leave other words alone, and stand in the middle where nothing is free', () => {
  const lines = PIECES[0]!;
  const first = wordsPlace(lines, BLOCK);
  const second = wordsPlace(lines, BLOCK, [[first[0] - 25, first[1] - 5, first[0] + 25, first[1] + 16]]);
  expect(Math.abs(second[0] - first[0]) >= 50 || Math.abs(second[1] - first[1]) >= 21).toBe(true);
  const none = wordsPlace(lines, { ...BLOCK, widthMm: 5000 });
  expect(distance(none, lines.middle)).toBe(0);
});
