// Smooths the border between paper and table where single pixels cannot tell them apart: threshold dynamics (Merriman,
// Bence & Osher 1992; with a data term Esedoglu & Tsai 2006). The fainter the difference, the wider the neighbourhood
// that has to agree; a clear border is left as it is.
import { boxSum, type PaperField } from './localSplit.ts';

const ROUNDS = 4;
/** Share of the pixels' own evidence against the smooth shape of the round before. */
const DATA_SHARE = 0.6;
/** A pixel that is this many standard deviations from the other side needs no neighbours. */
const CLEAR_SEPARATION = 6;
const MAX_RADIUS_MM = 3.5;

/** The field with specks and ragged borders evened; the border is where the result crosses one half. */
export function calmField(field: PaperField, mmPerPx: number): Float32Array {
  const { width, height } = field;
  const own = field.data.map((value) => Math.min(Math.max(value, 0), 1));
  const separation = medianSeparation(field);
  const radiusMm = Math.min(Math.max(CLEAR_SEPARATION / separation - 1, 0), MAX_RADIUS_MM);
  const radius = Math.round(radiusMm / mmPerPx);
  if (radius === 0) return blurred(own, width, height, 1, 1);
  let shape: Float32Array = own;
  for (let round = 0; round < ROUNDS; round++) {
    const mixed = own.map((value, i) => DATA_SHARE * value + (1 - DATA_SHARE) * (shape[i]! > 0.5 ? 1 : 0));
    shape = blurred(mixed, width, height, radius, 2);
  }
  return shape;
}

function blurred(values: Float32Array, width: number, height: number, radius: number, times: number): Float32Array {
  const area = (2 * radius + 1) ** 2;
  let out = values;
  for (let k = 0; k < times; k++) out = boxSum(out, width, height, radius).map((sum) => sum / area);
  return out;
}

function medianSeparation(field: PaperField): number {
  const values: number[] = [];
  for (let i = 0; i < field.separation.length; i += 7) if (field.separation[i]! > 0) values.push(field.separation[i]!);
  values.sort((a, b) => a - b);
  return values[values.length >> 1] ?? CLEAR_SEPARATION;
}
