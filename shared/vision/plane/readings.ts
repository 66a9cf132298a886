// Turns what the solver chose into the plain readings that lengths are computed from.
import type { ChosenReading } from './chooseReading.ts';
import type { Readings } from './lengthUncertainty.ts';
import { type CoreFit, cameraCovariance } from './solveCore.ts';

/**
 * Factor on the stated sigma for what no parameter speaks of (paper waves between corners, lens shape beyond two terms):
 * measured as what brings the coverage of real lenses to 0.90 and more, see tests/bench/realLenses.ts.
 */
export const COVERAGE_INFLATION = { oneCard: 1.3, moreCards: 1 } as const;

/** Best camera, its covariance times `inflation` squared, and the rivals likewise. */
export function readingsOf(chosen: ChosenReading, inflation: number): Readings {
  return {
    camera: chosen.best.camera,
    covariance: inflated(chosen.best, inflation),
    rivals: chosen.rivals.map(({ fit, weight }) => ({
      camera: fit.camera,
      covariance: inflated(fit, inflation),
      weight,
    })),
  };
}

function inflated(fit: CoreFit, inflation: number): number[][] {
  return cameraCovariance(fit).map((row) => row.map((value) => value * inflation * inflation));
}
