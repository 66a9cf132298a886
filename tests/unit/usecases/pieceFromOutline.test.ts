import { describe, expect, it } from 'vitest';
import { type TablePointMm, tableMm } from '../../../shared/base/points.ts';
import { resamplePolyline } from '../../../shared/geometry/polygon.ts';
import { outlineWarnings, pieceFromOutline } from '../../../shared/usecases/pieceFromOutline.ts';
import type { TracedPiece, UnsureStretch } from '../../../shared/vision/traced.ts';
import { rectangleRing } from '../../support/paperRaster.ts';

const RING = rectangleRing(100, 100, 160, 100, 0);
const STEP_MM = 0.7;
const points: TablePointMm[] = resamplePolyline([...RING, RING[0]!], STEP_MM)
  .slice(0, -1)
  .map(([x, y]) => tableMm(x, y));

function traced(unsure: readonly UnsureStretch[]): TracedPiece {
  return pieceFromOutline(
    { line: 'paper-edge', points, unsure, pointSigmaMm: 0.03 },
    { id: 'p1', photos: ['a.jpg'], scaleSigmaRatio: 1e-4, planeSigmaMm: () => 0.1, marks: () => [] },
  );
}

/** The stretch of the measured outline between two places. */
function between(from: readonly [number, number], to: readonly [number, number]): UnsureStretch {
  const nearest = ([x, y]: readonly [number, number]): number => {
    const away = points.map((p) => Math.hypot(p[0] - x, p[1] - y));
    return away.indexOf(Math.min(...away));
  };
  return { fromIndex: nearest(from), toIndex: nearest(to), reason: 'shadow' };
}

const top = between([80, 50], [120, 50]);
const corner = between([160, 50], [180, 60]);

describe('a piece from an outline that is not sure everywhere', () => {
  it('keeps the ends of an unsure stretch in the middle of a straight edge where they are', () => {
    const piece = traced([top]);
    const { fromIndex, toIndex } = piece.unsure[0]!;
    expect(Math.hypot(piece.outline[fromIndex]![0] - 80, piece.outline[fromIndex]![1] - 50)).toBeLessThan(1);
    expect(Math.hypot(piece.outline[toIndex]![0] - 120, piece.outline[toIndex]![1] - 50)).toBeLessThan(1);
    expect(piece.outline.length).toBe(traced([]).outline.length + 2);
  });

  it('states a larger sigma for both edges of an unsure corner and leaves the others alone', () => {
    const sure = traced([]).edges.map(({ sigmaMm }) => sigmaMm);
    const unsure = traced([corner]).edges.map(({ sigmaMm }) => sigmaMm);
    const larger = unsure.filter((sigma, i) => sigma > sure[i]! + 1);
    expect(larger).toHaveLength(2);
    expect(unsure.filter((sigma, i) => sigma === sure[i])).toHaveLength(2);
  });

  it('states a slightly larger sigma for an edge with an unsure stretch away from its corners', () => {
    const sure = traced([]).edges.map(({ sigmaMm }) => sigmaMm);
    const unsure = traced([top]).edges.map(({ sigmaMm }) => sigmaMm);
    const differences = unsure.map((sigma, i) => sigma - sure[i]!).sort((a, b) => b - a);
    expect(differences[0]).toBeGreaterThan(0.5);
    expect(differences[0]).toBeLessThan(1.5);
    expect(differences.slice(1)).toEqual([0, 0, 0]);
  });

  it('covers the corner that a badly seen stretch bit off', () => {
    const biteMm = 12;
    const [a, b, c, d] = [
      [20, 50],
      [180 - biteMm, 50],
      [180, 50 + biteMm],
      [180, 150],
    ] as const;
    const bitten = resamplePolyline([a, b, c, d, [20, 150], a], STEP_MM)
      .slice(0, -1)
      .map(([x, y]) => tableMm(x, y));
    const indexAt = ([x, y]: readonly [number, number]): number => {
      const away = bitten.map((p) => Math.hypot(p[0] - x, p[1] - y));
      return away.indexOf(Math.min(...away));
    };
    const edgesWith = (unsure: readonly UnsureStretch[]) =>
      pieceFromOutline(
        { line: 'paper-edge', points: bitten, unsure, pointSigmaMm: 0.03 },
        { id: 'p1', photos: ['a.jpg'], scaleSigmaRatio: 1e-4, planeSigmaMm: () => 0.1, marks: () => [] },
      ).edges;
    const edges = edgesWith([{ fromIndex: indexAt(b), toIndex: indexAt(c), reason: 'weak-edge' }]);
    const shortened = edges.filter(
      ({ lengthMm }) => Math.abs(lengthMm - (160 - biteMm)) < 2 || Math.abs(lengthMm - (100 - biteMm)) < 2,
    );
    expect(shortened).toHaveLength(2);
    for (const { sigmaMm } of shortened) expect(2 * sigmaMm).toBeGreaterThan(biteMm);
    for (const { sigmaMm } of edges.filter(({ lengthMm }) => lengthMm > 99 && lengthMm !== shortened[0]!.lengthMm))
      expect(sigmaMm).toBeLessThan(1);
  });

  it('says how much of the outline could lie elsewhere, and nothing when it is sure', () => {
    expect(outlineWarnings(traced([]))).toEqual([]);
    const [warning, ...more] = outlineWarnings(traced([top]));
    expect(more).toEqual([]);
    expect(warning!.code).toBe('outline-unsure');
    expect(warning!.message).toContain('4 cm of the outline');
  });
});
