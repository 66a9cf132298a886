// The few matrix operations of the solver, on ml-matrix. Columns are scaled to equal size before anything is inverted:
// turns and millimetres differ by powers of ten, and an unscaled inverse silently loses directions.
import { CholeskyDecomposition, EigenvalueDecomposition, Matrix } from 'ml-matrix';

/** Relative ridge that keeps a scaled normal matrix positive definite in floating point. */
const RIDGE = 1e-12;

/** Solves N x = g for a symmetric positive normal matrix (row-major, n x n) with `damping` on its scaled diagonal. */
export function solveNormal(normal: Float64Array, gradient: Float64Array, damping: number): Float64Array {
  const n = gradient.length;
  const scale = columnScale(normal, n);
  const scaled = scaledMatrix(normal, scale);
  for (let i = 0; i < n; i++) scaled.set(i, i, scaled.get(i, i) + damping + RIDGE);
  const right = Matrix.columnVector(Array.from(gradient, (g, i) => g / scale[i]!));
  const x = new CholeskyDecomposition(scaled).solve(right);
  return Float64Array.from({ length: n }, (_, i) => x.get(i, 0) / scale[i]!);
}

/** Inverse and ln determinant of a symmetric positive normal matrix (row-major, n x n). */
export function invertNormal(normal: Float64Array, n: number): { inverse: Matrix; lnDeterminant: number } {
  const scale = columnScale(normal, n);
  const scaled = scaledMatrix(normal, scale);
  for (let i = 0; i < n; i++) scaled.set(i, i, scaled.get(i, i) + RIDGE);
  const factor = new CholeskyDecomposition(scaled);
  const inverse = factor.solve(Matrix.eye(n));
  const lower = factor.lowerTriangularMatrix;
  let lnDeterminant = 0;
  for (let i = 0; i < n; i++) {
    lnDeterminant += 2 * Math.log(lower.get(i, i) * scale[i]!);
    for (let j = 0; j <= i; j++) {
      // Rounding leaves the two halves different in the last digits; one value serves both.
      const value = inverse.get(i, j) / (scale[i]! * scale[j]!);
      inverse.set(i, j, value);
      inverse.set(j, i, value);
    }
  }
  return { inverse, lnDeterminant };
}

/** Columns s_k with covariance = sum of s_k s_k^T: the independent ways in which the parameters may be off by one sigma. */
export function squareRootColumns(covariance: readonly (readonly number[])[]): number[][] {
  const n = covariance.length;
  const scale = covariance.map((row, i) => Math.sqrt(Math.max(row[i]!, 0)));
  const correlation = new Matrix(n, n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      const s = scale[i]! * scale[j]!;
      correlation.set(i, j, s === 0 ? 0 : covariance[i]![j]! / s);
    }
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(correlation, { assumeSymmetric: true });
  const columns: number[][] = [];
  for (let k = 0; k < n; k++) {
    const value = realEigenvalues[k]!;
    if (value > RIDGE) {
      const length = Math.sqrt(value);
      columns.push(scale.map((s, i) => s * eigenvectorMatrix.get(i, k) * length));
    }
  }
  return columns;
}

/** x^T C^-1 x for a symmetric positive 3 x 3 matrix. */
export function quadratic3(c: readonly (readonly number[])[], x: readonly number[]): number {
  const [a, b, d] = [c[0]![0]!, c[0]![1]!, c[0]![2]!];
  const [e, f, g] = [c[1]![1]!, c[1]![2]!, c[2]![2]!];
  const inverse = [
    [e * g - f * f, d * f - b * g, b * f - d * e],
    [d * f - b * g, a * g - d * d, b * d - a * f],
    [b * f - d * e, b * d - a * f, a * e - b * b],
  ];
  const determinant = a * inverse[0]![0]! + b * inverse[0]![1]! + d * inverse[0]![2]!;
  let sum = 0;
  for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) sum += x[i]! * inverse[i]![j]! * x[j]!;
  return sum / determinant;
}

/** Rows W with W^T W = covariance^-1: they turn correlated deviations into independent ones of sigma 1. */
export function whiteningOf(covariance: readonly (readonly number[])[]): number[][] {
  const n = covariance.length;
  if (n === 0) return [];
  const lower = new CholeskyDecomposition(new Matrix(covariance.map((row) => [...row]))).lowerTriangularMatrix;
  const rows = Matrix.eye(n).to2DArray();
  for (let column = 0; column < n; column++)
    for (let i = 0; i < n; i++) {
      let sum = i === column ? 1 : 0;
      for (let k = 0; k < i; k++) sum -= lower.get(i, k) * rows[k]![column]!;
      rows[i]![column] = sum / lower.get(i, i);
    }
  return rows;
}

function columnScale(normal: Float64Array, n: number): Float64Array {
  return Float64Array.from({ length: n }, (_, i) => Math.sqrt(normal[i * n + i]!) || 1);
}

function scaledMatrix(normal: Float64Array, scale: Float64Array): Matrix {
  const n = scale.length;
  const out = new Matrix(n, n);
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) out.set(i, j, normal[i * n + j]! / (scale[i]! * scale[j]!));
  return out;
}
