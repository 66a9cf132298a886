// Seeded random numbers for the simulated photos: the same seed gives the same photo on every machine.

export interface Random {
  /** Uniform in [0, 1). */
  readonly uniform: () => number;
  /** Uniform in [from, to). */
  readonly between: (from: number, to: number) => number;
  /** Standard normal. */
  readonly normal: () => number;
  readonly pick: <T>(list: readonly T[]) => T;
}

/** Mulberry32 (public domain, Tommy Ettinger): 32 bits of state are enough for noise. */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return {
    uniform,
    between: (from, to) => from + (to - from) * uniform(),
    normal,
    pick: (list) => {
      const value = list[Math.floor(uniform() * list.length)];
      if (value === undefined) throw new Error('pick from an empty list');
      return value;
    },
  };
}
