// Amounts found by trying: one amount that gives one measure, or a few that give a few. The measures are lengths on derived
// seamlines, for which no formula exists; each trial builds the changed piece and measures it.
import { solveLinear } from '../../geometry/solveLinear.ts';

/** A measure this near to the wanted one is reached: a tenth of what the change promises. */
export const SOLVED_MM = 0.001;

const MAX_STEPS = 60;

export interface Search {
  /** A first guess of the amount; its sign is tried first. */
  readonly guess: number;
  /** No amount larger than this is tried. */
  readonly farthest: number;
}

/** The amount at which the measure is as wanted, nearest to 0 on the side of the guess; null when none is found. */
export function solveFor(measure: (amount: number) => number, wanted: number, search: Search): number | null {
  const missAt = (amount: number) => measure(amount) - wanted;
  const atRest = missAt(0);
  if (Math.abs(atRest) <= SOLVED_MM) return 0;
  const first = search.guess === 0 ? 1 : search.guess;
  for (const direction of [first, -first]) {
    let near = 0;
    let nearMiss = atRest;
    for (let far = direction; Math.abs(near) < search.farthest; far *= 2) {
      const amount = Math.sign(far) * Math.min(Math.abs(far), search.farthest);
      const miss = missAt(amount);
      if (Math.abs(miss) <= SOLVED_MM) return amount;
      if (miss > 0 !== nearMiss > 0) return between(missAt, near, nearMiss, amount, miss);
      near = amount;
      nearMiss = miss;
    }
  }
  return null;
}

/** False position with the Illinois step: keeps the root enclosed and does not creep. */
function between(f: (x: number) => number, a: number, fa: number, b: number, fb: number): number | null {
  let [low, atLow, high, atHigh] = [a, fa, b, fb];
  for (let step = 0; step < MAX_STEPS; step++) {
    const x = (low * atHigh - high * atLow) / (atHigh - atLow);
    const value = f(x);
    if (Math.abs(value) <= SOLVED_MM) return x;
    if (value > 0 === atHigh > 0) {
      atLow /= 2;
    } else {
      low = high;
      atLow = atHigh;
    }
    high = x;
    atHigh = value;
  }
  return null;
}

/** Steps of the difference quotients, in the unit of the amounts (millimetres). */
const PROBE_MM = 0.25;
const MAX_NEWTON = 25;

/**
 * The amounts at which all misses are 0, by Newton's method from the guess; a step that does not help is halved. Null when
 * it does not settle.
 */
export function solveAll(
  missesAt: (amounts: readonly number[]) => readonly number[],
  guess: readonly number[],
): readonly number[] | null {
  let amounts = guess;
  let misses = missesAt(amounts);
  for (let round = 0; round < MAX_NEWTON; round++) {
    if (worst(misses) <= SOLVED_MM) return amounts;
    const columns = amounts.map((_, k) => {
      const probed = missesAt(amounts.map((a, i) => (i === k ? a + PROBE_MM : a)));
      return probed.map((miss, row) => (miss - misses[row]!) / PROBE_MM);
    });
    const matrix = misses.map((_, row) => columns.map((column) => column[row]!));
    const step = solveLinear(
      matrix,
      misses.map((miss) => -miss),
    );
    if (step === null) return null;
    let share = 1;
    let next = amounts;
    let nextMisses = misses;
    do {
      next = amounts.map((a, i) => a + share * step[i]!);
      nextMisses = missesAt(next);
      share /= 2;
    } while (worst(nextMisses) >= worst(misses) && share > LEAST_SHARE);
    if (worst(nextMisses) >= worst(misses)) return null;
    amounts = next;
    misses = nextMisses;
  }
  return worst(misses) <= SOLVED_MM ? amounts : null;
}

/** A step halved this far no longer helps. */
const LEAST_SHARE = 1 / 256;

function worst(misses: readonly number[]): number {
  return Math.max(...misses.map(Math.abs));
}
