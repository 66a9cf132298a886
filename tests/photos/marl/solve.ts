// Finds the one number that makes a length come out as designed. Used when the demo pieces are drafted.

const HALVINGS = 60;

/** x in [low, high] with f(x) = target, for a continuous f with f(low) and f(high) on either side of the target. */
export function solve(f: (x: number) => number, target: number, low: number, high: number): number {
  let [a, b] = [low, high];
  const signA = Math.sign(f(a) - target);
  if (signA === Math.sign(f(b) - target)) {
    throw new Error(`no solution for ${target} between f(${low}) = ${f(low)} and f(${high}) = ${f(high)}`);
  }
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (a + b) / 2;
    if (Math.sign(f(middle) - target) === signA) a = middle;
    else b = middle;
  }
  return (a + b) / 2;
}
