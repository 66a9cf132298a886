// The light of small places on the table as natural logarithms of linear light, where shade is one number added to all three
// colours and a change of material is anything else.
import type { PhotoPointPx } from '../../base/points.ts';
import type { RgbImage } from '../image.ts';
import { linearAt } from './profiles.ts';

export type Light = readonly [number, number, number];

/** Linear light added before logarithms: the noise of dark pixels. */
export const DARK_FLOOR = 0.01;
/** Samples in each direction of a patch. */
const PATCH_SAMPLES = 3;

/** Scratch of patchLight, which is asked hundreds of thousands of times a photo. */
const oneSample = new Float32Array(3);

/** Mean light of a square patch of the photo. */
export function patchLight(rgb: RgbImage, [u, v]: PhotoPointPx, halfPx: number): Light {
  let [red, green, blue] = [0, 0, 0];
  for (let i = 0; i < PATCH_SAMPLES; i++)
    for (let j = 0; j < PATCH_SAMPLES; j++) {
      linearAt(rgb, u + halfPx * sampleOffset(i), v + halfPx * sampleOffset(j), oneSample, 0);
      red += oneSample[0]!;
      green += oneSample[1]!;
      blue += oneSample[2]!;
    }
  return [meanLog(red), meanLog(green), meanLog(blue)];
}

/** Where the k-th sample lies in a patch that reaches from -1 to 1. */
function sampleOffset(k: number): number {
  return (2 * k) / (PATCH_SAMPLES - 1) - 1;
}

function meanLog(sum: number): number {
  return Math.log(sum / PATCH_SAMPLES ** 2 + DARK_FLOOR);
}

export function lightMinus(a: Light, b: Light): Light {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

export function meanLight(a: Light): number {
  return (a[0] + a[1] + a[2]) / 3;
}

/** The part of a difference that more or less light cannot make. */
export function colourPart(a: Light): Light {
  const mean = meanLight(a);
  return [a[0] - mean, a[1] - mean, a[2] - mean];
}
