// Spots of a table beside the corners of a piece, on a photographed plane of known truth (tests/support/inkedTable.ts).
import { describe, expect, it } from 'vitest';
import { type Point, tableMm } from '../../../../shared/base/points.ts';
import { resamplePolyline } from '../../../../shared/geometry/polygon.ts';
import { spottedCorners } from '../../../../shared/vision/outline/spottedCorners.ts';
import { photographInk } from '../../../support/inkedTable.ts';

const PIECE: readonly Point[] = [
  [-140, -110],
  [130, -110],
  [140, 115],
  [-140, 115],
];
const STEP_MM = 0.7;

const spot = (x: number, y: number): Point[] =>
  Array.from({ length: 24 }, (_, k) => [x + 2.6 * Math.cos(k * 0.2618), y + 2.6 * Math.sin(k * 0.2618)]);

/** Spots 16 mm apart all over the table, none nearer to a corner of the piece than 12 mm. */
const CLOTH = Array.from({ length: 23 * 19 }, (_, i): Point => [-176 + 16 * (i % 23), -144 + 16 * Math.floor(i / 23)])
  .filter((at) => PIECE.every((corner) => Math.hypot(at[0] - corner[0], at[1] - corner[1]) > 12))
  .map(([x, y]) => spot(x, y));

function doubted(papers: readonly (readonly Point[])[], ring: readonly Point[] = PIECE): Point[] {
  const { photo, plane } = photographInk({
    widthPx: 1000,
    heightPx: 800,
    mmPerPx: 0.38,
    tilt: 0.12,
    tableLevel: 60,
    paperLevel: 210,
    papers: [PIECE, ...papers],
    lines: [],
    noise: 2,
    seed: 3,
  });
  const outline = resamplePolyline([...ring, ring[0]!], STEP_MM).slice(0, -1);
  const points = outline.map(([x, y]) => tableMm(x, y));
  return spottedCorners(photo, plane, points).flatMap(({ fromIndex, toIndex }) => [
    points[fromIndex]!,
    points[toIndex]!,
  ]);
}

const near = (at: Point, corner: Point) => Math.hypot(at[0] - corner[0], at[1] - corner[1]) < 15;

describe('corners beside spots of the table', () => {
  it('are unsure where a spot of the paper’s colour lies beyond their sides, and only there', () => {
    const ends = doubted([...CLOTH, spot(143, 110)]);
    expect(ends).toHaveLength(2);
    for (const at of ends) expect(near(at, [140, 115])).toBe(true);
    expect(doubted(CLOTH)).toEqual([]);
  });

  it('are unsure where the outline went around the spot with corners of its own', () => {
    const around: Point[] = [
      [-140, -110],
      [130, -110],
      [139, 105],
      [148, 109],
      [140, 115],
      [-140, 115],
    ];
    const ends = doubted([...CLOTH, spot(143, 109)], around);
    expect(ends.length).toBeGreaterThan(0);
    for (const at of ends) expect(near(at, [140, 110])).toBe(true);
  });

  it('are as sure as ever on a table without spots, though something white lies there', () => {
    expect(doubted([spot(143, 110)])).toEqual([]);
  });
});
