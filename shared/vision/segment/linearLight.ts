// sRGB code values to linear light (IEC 61966-2-1). Edges blurred by a lens are symmetric in linear light only: measured
// on code values a light area grows, measured on linear light it does not.

const CODE_VALUES = 256;
const FULL_CODE = 255;
const LINEAR_TOE_CODE = 0.04045;
const TOE_SLOPE = 12.92;
const OFFSET = 0.055;
const EXPONENT = 2.4;

/** Linear light 0-1 of every sRGB code value. */
export const LINEAR_FROM_SRGB: Float32Array = Float32Array.from({ length: CODE_VALUES }, (_, code) => {
  const value = code / FULL_CODE;
  return value <= LINEAR_TOE_CODE ? value / TOE_SLOPE : ((value + OFFSET) / (1 + OFFSET)) ** EXPONENT;
});

/** Luminance weights of linear R, G, B (ITU-R BT.709). */
export const LUMINANCE_WEIGHTS = [0.2126, 0.7152, 0.0722] as const;
