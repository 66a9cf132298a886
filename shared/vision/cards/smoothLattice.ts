// Tells a saddle that is off from a lens that bends the whole lattice: what is left after the card's homography must be
// a smooth function of the place on the card (a polynomial up to the third degree holds lens distortion and gentle curl).
import type { Point } from '../../base/points.ts';
import { solveLinear } from '../../geometry/solveLinear.ts';
import { homographyOf, mapByHomography } from '../plane/homography.ts';
import { CHEQUER_AT, SQUARE_MM, SQUARES_PER_SIDE } from './cardLayout.ts';
import { CHEQUER_LIMITS } from './findLimits.ts';
import { flat } from './readCode.ts';

export interface LatticePoint {
  readonly upright: Point;
  readonly photo: Point;
}

export interface SmoothLattice<P extends LatticePoint> {
  readonly kept: readonly P[];
  readonly photoFromUpright: readonly number[];
  /** Root mean square distance of the kept points to the homography, pixels. */
  readonly homographyResidualPx: number;
  /** Standard uncertainty of one point an axis, from its distance to the smooth lattice, pixels. */
  readonly pointSigmaPx: number;
}

/** Points needed before third-degree terms are let in; with fewer, second degree. */
const POINTS_FOR_CUBIC = 20;

/** Turns a median of absolute values into a standard deviation of a normal distribution. */
const SIGMA_FROM_MEDIAN = 1.4826;

/** Drops the worst point until none is off; undefined when no homography holds. */
export function smoothLattice<P extends LatticePoint>(points: readonly P[]): SmoothLattice<P> | undefined {
  let kept = [...points];
  for (;;) {
    const photoFromUpright = homographyOf(flat(kept.map((p) => p.upright)), flat(kept.map((p) => p.photo)));
    if (photoFromUpright === null) return undefined;
    const residuals = kept.map(({ upright, photo }): Point => {
      const [x, y] = mapByHomography(photoFromUpright, upright[0], upright[1]);
      return [photo[0] - x, photo[1] - y];
    });
    const fit = afterSmoothFit(kept, residuals);
    if (fit === undefined) return undefined;
    const distances = fit.rest.map(([dx, dy]) => Math.hypot(dx, dy));
    const robustSigma = SIGMA_FROM_MEDIAN * median(fit.rest.flatMap(([dx, dy]) => [Math.abs(dx), Math.abs(dy)]));
    const limit = Math.max(CHEQUER_LIMITS.outlierSigmas * robustSigma, CHEQUER_LIMITS.outlierFloorPx);
    const worst = distances.indexOf(Math.max(...distances));
    if (distances[worst]! <= limit || kept.length <= CHEQUER_LIMITS.minSaddles - 1) {
      const squares = residuals.reduce((sum, [dx, dy]) => sum + dx * dx + dy * dy, 0);
      const restSquares = distances.reduce((sum, d) => sum + d * d, 0);
      return {
        kept,
        photoFromUpright,
        homographyResidualPx: Math.sqrt(squares / kept.length),
        pointSigmaPx: Math.sqrt(restSquares / (2 * Math.max(1, kept.length - fit.terms))),
      };
    }
    kept = kept.filter((_, i) => i !== worst);
  }
}

function afterSmoothFit(
  points: readonly LatticePoint[],
  residuals: readonly Point[],
): { readonly rest: Point[]; readonly terms: number } | undefined {
  const rows = points.map(({ upright }) => polynomial(upright, points.length >= POINTS_FOR_CUBIC));
  const terms = rows[0]!.length;
  const normal = Array.from({ length: terms }, (_, i) =>
    Array.from({ length: terms }, (_, k) => rows.reduce((sum, row) => sum + row[i]! * row[k]!, 0)),
  );
  const along = [0, 1].map((axis) => {
    const right = Array.from({ length: terms }, (_, i) =>
      rows.reduce((sum, row, p) => sum + row[i]! * residuals[p]![axis]!, 0),
    );
    return solveLinear(normal, right);
  });
  const [fitX, fitY] = along;
  if (!fitX || !fitY) return undefined;
  const value = (fit: readonly number[], row: readonly number[]) =>
    row.reduce((sum, term, i) => sum + term * fit[i]!, 0);
  const rest = residuals.map(([dx, dy], p): Point => [dx - value(fitX, rows[p]!), dy - value(fitY, rows[p]!)]);
  return { rest, terms };
}

/** Monomials in coordinates from -1 to 1 across the chequer. */
function polynomial([x, y]: Point, withCubic: boolean): number[] {
  const half = (SQUARES_PER_SIDE * SQUARE_MM) / 2;
  const u = (x - CHEQUER_AT[0] - half) / half;
  const v = (y - CHEQUER_AT[1] - half) / half;
  const quadratic = [1, u, v, u * u, u * v, v * v];
  return withCubic ? [...quadratic, u * u * u, u * u * v, u * v * v, v * v * v] : quadratic;
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)]!;
}
