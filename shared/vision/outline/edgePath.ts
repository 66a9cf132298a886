// Chooses one edge position per profile so that all together are well supported and smooth: dynamic programming over
// the offsets along the normals with a penalty on the second difference, then the exact place by a parabola through
// the gradient around its maximum (after Devernay, INRIA RR-2724), checked against the half-level crossing.
import type { Profiles } from './profiles.ts';

export interface EdgePath {
  /** Offset from the middle of each profile toward the inside, in samples. */
  readonly offset: Float32Array;
  /** Gradient at the edge over that of a clean step of the same height, about 0-1. */
  readonly support: Float32Array;
  /** 1 where gradient maximum and half level agree. */
  readonly agreed: Uint8Array;
  /** Strongest other edge of the same kind in the profile over the chosen one; near 1 the choice is a guess. */
  readonly rivalRatio: Float32Array;
}

/** Slope of an offset path, samples per profile. */
const MAX_SLOPE = 2;
const SLOPES = 2 * MAX_SLOPE + 1;
const BEND_PRICE = 0.25;
const SLOPE_PRICE = 0.01;
/** Price of a pixel of profile that looks like the wrong side. */
const REGION_PRICE_PER_PX = 0.12;
const GAUSS_SIGMA_PX = 1;
/** Blur of an in-focus phone picture together with GAUSS_SIGMA_PX: the gradient of a clean unit step is 1 / (sqrt(2 pi) this). */
const CLEAN_STEP_SIGMA_PX = 1.35;
const DISAGREE_PX = 0.5;
/** Other edges count as rivals beyond this distance. */
const RIVAL_APART_PX = 2.5;
/** The exact maximum is looked for this far around the chosen path. */
const SNAP_PX = 1;

/**
 * @param blind 1 for profiles that show no edge (covered, notch): they follow from their neighbours
 */
export function edgePath(profiles: Profiles, stepPx: number, blind: Uint8Array): EdgePath {
  const { count, samples, level } = profiles;
  const smooth = filtered(level, count, samples, gaussian(stepPx));
  const gradient = gradients(smooth, count, samples, stepPx);
  const clean = 1 / (Math.sqrt(2 * Math.PI) * CLEAN_STEP_SIGMA_PX);
  const looks = gradients(filtered(profiles.likeness, count, samples, gaussian(stepPx)), count, samples, stepPx);
  const cost = costs(profiles, looks, clean, stepPx);
  for (let p = 0; p < count; p++) if (blind[p] === 1) cost.fill(0, p * samples, (p + 1) * samples);
  const chosen = cheapestPath(cost, count, samples);
  const offset = new Float32Array(count);
  const support = new Float32Array(count);
  const agreed = new Uint8Array(count);
  const rivalRatio = new Float32Array(count);
  const apart = Math.ceil(RIVAL_APART_PX / stepPx);
  const snap = Math.max(1, Math.round(SNAP_PX / stepPx));
  const middle = (samples - 1) / 2;
  for (let p = 0; p < count; p++) {
    const row = p * samples;
    let best = Math.min(Math.max(chosen[p]!, 1), samples - 2);
    for (let k = Math.max(1, chosen[p]! - snap); k <= Math.min(samples - 2, chosen[p]! + snap); k++) {
      if (gradient[row + k]! > gradient[row + best]!) best = k;
    }
    const left = gradient[row + best - 1]!;
    const peak = gradient[row + best]!;
    const right = gradient[row + best + 1]!;
    const bend = left - 2 * peak + right;
    const shift = bend < 0 ? Math.min(Math.max((0.5 * (left - right)) / bend, -1), 1) : 0;
    const place = best + shift;
    offset[p] = place - middle;
    support[p] = Math.max(0, peak / clean);
    let rival = 0;
    let mine = 0;
    for (let k = 1; k < samples - 1; k++) {
      if (Math.abs(k - best) > apart) rival = Math.max(rival, looks[row + k]!);
      else mine = Math.max(mine, looks[row + k]!);
    }
    rivalRatio[p] = mine > 0 ? rival / mine : 1;
    const half = halfLevel(smooth, row, samples, place, stepPx);
    if (half !== null && Math.abs(half - place) * stepPx <= DISAGREE_PX) agreed[p] = 1;
  }
  spanBlind(offset, blind);
  return { offset, support, agreed, rivalRatio };
}

/** Straight lines over the blind runs, from the means of the offsets on either side. */
function spanBlind(offset: Float32Array, blind: Uint8Array): void {
  const count = offset.length;
  const besides = 4;
  const meanFrom = (start: number, step: 1 | -1): number | null => {
    let sum = 0;
    let n = 0;
    for (let p = start; p >= 0 && p < count && n < besides && blind[p] === 0; p += step) {
      sum += offset[p]!;
      n++;
    }
    return n === 0 ? null : sum / n;
  };
  for (let p = 0; p < count; p++) {
    if (blind[p] === 0) continue;
    let end = p;
    while (end + 1 < count && blind[end + 1] === 1) end++;
    const left = meanFrom(p - 1, -1);
    const right = meanFrom(end + 1, 1);
    for (let k = p; k <= end; k++) {
      const t = (k - p + 1) / (end - p + 2);
      offset[k] = (left ?? right ?? 0) * (1 - t) + (right ?? left ?? 0) * t;
    }
    p = end;
  }
}

function gaussian(stepPx: number): Float32Array {
  const radius = Math.ceil((2.5 * GAUSS_SIGMA_PX) / stepPx);
  const kernel = Float32Array.from({ length: 2 * radius + 1 }, (_, i) =>
    Math.exp(-0.5 * (((i - radius) * stepPx) / GAUSS_SIGMA_PX) ** 2),
  );
  const sum = kernel.reduce((a, b) => a + b, 0);
  return kernel.map((value) => value / sum);
}

function filtered(level: Float32Array, count: number, samples: number, kernel: Float32Array): Float32Array {
  const radius = (kernel.length - 1) / 2;
  const out = new Float32Array(level.length);
  for (let p = 0; p < count; p++) {
    const row = p * samples;
    for (let k = 0; k < samples; k++) {
      let sum = 0;
      for (let i = -radius; i <= radius; i++) {
        sum += kernel[i + radius]! * level[row + Math.min(Math.max(k + i, 0), samples - 1)]!;
      }
      out[row + k] = sum;
    }
  }
  return out;
}

function gradients(smooth: Float32Array, count: number, samples: number, stepPx: number): Float32Array {
  const out = new Float32Array(smooth.length);
  for (let p = 0; p < count; p++) {
    const row = p * samples;
    for (let k = 1; k < samples - 1; k++) out[row + k] = (smooth[row + k + 1]! - smooth[row + k - 1]!) / (2 * stepPx);
  }
  return out;
}

/** Cost of putting the edge at each sample: little gradient, outside that looks like inside, inside that does not. */
function costs(profiles: Profiles, gradient: Float32Array, clean: number, stepPx: number): Float32Array {
  const { count, samples, likeness } = profiles;
  const out = new Float32Array(likeness.length);
  const price = REGION_PRICE_PER_PX * stepPx;
  for (let p = 0; p < count; p++) {
    const row = p * samples;
    let region = 0;
    for (let k = 0; k < samples; k++) region += (1 - likeness[row + k]!) ** 2;
    // walking the edge inward hands sample after sample from the inside to the outside
    for (let k = 0; k < samples; k++) {
      const value = likeness[row + k]!;
      region += 0.5 * (value ** 2 - (1 - value) ** 2);
      out[row + k] = price * region + 1 - Math.min(Math.max(gradient[row + k]! / clean, 0), 1.2);
      region += 0.5 * (value ** 2 - (1 - value) ** 2);
    }
  }
  return out;
}

/** Viterbi over (sample, slope): second-order smoothness at first-order cost. */
function cheapestPath(cost: Float32Array, count: number, samples: number): Int16Array {
  const states = samples * SLOPES;
  let total = new Float32Array(states);
  const from = new Int8Array(count * states);
  for (let k = 0; k < samples; k++) total.fill(cost[k]!, k * SLOPES, (k + 1) * SLOPES);
  for (let p = 1; p < count; p++) {
    const next = new Float32Array(states).fill(Number.POSITIVE_INFINITY);
    for (let k = 0; k < samples; k++) {
      for (let slope = -MAX_SLOPE; slope <= MAX_SLOPE; slope++) {
        const previous = k - slope;
        if (previous < 0 || previous >= samples) continue;
        let best = Number.POSITIVE_INFINITY;
        let bestSlope = 0;
        for (let before = -MAX_SLOPE; before <= MAX_SLOPE; before++) {
          const value = total[previous * SLOPES + before + MAX_SLOPE]! + BEND_PRICE * (slope - before) ** 2;
          if (value < best) {
            best = value;
            bestSlope = before;
          }
        }
        const state = k * SLOPES + slope + MAX_SLOPE;
        next[state] = best + cost[p * samples + k]! + SLOPE_PRICE * slope * slope;
        from[p * states + state] = bestSlope;
      }
    }
    total = next;
  }
  let state = 0;
  for (let s = 1; s < states; s++) if (total[s]! < total[state]!) state = s;
  const path = new Int16Array(count);
  let k = Math.floor(state / SLOPES);
  let slope = (state % SLOPES) - MAX_SLOPE;
  for (let p = count - 1; p >= 0; p--) {
    path[p] = k;
    const before = from[p * states + k * SLOPES + slope + MAX_SLOPE]!;
    k -= slope;
    slope = before;
  }
  return path;
}

/** Where the profile crosses half way between its levels beside the edge; null when it does not nearby. */
function halfLevel(smooth: Float32Array, row: number, samples: number, place: number, stepPx: number): number | null {
  const reach = Math.round(3 / stepPx);
  const at = (k: number): number => smooth[row + Math.min(Math.max(Math.round(k), 0), samples - 1)]!;
  const half = (at(place - reach) + at(place + reach)) / 2;
  let best: number | null = null;
  for (let k = Math.max(0, Math.floor(place - reach)); k < Math.min(samples - 1, place + reach); k++) {
    const a = smooth[row + k]! - half;
    const b = smooth[row + k + 1]! - half;
    if (a > 0 || b <= 0) continue;
    const crossing = k + a / (a - b);
    if (best === null || Math.abs(crossing - place) < Math.abs(best - place)) best = crossing;
  }
  return best;
}
