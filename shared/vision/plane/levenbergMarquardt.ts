// Levenberg-Marquardt for small robust least-squares problems. The first residuals come in pairs (x and y of one corner)
// and may be weighed down by a soft-L1 loss; the rest (priors) count fully.
// Marquardt, "An algorithm for least-squares estimation of nonlinear parameters", 1963; soft-L1 by re-weighting.
import { solveNormal } from './linearAlgebra.ts';

export interface LeastSquaresProblem {
  readonly parameterCount: number;
  readonly residualCount: number;
  /** The first 2 x pairCount residuals are corner coordinates. */
  readonly pairCount: number;
  readonly residuals: (parameters: Float64Array, out: Float64Array) => void;
  /** Row-major residualCount x parameterCount. */
  readonly jacobian: (parameters: Float64Array, out: Float64Array) => void;
}

export interface Minimum {
  readonly parameters: Float64Array;
  readonly residuals: Float64Array;
  readonly cost: number;
  /** J^T W J at the minimum, row-major. */
  readonly normal: Float64Array;
  readonly converged: boolean;
}

export type Loss = { readonly kind: 'squares' } | { readonly kind: 'soft-l1'; readonly scale: number };

const LM = {
  firstDamping: 1e-3,
  smallestDamping: 1e-9,
  largestDamping: 1e9,
  easier: 0.2,
  harder: 6,
  maxIterations: 60,
  /** Stop when a step lowers the cost (in squared sigmas) by less than this; far below anything that matters. */
  costChange: 1e-6,
} as const;

export function minimise(problem: LeastSquaresProblem, start: Float64Array, loss: Loss): Minimum {
  const n = problem.parameterCount;
  const rows = problem.residualCount;
  let parameters = Float64Array.from(start);
  let residuals = new Float64Array(rows);
  let trialResiduals = new Float64Array(rows);
  const jacobian = new Float64Array(rows * n);
  problem.residuals(parameters, residuals);
  let cost = costOf(problem, residuals, loss);
  let damping: number = LM.firstDamping;
  let converged = false;
  let normal = new Float64Array(n * n);
  for (let iteration = 0; iteration < LM.maxIterations && !converged; iteration++) {
    problem.jacobian(parameters, jacobian);
    const equations = normalEquations(problem, jacobian, residuals, loss);
    normal = equations.normal;
    let improved = false;
    while (!improved && damping < LM.largestDamping) {
      const step = solveNormal(normal, equations.gradient, damping);
      const trial = parameters.map((p, i) => p - step[i]!);
      problem.residuals(trial, trialResiduals);
      const trialCost = costOf(problem, trialResiduals, loss);
      if (trialCost <= cost) {
        improved = true;
        converged = cost - trialCost < LM.costChange * (1 + cost);
        cost = trialCost;
        parameters = trial;
        [residuals, trialResiduals] = [trialResiduals, residuals];
        damping = Math.max(LM.smallestDamping, damping * LM.easier);
      } else {
        damping *= LM.harder;
      }
    }
    if (!improved) converged = true; // no step in any direction helps: this is the minimum to machine precision
  }
  return { parameters, residuals, cost, normal, converged };
}

/** J^T W J and J^T W r at the given place, without moving. */
export function normalAt(problem: LeastSquaresProblem, parameters: Float64Array, loss: Loss): Float64Array {
  const residuals = new Float64Array(problem.residualCount);
  const jacobian = new Float64Array(problem.residualCount * problem.parameterCount);
  problem.residuals(parameters, residuals);
  problem.jacobian(parameters, jacobian);
  return normalEquations(problem, jacobian, residuals, loss).normal;
}

function pairWeight(loss: Loss, squared: number): number {
  return loss.kind === 'squares' ? 1 : 1 / Math.sqrt(1 + squared / (loss.scale * loss.scale));
}

function costOf(problem: LeastSquaresProblem, residuals: Float64Array, loss: Loss): number {
  let cost = 0;
  for (let pair = 0; pair < problem.pairCount; pair++) {
    const s = residuals[2 * pair]! ** 2 + residuals[2 * pair + 1]! ** 2;
    cost += loss.kind === 'squares' ? s : 2 * loss.scale ** 2 * (Math.sqrt(1 + s / loss.scale ** 2) - 1);
  }
  for (let row = 2 * problem.pairCount; row < residuals.length; row++) cost += residuals[row]! ** 2;
  return cost;
}

function normalEquations(
  problem: LeastSquaresProblem,
  jacobian: Float64Array,
  residuals: Float64Array,
  loss: Loss,
): { normal: Float64Array<ArrayBuffer>; gradient: Float64Array } {
  const n = problem.parameterCount;
  const normal = new Float64Array(n * n);
  const gradient = new Float64Array(n);
  const columns = new Int32Array(n);
  for (let row = 0; row < residuals.length; row++) {
    const pair = row >> 1;
    const weight =
      pair < problem.pairCount ? pairWeight(loss, residuals[2 * pair]! ** 2 + residuals[2 * pair + 1]! ** 2) : 1;
    addRow(jacobian.subarray(row * n, row * n + n), weight, residuals[row]!, columns, normal, gradient);
  }
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) normal[j * n + i] = normal[i * n + j]!;
  return { normal, gradient };
}

/** One row's share of J^T W J (lower half) and J^T W r; most slopes of a row are zero. `columns` is scratch. */
function addRow(
  slopes: Float64Array,
  weight: number,
  residual: number,
  columns: Int32Array,
  normal: Float64Array,
  gradient: Float64Array,
): void {
  const n = slopes.length;
  let used = 0;
  for (let i = 0; i < n; i++) if (slopes[i] !== 0) columns[used++] = i;
  for (let a = 0; a < used; a++) {
    const i = columns[a]!;
    const ji = weight * slopes[i]!;
    gradient[i]! += ji * residual;
    for (let b = 0; b <= a; b++) normal[i * n + columns[b]!]! += ji * slopes[columns[b]!]!;
  }
}
