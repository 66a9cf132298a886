// From linear light on the sensor to the bytes of a picture: blur, noise, colour mosaic, sharpening, tone curve.
import { seededRandom } from './random.ts';
import type { Sensor } from './scene.ts';

/** Gaussian blur of an interleaved picture in place, separable, clamped at the rim. */
function blurInPlace(data: Float32Array, widthPx: number, heightPx: number, sigmaPx: number): void {
  if (sigmaPx <= 0) return;
  const radius = Math.ceil(3 * sigmaPx);
  const kernel = Float64Array.from({ length: 2 * radius + 1 }, (_, i) =>
    Math.exp(-((i - radius) ** 2) / (2 * sigmaPx * sigmaPx)),
  );
  const sum = kernel.reduce((a, b) => a + b, 0);
  for (let i = 0; i < kernel.length; i++) kernel[i] = kernel[i]! / sum;
  const stride = 3 * widthPx;
  const line = new Float32Array(stride);
  for (let y = 0; y < heightPx; y++) {
    const start = y * stride;
    for (let x = 0; x < widthPx; x++) {
      let [r, g, b] = [0, 0, 0];
      for (let k = -radius; k <= radius; k++) {
        const at = start + 3 * Math.min(Math.max(x + k, 0), widthPx - 1);
        const w = kernel[k + radius]!;
        r += w * data[at]!;
        g += w * data[at + 1]!;
        b += w * data[at + 2]!;
      }
      line[3 * x] = r;
      line[3 * x + 1] = g;
      line[3 * x + 2] = b;
    }
    data.set(line, start);
  }
  // down the picture: a ring of the rows above that were already overwritten
  const kept: Float32Array[] = Array.from({ length: radius + 1 }, () => new Float32Array(stride));
  for (let y = 0; y < heightPx; y++) {
    kept[y % (radius + 1)]!.set(data.subarray(y * stride, (y + 1) * stride));
    line.fill(0);
    for (let k = -radius; k <= radius; k++) {
      const row = Math.min(Math.max(y + k, 0), heightPx - 1);
      const w = kernel[k + radius]!;
      const source = row <= y ? kept[row % (radius + 1)]! : data;
      const start = row <= y ? 0 : row * stride;
      for (let i = 0; i < stride; i++) line[i] = line[i]! + w * source[start + i]!;
    }
    data.set(line, y * stride);
  }
}

/** Gain, vignetting, shot and read noise; values may leave 0-1. */
function expose(data: Float32Array, widthPx: number, heightPx: number, sensor: Sensor, seed: number): void {
  const random = seededRandom(seed);
  // a table of normal values is ten times faster than drawing each one
  const table = Float32Array.from({ length: NOISE_TABLE }, () => random.normal());
  const [cx, cy] = [(widthPx - 1) / 2, (heightPx - 1) / 2];
  const rim2 = cx * cx + cy * cy;
  let state = seed | 1;
  for (let y = 0, at = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const gain = sensor.exposure * (1 - sensor.vignetting * (((x - cx) ** 2 + (y - cy) ** 2) / rim2));
      for (let channel = 0; channel < 3; channel++, at++) {
        state = (Math.imul(state, 1664525) + 1013904223) | 0;
        const signal = Math.max(0, data[at]! * gain);
        const sigma = Math.sqrt(signal * sensor.fullWell + sensor.readNoise * sensor.readNoise) / sensor.fullWell;
        data[at] = signal + sigma * table[(state >>> 12) & (NOISE_TABLE - 1)]!;
      }
    }
  }
}

const NOISE_TABLE = 1 << 16;

/** Keeps one colour a pixel (R G / G B) and fills the others in by the mean of the neighbours. */
function mosaicInPlace(data: Float32Array, widthPx: number, heightPx: number): void {
  const raw = new Float32Array(widthPx * heightPx);
  const colourAt = (x: number, y: number): number => (y & 1) + (x & 1);
  for (let y = 0, i = 0; y < heightPx; y++)
    for (let x = 0; x < widthPx; x++, i++) raw[i] = data[3 * i + colourAt(x, y)]!;
  for (let y = 0, i = 0; y < heightPx; y++) {
    const up = y > 0 ? -widthPx : widthPx;
    const down = y < heightPx - 1 ? widthPx : -widthPx;
    for (let x = 0; x < widthPx; x++, i++) {
      const left = x > 0 ? -1 : 1;
      const right = x < widthPx - 1 ? 1 : -1;
      const sides = (raw[i + left]! + raw[i + right]!) / 2;
      const ends = (raw[i + up]! + raw[i + down]!) / 2;
      const own = raw[i]!;
      const colour = colourAt(x, y);
      if (colour === 1) {
        const redBeside = (y & 1) === 0;
        data[3 * i] = redBeside ? sides : ends;
        data[3 * i + 1] = own;
        data[3 * i + 2] = redBeside ? ends : sides;
      } else {
        const corners =
          (raw[i + left + up]! + raw[i + right + up]! + raw[i + left + down]! + raw[i + right + down]!) / 4;
        data[3 * i] = colour === 0 ? own : corners;
        data[3 * i + 1] = (sides + ends) / 2;
        data[3 * i + 2] = colour === 0 ? corners : own;
      }
    }
  }
}

const TONE_STEPS = 4096;

function toneTable(): Uint8Array {
  return Uint8Array.from({ length: TONE_STEPS + 1 }, (_, i) => {
    const l = i / TONE_STEPS;
    const c = l <= 0.0031308 ? 12.92 * l : 1.055 * l ** (1 / 2.4) - 0.055;
    return Math.round(255 * c);
  });
}

const SHARPEN_SIGMA_PX = 1;

/** The whole chain; `light` is consumed. Returns interleaved sRGB bytes. */
export function develop(
  light: Float32Array,
  widthPx: number,
  heightPx: number,
  sensor: Sensor,
  seed: number,
): Uint8Array {
  blurInPlace(light, widthPx, heightPx, sensor.blurPx);
  expose(light, widthPx, heightPx, sensor, seed);
  if (sensor.mosaic === 'bayer') mosaicInPlace(light, widthPx, heightPx);
  if (sensor.sharpen > 0) {
    const soft = light.slice();
    blurInPlace(soft, widthPx, heightPx, SHARPEN_SIGMA_PX);
    for (let i = 0; i < light.length; i++) light[i] = light[i]! + sensor.sharpen * (light[i]! - soft[i]!);
  }
  const tone = toneTable();
  const bytes = new Uint8Array(light.length);
  for (let i = 0; i < bytes.length; i++) {
    const l = light[i]!;
    bytes[i] = tone[l <= 0 ? 0 : l >= 1 ? TONE_STEPS : Math.round(l * TONE_STEPS)]!;
  }
  return bytes;
}
