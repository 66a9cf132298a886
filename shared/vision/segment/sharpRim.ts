// How sharply an area ends: paper stops in one step, a reflection or a change of light fades, and a border drawn through
// the middle of one surface shows no step at all.
import type { Point } from '../../base/points.ts';
import type { PaperField } from './localSplit.ts';

export interface RimSharpness {
  /** Share of the contour where the change from table to paper happens within +-STEP_NEAR_MM, 0-1. */
  readonly sharpRatio: number;
  /** Longest stretch that is mostly not sharp. */
  readonly longestSoftMm: number;
  /** 1 for the points of the contour without a sharp step. */
  readonly soft: Uint8Array;
}

const STEP_NEAR_MM = 1.5;
const SHARP_STEP = 0.6;
/** Two parts of one surface differ by less than this many standard deviations of a pixel. */
const MIN_SEPARATION = 1.2;
/** A single sharp point takes this many soft ones off the running stretch. */
const SOFT_FORGIVEN = 3;

/** Judges every point of the contour that nothing covers. */
export function rimSharpness(
  field: PaperField,
  contour: readonly Point[],
  blocked: Uint8Array,
  mmPerPx: number,
): RimSharpness {
  const reach = STEP_NEAR_MM / mmPerPx;
  const n = contour.length;
  const turnReach = Math.max(2, Math.round(2 / mmPerPx));
  let free = 0;
  let sharp = 0;
  let soft = 0;
  let longest = 0;
  const softPoints = new Uint8Array(n);
  for (let i = 0; i < n; i++) {
    if (blocked[i] === 1) continue;
    const before = contour[(i - turnReach + n) % n]!;
    const after = contour[(i + turnReach) % n]!;
    const length = Math.hypot(after[0] - before[0], after[1] - before[1]);
    if (length === 0) continue;
    // clockwise on the screen: the inside lies to the right of travel
    const nx = -(after[1] - before[1]) / length;
    const ny = (after[0] - before[0]) / length;
    free++;
    const [x, y] = contour[i]!;
    const inner = fieldAt(field, x + nx * reach, y + ny * reach);
    const outer = fieldAt(field, x - nx * reach, y - ny * reach);
    if (inner - outer > SHARP_STEP && separationAt(field, x, y) > MIN_SEPARATION) {
      sharp++;
      soft = Math.max(0, soft - SOFT_FORGIVEN);
    } else {
      soft++;
      softPoints[i] = 1;
      longest = Math.max(longest, soft);
    }
  }
  return { sharpRatio: free === 0 ? 0 : sharp / free, longestSoftMm: longest * mmPerPx, soft: softPoints };
}

function separationAt(field: PaperField, x: number, y: number): number {
  const xx = Math.min(Math.max(Math.round(x), 0), field.width - 1);
  const yy = Math.min(Math.max(Math.round(y), 0), field.height - 1);
  return field.separation[yy * field.width + xx]!;
}

function fieldAt(field: PaperField, x: number, y: number): number {
  const xx = Math.round(x);
  const yy = Math.round(y);
  if (xx < 0 || yy < 0 || xx >= field.width || yy >= field.height) return 0;
  return field.data[yy * field.width + xx]!;
}
