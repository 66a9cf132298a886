// Samples of the original photo along lines across the outline, in linear light, reduced to one number per sample: 0 where
// it looks like what lies outside right there, 1 where it looks like the inside. The mix of red, green and blue is
// chosen place by place, so the channel with the clearest step counts most.
import type { PhotoPointPx, Point } from '../../base/points.ts';
import type { RgbImage } from '../image.ts';
import { LINEAR_FROM_SRGB } from '../segment/linearLight.ts';

/** An even number of steps, so that the middle sample lies on the line. */
export interface ProfileSpec {
  readonly samples: number;
  readonly stepPx: number;
}

export interface Profiles {
  readonly count: number;
  readonly samples: number;
  /** count x samples, from outside to inside; 0 = outside, 1 = inside. */
  readonly level: Float32Array;
  /** count x samples; nearness in full colour: 0 = like outside, 1 = like inside, one half = like neither. */
  readonly likeness: Float32Array;
  /** Contrast of inside and outside over the scatter of single samples, per profile. */
  readonly contrast: Float32Array;
}

/** Samples at each end from which the look of either side is learnt. */
const END_SAMPLES = 5;
/** Half-length in profiles of the running means of the sides. */
const SIDE_RUN = 12;
/** Variance of linear light that is always there: sensor noise at mid grey. */
const NOISE_VARIANCE = 0.0001;
export const CHANNELS = 3;

/**
 * @param centres photo points on the line
 * @param inward unit directions in the photo across the line, pointing inside
 */
export function sampleProfiles(
  rgb: RgbImage,
  centres: readonly PhotoPointPx[],
  inward: readonly Point[],
  spec: ProfileSpec,
): Profiles {
  const { samples, stepPx } = spec;
  const count = centres.length;
  const raw = new Float32Array(count * samples * CHANNELS);
  const half = (samples - 1) / 2;
  for (let p = 0; p < count; p++) {
    const [cx, cy] = centres[p]!;
    const [nx, ny] = inward[p]!;
    for (let k = 0; k < samples; k++) {
      const t = (k - half) * stepPx;
      linearAt(rgb, cx + nx * t, cy + ny * t, raw, (p * samples + k) * CHANNELS);
    }
  }
  const outside = sideMeans(raw, count, samples, 0);
  const inside = sideMeans(raw, count, samples, samples - END_SAMPLES);
  const level = new Float32Array(count * samples);
  const likeness = new Float32Array(count * samples);
  const contrast = new Float32Array(count);
  for (let p = 0; p < count; p++) {
    const weights = [0, 0, 0];
    let span = 0;
    for (let c = 0; c < CHANNELS; c++) {
      const at = p * CHANNELS + c;
      const step = inside.mean[at]! - outside.mean[at]!;
      weights[c] = step / (inside.variance[at]! + outside.variance[at]! + NOISE_VARIANCE);
      span += weights[c]! * step;
    }
    contrast[p] = Math.sqrt(span);
    if (!(span > 0)) continue;
    for (let k = 0; k < samples; k++) {
      let value = 0;
      for (let c = 0; c < CHANNELS; c++) {
        value += weights[c]! * (raw[(p * samples + k) * CHANNELS + c]! - outside.mean[p * CHANNELS + c]!);
      }
      level[p * samples + k] = value / span;
      let toOutside = 0;
      let toInside = 0;
      for (let c = 0; c < CHANNELS; c++) {
        const at = p * CHANNELS + c;
        const colour = raw[(p * samples + k) * CHANNELS + c]!;
        const variance = inside.variance[at]! + outside.variance[at]! + NOISE_VARIANCE;
        toOutside += (colour - outside.mean[at]!) ** 2 / variance;
        toInside += (colour - inside.mean[at]!) ** 2 / variance;
      }
      likeness[p * samples + k] = toOutside / (toOutside + toInside + Number.EPSILON);
    }
  }
  return {
    count,
    samples,
    level: alongSmoothed(level, count, samples),
    likeness: alongSmoothed(likeness, count, samples),
    contrast,
  };
}

/** Bilinear linear-light colour at a photo point, clamped at the rim. */
export function linearAt(rgb: RgbImage, xPx: number, yPx: number, out: Float32Array, at: number): void {
  const x = Math.min(Math.max(xPx, 0), rgb.widthPx - 1);
  const y = Math.min(Math.max(yPx, 0), rgb.heightPx - 1);
  const x0 = Math.min(Math.floor(x), rgb.widthPx - 2);
  const y0 = Math.min(Math.floor(y), rgb.heightPx - 2);
  const fx = x - x0;
  const fy = y - y0;
  const a = CHANNELS * (y0 * rgb.widthPx + x0);
  const b = a + CHANNELS * rgb.widthPx;
  for (let c = 0; c < CHANNELS; c++) {
    const top = LINEAR_FROM_SRGB[rgb.data[a + c]!]! * (1 - fx) + LINEAR_FROM_SRGB[rgb.data[a + c + CHANNELS]!]! * fx;
    const bottom = LINEAR_FROM_SRGB[rgb.data[b + c]!]! * (1 - fx) + LINEAR_FROM_SRGB[rgb.data[b + c + CHANNELS]!]! * fx;
    out[at + c] = top * (1 - fy) + bottom * fy;
  }
}

interface SideMeans {
  readonly mean: Float32Array;
  readonly variance: Float32Array;
}

/** Running mean and variance over neighbouring profiles of END_SAMPLES samples from `first` on, per channel. */
function sideMeans(raw: Float32Array, count: number, samples: number, first: number): SideMeans {
  const mean = new Float32Array(count * CHANNELS);
  const variance = new Float32Array(count * CHANNELS);
  for (let c = 0; c < CHANNELS; c++) {
    const sum = new Float64Array(count + 1);
    const squares = new Float64Array(count + 1);
    for (let p = 0; p < count; p++) {
      let s = 0;
      let q = 0;
      for (let k = first; k < first + END_SAMPLES; k++) {
        const value = raw[(p * samples + k) * CHANNELS + c]!;
        s += value;
        q += value * value;
      }
      sum[p + 1] = sum[p]! + s;
      squares[p + 1] = squares[p]! + q;
    }
    for (let p = 0; p < count; p++) {
      const from = Math.max(0, p - SIDE_RUN);
      const to = Math.min(count, p + SIDE_RUN + 1);
      const n = (to - from) * END_SAMPLES;
      const m = (sum[to]! - sum[from]!) / n;
      mean[p * CHANNELS + c] = m;
      variance[p * CHANNELS + c] = Math.max(0, (squares[to]! - squares[from]!) / n - m * m);
    }
  }
  return { mean, variance };
}

/** One-two-one mean with the neighbouring profiles. */
function alongSmoothed(level: Float32Array, count: number, samples: number): Float32Array {
  const out = new Float32Array(level.length);
  for (let p = 0; p < count; p++) {
    const before = Math.max(0, p - 1) * samples;
    const after = Math.min(count - 1, p + 1) * samples;
    for (let k = 0; k < samples; k++) {
      out[p * samples + k] = (level[before + k]! + 2 * level[p * samples + k]! + level[after + k]!) / 4;
    }
  }
  return out;
}
