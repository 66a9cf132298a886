// One wrong corner is dropped; a lens or a curl that bends all corners smoothly is not mistaken for wrong corners.
import { describe, expect, test } from 'vitest';
import type { Point } from '../../../../shared/base/points.ts';
import { saddleUprightMm } from '../../../../shared/vision/cards/cardLayout.ts';
import { type LatticePoint, smoothLattice } from '../../../../shared/vision/cards/smoothLattice.ts';
import { seededRandom } from '../../../photos/random.ts';

const SIGMA_PX = 0.05;

/** A tilted card at 3 px/mm with `bend` added and noise of SIGMA_PX an axis. */
function lattice(seed: number, bend: (upright: Point) => Point): LatticePoint[] {
  const random = seededRandom(seed);
  return Array.from({ length: 36 }, (_, i) => {
    const upright = saddleUprightMm(i % 6, Math.floor(i / 6));
    const [x, y] = upright;
    const w = 1 + 0.0006 * x + 0.0011 * y;
    const [bx, by] = bend(upright);
    const photo: Point = [
      (3 * x + 0.4 * y + 200) / w + bx + SIGMA_PX * random.normal(),
      (2.7 * y - 0.3 * x + 90) / w + by + SIGMA_PX * random.normal(),
    ];
    return { upright, photo };
  });
}

const flatCard = (): Point => [0, 0];

/** Barrel distortion about a far corner: up to 5 px over the card. */
const throughLens = ([x, y]: Point): Point => {
  const k = -6e-6 * (x * x + y * y);
  return [k * x, k * y];
};

describe('the lattice of a card', () => {
  test('keeps every corner of a flat card and states the noise that they carry', () => {
    const sigmas = Array.from({ length: 40 }, (_, seed) => {
      const fit = smoothLattice(lattice(seed, flatCard))!;
      expect(fit.kept.length).toBeGreaterThanOrEqual(35);
      return fit.pointSigmaPx;
    });
    const meanSquare = sigmas.reduce((sum, s) => sum + s * s, 0) / sigmas.length;
    // Mean of 40 variances with 52 degrees of freedom each: 3 % standard error of the variance, 5 % allowed on sigma.
    expect(Math.sqrt(meanSquare) / SIGMA_PX).toBeGreaterThan(0.95);
    expect(Math.sqrt(meanSquare) / SIGMA_PX).toBeLessThan(1.05);
  });

  test('drops corners that are off by a pixel, and only them', () => {
    const points = lattice(3, flatCard).map((point, i) =>
      i === 8 || i === 27 ? { ...point, photo: [point.photo[0] + 0.8, point.photo[1] - 0.6] as Point } : point,
    );
    const { kept } = smoothLattice(points)!;
    expect(points.filter((point) => !kept.includes(point))).toEqual([points[8], points[27]]);
  });

  test('shows a bent lattice as a residual to the flat card, not as wrong corners', () => {
    const fit = smoothLattice(lattice(5, throughLens))!;
    expect(fit.kept).toHaveLength(36);
    expect(fit.homographyResidualPx).toBeGreaterThan(4 * SIGMA_PX);
    expect(fit.pointSigmaPx).toBeLessThan(1.3 * SIGMA_PX);
  });

  test('has no answer for corners on one line', () => {
    const onLine = lattice(1, flatCard).filter((_, i) => i < 6);
    expect(smoothLattice(onLine)).toBeUndefined();
  });
});
