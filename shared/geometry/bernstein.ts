// Roots of a polynomial given by its Bernstein coefficients on [0, 1]: the one solver behind nearest points, extremes and
// lines crossing curves. Finds every root, since the control polygon bounds the curve (variation diminishing).
import { CURVE_PARAMETER } from './tolerances.ts';

/**
 * All roots in [0, 1], ascending, merged when closer than CURVE_PARAMETER. Empty for the zero polynomial.
 * Source: Schneider, "Solving the nearest-point-on-curve problem", Graphics Gems (1990); own implementation.
 */
export function bernsteinRoots(coefficients: readonly number[]): number[] {
  if (coefficients.every((c) => c === 0)) return [];
  const roots: number[] = [];
  collect(coefficients, 0, 1, roots);
  roots.sort((a, b) => a - b);
  return roots.filter((root, i) => i === 0 || root - roots[i - 1]! > CURVE_PARAMETER);
}

function collect(c: readonly number[], from: number, to: number, roots: number[]): void {
  if (c[0] === 0) roots.push(from);
  if (c[c.length - 1] === 0) roots.push(to);
  const changes = signChanges(c);
  if (changes === 0) return;
  if (to - from <= CURVE_PARAMETER) {
    roots.push((from + to) / 2);
    return;
  }
  if (changes === 1) {
    roots.push(from + (to - from) * bisect(c, CURVE_PARAMETER / (to - from)));
    return;
  }
  const [left, right] = halve(c);
  const middle = (from + to) / 2;
  collect(left, from, middle, roots);
  collect(right, middle, to, roots);
}

function signChanges(c: readonly number[]): number {
  let changes = 0;
  let last = 0;
  for (const value of c) {
    const sign = Math.sign(value);
    if (sign === 0) continue;
    if (last !== 0 && sign !== last) changes++;
    last = sign;
  }
  return changes;
}

/** The one root where the sign of the first coefficient that is not zero gives way. */
function bisect(c: readonly number[], width: number): number {
  const startSign = Math.sign(c.find((value) => value !== 0) ?? 0);
  const work = new Float64Array(c.length);
  let low = 0;
  let high = 1;
  while (high - low > Math.max(width, CURVE_PARAMETER)) {
    const middle = (low + high) / 2;
    if (Math.sign(evaluate(c, middle, work)) === startSign) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** @param work room for as many numbers as there are coefficients */
function evaluate(c: readonly number[], t: number, work: Float64Array): number {
  for (let i = 0; i < c.length; i++) work[i] = c[i]!;
  for (let last = work.length - 1; last > 0; last--) {
    for (let i = 0; i < last; i++) work[i] = work[i]! * (1 - t) + work[i + 1]! * t;
  }
  return work[0]!;
}

function halve(c: readonly number[]): readonly [number[], number[]] {
  const work = [...c];
  const left: number[] = [work[0]!];
  const right: number[] = [work[work.length - 1]!];
  for (let last = work.length - 1; last > 0; last--) {
    for (let i = 0; i < last; i++) work[i] = (work[i]! + work[i + 1]!) / 2;
    left.push(work[0]!);
    right.push(work[last - 1]!);
  }
  return [left, right.reverse()];
}
