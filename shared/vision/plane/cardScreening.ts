// Tells when one card disagrees with the others: printed at another scale, or not lying flat. A card may disagree in ways
// that the camera could half explain, so the question is always asked together with everything else that is free.
import { BODY, bodyAt, PRINT_AT } from './bodyLayout.ts';
import { type Body, type PlaneModel, planeProblem } from './planeProblem.ts';
import { bodyNumbers, type CoreFit } from './solveCore.ts';

export const SCREENING = {
  /** A card's own scale must differ by this much, relatively... */
  scaleRatio: 0.004,
  /** ...and explain the corners better by this many squared sigmas. */
  scaleChiSquare: 25,
  /**
   * Bow from middle to rim at which a card is called bent. Of 65 simulated cards bent by 1.05 mm 63 are caught, alone or
   * beside others, and of 160 curled by up to 0.6 mm none is.
   */
  bentMm: 0.85,
  /** Axes of a print that differ by this much, and by so many sigmas of what the photo says, are looked at freely... */
  aspectRatio: 0.003,
  aspectLookSigmas: 2.5,
  /** ...and doubted when they then still differ by so many. */
  aspectSigmas: 3.5,
  /** Below this share of information from the photo itself, a bow is prior, not observation. */
  smallestInformation: 0.3,
} as const;

/** Relative step for the derivative of the residuals by a body's scale. */
const SCALE_STEP = 1e-4;

export interface ScaleDisagreement {
  readonly bodyIndex: number;
  /** Estimated size over expected size, minus one. */
  readonly ratio: number;
  readonly chiSquare: number;
}

/** The bodies whose own print scale differs from the rest, worst first. */
export function scaleDisagreements(fit: CoreFit): ScaleDisagreement[] {
  const problem = planeProblem(fit.model, fit.full);
  const parameters = Float64Array.from(problem.free, (index) => fit.full[index]!);
  const n = problem.parameterCount;
  const residuals = new Float64Array(problem.residualCount);
  const jacobian = new Float64Array(problem.residualCount * n);
  problem.residuals(parameters, residuals);
  problem.jacobian(parameters, jacobian);
  const corners = 2 * problem.pairCount;
  let sum = 0;
  for (let row = 0; row < corners; row++) sum += residuals[row]! ** 2;
  const found = fit.model.bodies.map((_, bodyIndex): ScaleDisagreement => {
    const d = scaleDerivative(fit.model, fit.full, bodyIndex, parameters);
    const jd = new Float64Array(n);
    let dd = 0;
    let dr = 0;
    for (let row = 0; row < corners; row++) {
      if (d[row] === 0) continue;
      dd += d[row]! ** 2;
      dr += d[row]! * residuals[row]!;
      for (let k = 0; k < n; k++) jd[k]! += jacobian[row * n + k]! * d[row]!;
    }
    let explained = 0;
    for (let a = 0; a < n; a++) for (let b = 0; b < n; b++) explained += jd[a]! * fit.covariance.get(a, b) * jd[b]!;
    const information = dd - explained;
    const ratio = -dr / information;
    const drop = information * ratio * ratio;
    // Judged by the noise that would remain, because the disagreement itself has raised the noise estimate.
    const remaining = Math.max(sum - drop, 1) / Math.max(1, corners - n);
    return { bodyIndex, ratio, chiSquare: drop / Math.min(1, remaining) };
  });
  return found
    .filter(({ ratio, chiSquare }) => Math.abs(ratio) > SCREENING.scaleRatio && chiSquare > SCREENING.scaleChiSquare)
    .sort((a, b) => b.chiSquare - a.chiSquare);
}

function scaleDerivative(
  model: PlaneModel,
  full: Float64Array,
  bodyIndex: number,
  parameters: Float64Array,
): Float64Array {
  const at = (factor: number): Float64Array => {
    const bodies = model.bodies.map((body, i) =>
      i === bodyIndex ? { ...body, pointsMm: body.pointsMm.map((value) => value * factor) } : body,
    );
    const problem = planeProblem({ ...model, bodies }, full);
    const out = new Float64Array(problem.residualCount);
    problem.residuals(parameters, out);
    return out;
  };
  const plus = at(1 + SCALE_STEP);
  const minus = at(1 - SCALE_STEP);
  return plus.map((value, row) => (value - minus[row]!) / (2 * SCALE_STEP));
}

/** How much longer the print is along x than along y, against what was typed, with its standard uncertainty. */
export interface PrintAspect {
  readonly ratio: number;
  readonly sigmaRatio: number;
}

/** The print's aspect as the photo says it, what was believed of the print beforehand taken out again. */
export function observedPrintAspect(fit: CoreFit): PrintAspect {
  const x = fit.free.indexOf(PRINT_AT);
  const y = fit.free.indexOf(PRINT_AT + 1);
  if (x < 0 || y < 0) return { ratio: 0, sigmaRatio: 0 };
  const variance = fit.covariance.get(x, x) + fit.covariance.get(y, y) - 2 * fit.covariance.get(x, y);
  const prior = 2 * fit.model.priors.printSigmaRatio ** 2;
  const information = 1 / variance - 1 / prior;
  if (!(information > 0)) return { ratio: 0, sigmaRatio: Number.POSITIVE_INFINITY };
  const ratio = (fit.full[PRINT_AT]! - fit.full[PRINT_AT + 1]!) / variance / information;
  return { ratio, sigmaRatio: 1 / Math.sqrt(information) };
}

/** Whether the axes of the print are not what was typed, by `sigmas` of what the photo says. */
export function isPrintDoubtful({ ratio, sigmaRatio }: PrintAspect, sigmas: number): boolean {
  return Math.abs(ratio) > Math.max(SCREENING.aspectRatio, sigmas * sigmaRatio);
}

/** Height difference between middle and rim of a body's paper that the photo itself says, millimetres; 0 when it was held flat. */
export function observedBowMm(fit: CoreFit, bodyIndex: number): number {
  const body = fit.model.bodies[bodyIndex]!;
  const numbers = bodyNumbers(fit, bodyIndex);
  const prior = body.bowSigmaMm ** 2;
  if (prior === 0) return 0;
  // Undo the pull of the prior, term by term, where the photo says enough.
  const observed = [0, 1, 2].map((k) => {
    const at = fit.free.indexOf(bodyAt(bodyIndex) + BODY.bow + k);
    const information = 1 - fit.covariance.get(at, at) / prior;
    return information > SCREENING.smallestInformation ? numbers[BODY.bow + k]! / information : numbers[BODY.bow + k]!;
  });
  return bowOverPaperMm(body, observed);
}

/** Height difference between middle and rim along the direction of the strongest bend. */
export function bowOverPaperMm(body: Body, [b0, b1, b2]: ArrayLike<number> & Iterable<number>): number {
  const sign = b0! < 0 ? -1 : 1;
  const direction = Math.atan2(sign * b2!, sign * b1!) / 2;
  const reach =
    Math.abs(Math.cos(direction)) * body.paperReachMm[0] + Math.abs(Math.sin(direction)) * body.paperReachMm[1];
  return (Math.abs(b0!) + Math.hypot(b1!, b2!)) * (reach / body.halfSizeMm) ** 2;
}
