// Small dense linear systems, as least squares of a handful of unknowns needs them.
import { SINGULAR_PIVOT_RATIO } from './tolerances.ts';

/** Solves matrix · x = right by elimination with pivoting; null when the matrix is singular. Rows are n long. */
export function solveLinear(matrix: readonly (readonly number[])[], right: readonly number[]): number[] | null {
  const n = right.length;
  const rows = matrix.map((row, i) => [...row, right[i]!]);
  const largest = Math.max(...matrix.flat().map(Math.abs));
  for (let column = 0; column < n; column++) {
    let pivot = column;
    for (let i = column + 1; i < n; i++) if (Math.abs(rows[i]![column]!) > Math.abs(rows[pivot]![column]!)) pivot = i;
    if (!(Math.abs(rows[pivot]![column]!) > SINGULAR_PIVOT_RATIO * largest)) return null;
    [rows[column], rows[pivot]] = [rows[pivot]!, rows[column]!];
    for (let i = column + 1; i < n; i++) {
      const factor = rows[i]![column]! / rows[column]![column]!;
      for (let k = column; k <= n; k++) rows[i]![k] = rows[i]![k]! - factor * rows[column]![k]!;
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let i = n - 1; i >= 0; i--) {
    let rest = rows[i]![n]!;
    for (let k = i + 1; k < n; k++) rest -= rows[i]![k]! * x[k]!;
    x[i] = rest / rows[i]![i]!;
  }
  return x;
}
