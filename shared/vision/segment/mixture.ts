// What a surface looks like: a few Gaussian modes over the block features. A table is rarely one colour: grain, checks,
// a lit and a shaded side each get a mode. Fitted by hard expectation-maximisation from deterministic starts.
import { FEATURES } from './quietWindows.ts';

export interface Mode {
  readonly weight: number;
  readonly mean: Float64Array;
  /** Inverse of the lower Cholesky factor of the covariance, row-major: distance is the norm of L^-1 (x - mean). */
  readonly whiten: Float64Array;
}

/** Smallest standard deviation per feature: sensor noise, JPEG, slow changes of light over the table. */
const FLOOR_SIGMA = [0.1, 0.03, 0.04, 0.25, 0.3, 0.3] as const;
/** Largest standard deviation per feature. Blocks that hold half of this and half of that make a mode wide enough to swallow
 * everything between; no single surface varies that much over a few millimetres. */
const LARGEST_SIGMA = [0.3, 0.1, 0.16, 0.6, 0.9, 0.9] as const;
const ROUNDS = 6;
/** A shadow darkens a surface by up to about e^-1 and leaves its chroma nearly alone; the price is in squared sigmas. */
const SHADOW_DEPTH = 1;
const SHADOW_PRICE = 5;

/** Fits at most `modeCount` modes to rows of features; fewer when the samples do not fill them. */
export function fitMixture(features: Float32Array, rows: readonly number[], modeCount: number): Mode[] {
  if (rows.length === 0) return [];
  let centres = spreadStarts(features, rows, modeCount);
  let modes: Mode[] = centres.map((mean) => ({ weight: 1, mean, whiten: floorWhitening() }));
  for (let round = 0; round < ROUNDS; round++) {
    const members: number[][] = modes.map(() => []);
    for (let i = 0; i < rows.length; i++) members[nearestMode(modes, features, rows[i]!)]!.push(rows[i]!);
    modes = members
      .filter((group) => group.length > 2 * FEATURES)
      .map((group) => modeOf(features, group, group.length / rows.length));
    if (modes.length === 0) return [modeOf(features, rows, 1)];
    centres = modes.map((mode) => mode.mean);
  }
  return modes;
}

/** Index of the mode that a row is nearest to; 0 when there is none. */
export function nearestMode(modes: readonly Mode[], features: Float32Array, row: number): number {
  let best = 0;
  let bestDistance = Number.POSITIVE_INFINITY;
  for (let k = 0; k < modes.length; k++) {
    const distance = distanceTo(modes[k]!, features, row, 0, FEATURES, bestDistance);
    if (distance < bestDistance) {
      bestDistance = distance;
      best = k;
    }
  }
  return best;
}

/** Texture features: from this one on a block may be rougher than a mode because its window straddles an edge. */
const TEXTURE_FROM = 4;

/** Squared Mahalanobis distance of one row to one mode, its lightness raised by `lift`. */
export function squaredDistance(mode: Mode, features: Float32Array, row: number, lift = 0): number {
  return distanceTo(mode, features, row, lift, FEATURES);
}

/**
 * The same, forgiving more texture than the mode has: between two pieces that lie close together no window shows table
 * alone. Less texture than the mode is never forgiven: smooth paper on a rough table is known by it.
 */
export function forgivingDistance(mode: Mode, features: Float32Array, row: number): number {
  return distanceTo(mode, features, row, 0, TEXTURE_FROM);
}

/** What `beyond` or more is not told exactly: whoever looks for the nearest mode need not know how far the others are. */
function distanceTo(
  { mean, whiten }: Mode,
  features: Float32Array,
  row: number,
  lift: number,
  cappedFrom: number,
  beyond = Number.POSITIVE_INFINITY,
): number {
  let sum = 0;
  const base = row * FEATURES;
  for (let i = 0; i < FEATURES && sum < beyond; i++) {
    let off = features[base + i]! - mean[i]!;
    if (i === 0) off += lift;
    else if (i >= cappedFrom && off > 0) off = 0;
    offsets[i] = off;
    let part = 0;
    for (let j = 0; j <= i; j++) part += whiten[i * FEATURES + j]! * offsets[j]!;
    sum += part * part;
  }
  return sum;
}

/** Scratch of distanceTo, which is asked for every block and mode. */
const offsets = new Float64Array(FEATURES);

/** Distance to the nearest mode when a shadow may have darkened the block. */
export function shadedDistance(modes: readonly Mode[], features: Float32Array, row: number): number {
  return shaded(modes, features, row, FEATURES);
}

/** shadedDistance, forgiving more texture than the modes have. */
export function tableDistance(modes: readonly Mode[], features: Float32Array, row: number): number {
  return shaded(modes, features, row, TEXTURE_FROM);
}

function shaded(modes: readonly Mode[], features: Float32Array, row: number, cappedFrom: number): number {
  let best = Number.POSITIVE_INFINITY;
  for (const mode of modes) {
    const missing = mode.mean[0]! - features[row * FEATURES]!;
    const lift = Math.min(Math.max(missing, 0), SHADOW_DEPTH);
    const price = SHADOW_PRICE * (lift / SHADOW_DEPTH) ** 2;
    best = Math.min(best, distanceTo(mode, features, row, lift, cappedFrom, best) + price);
    if (lift > 0) best = Math.min(best, distanceTo(mode, features, row, 0, cappedFrom, best));
  }
  return best;
}

function spreadStarts(features: Float32Array, rows: readonly number[], modeCount: number): Float64Array[] {
  const starts = [meanOf(features, rows)];
  const nearest = new Float64Array(rows.length).fill(Number.POSITIVE_INFINITY);
  while (starts.length < modeCount) {
    const last = starts[starts.length - 1]!;
    const spread: number[] = [];
    for (let i = 0; i < rows.length; i++) {
      let sum = 0;
      for (let f = 0; f < FEATURES; f++) {
        const off = (features[rows[i]! * FEATURES + f]! - last[f]!) / FLOOR_SIGMA[f]!;
        sum += off * off;
      }
      nearest[i] = Math.min(nearest[i]!, sum);
      spread.push(nearest[i]!);
    }
    // the 98th percentile, not the farthest: a single odd block must not found a mode
    const order = spread.map((_, i) => i).sort((a, b) => spread[a]! - spread[b]!);
    const pick = order[Math.floor(order.length * 0.98)]!;
    if (spread[pick]! < 4) break;
    const at = rows[pick]! * FEATURES;
    starts.push(Float64Array.from(features.subarray(at, at + FEATURES)));
  }
  return starts;
}

function meanOf(features: Float32Array, rows: readonly number[]): Float64Array {
  const mean = new Float64Array(FEATURES);
  for (const row of rows) for (let f = 0; f < FEATURES; f++) mean[f]! += features[row * FEATURES + f]! / rows.length;
  return mean;
}

function modeOf(features: Float32Array, rows: readonly number[], weight: number): Mode {
  const mean = meanOf(features, rows);
  const covariance = new Float64Array(FEATURES * FEATURES);
  for (let k = 0; k < rows.length; k++) addDeviations(covariance, features, rows[k]! * FEATURES, mean, rows.length);
  for (let i = 0; i < FEATURES; i++) covariance[i * FEATURES + i]! += FLOOR_SIGMA[i]! ** 2;
  const shrink = LARGEST_SIGMA.map((sigma, i) => Math.min(1, sigma / Math.sqrt(covariance[i * FEATURES + i]!)));
  for (let i = 0; i < FEATURES; i++)
    for (let j = 0; j <= i; j++) covariance[i * FEATURES + j]! *= shrink[i]! * shrink[j]!;
  return { weight, mean, whiten: inverseCholesky(covariance) };
}

function addDeviations(
  covariance: Float64Array,
  features: Float32Array,
  base: number,
  mean: Float64Array,
  count: number,
): void {
  for (let i = 0; i < FEATURES; i++) {
    const di = features[base + i]! - mean[i]!;
    for (let j = 0; j <= i; j++) covariance[i * FEATURES + j]! += (di * (features[base + j]! - mean[j]!)) / count;
  }
}

function floorWhitening(): Float64Array {
  const whiten = new Float64Array(FEATURES * FEATURES);
  for (let i = 0; i < FEATURES; i++) whiten[i * FEATURES + i] = 1 / FLOOR_SIGMA[i]!;
  return whiten;
}

/** Inverse of the lower Cholesky factor of a positive definite matrix given by its lower triangle. */
function inverseCholesky(matrix: Float64Array): Float64Array {
  const n = FEATURES;
  const lower = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= lower[i * n + k]! * lower[j * n + k]!;
      lower[i * n + j] = i === j ? Math.sqrt(sum) : sum / lower[j * n + j]!;
    }
  }
  const inverse = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    inverse[i * n + i] = 1 / lower[i * n + i]!;
    for (let j = 0; j < i; j++) {
      let sum = 0;
      for (let k = j; k < i; k++) sum -= lower[i * n + k]! * inverse[k * n + j]!;
      inverse[i * n + j] = sum / lower[i * n + i]!;
    }
  }
  return inverse;
}
