// Asks of a measured outline whether the photo proves it: is there one sharp step, and could the paper as well end at another
// step beside it? Light and shade leave the colour of a surface alone, so a step that changes brightness only may be a
// shadow, while a change of colour is another material. What cannot be decided is not decided but called unsure.
import { type PhotoPointPx, type Point, type TablePointMm, tableMm } from '../../base/points.ts';
import { sub, unit } from '../../geometry/vector.ts';
import type { RgbImage } from '../image.ts';
import { colourPart, DARK_FLOOR, type Light, lightMinus, meanLight } from './lightAt.ts';
import { linearAt } from './profiles.ts';

export type EdgeDoubt = 'weak-edge' | 'shadow';

const PROOF = {
  /** Samples this far apart across the edge, to this many on either side. */
  stepMm: 0.5,
  reach: 14,
  /** Patches of this half-size (samples across, profiles along) are judged by their median: lines and weave vanish. */
  patchAcross: 1,
  patchAlong: 2,
  /** A step is taken between the patches this many samples to either side. */
  stepReach: 2,
  /** Every second outline point. */
  every: 2,
  /** The whole difference of both sides is taken this many samples away. */
  sideReach: 10,
} as const;

/** Natural logarithms of linear light, so a step of 0.1 is a tenth of the light. */
const LIMITS = {
  leastStep: 0.07,
  /** Share of the difference of both sides that the step must hold. */
  leastShare: 0.45,
  /** Another step counts when it has this share of the edge's own. */
  rivalOutside: 0.5,
  rivalInside: 0.4,
  leastRival: 0.1,
  /** Colour of one material in light and shade stays alike within this (root of three squared log ratios). */
  sameColour: 0.09,
  /** Shade takes away no more than this. */
  deepestShade: 1.2,
  /** Shorter runs are chance: a shadow's rim or a check that crosses the edge. */
  shortestRunMm: 7,
} as const;

const CHANNELS = 3;

/**
 * @param points closed outline, clockwise on the screen, about evenly spaced
 * @param skip 1 where the outline is not a measurement (covered, notch)
 * @returns for every point what is doubtful about it, or null
 */
export function edgeDoubts(
  rgb: RgbImage,
  points: readonly TablePointMm[],
  skip: Uint8Array,
  toPhoto: (point: TablePointMm) => PhotoPointPx,
): (EdgeDoubt | null)[] {
  const n = points.length;
  const doubts = new Array<EdgeDoubt | null>(n).fill(null);
  const chosen: number[] = [];
  for (let i = 0; i < n; i += PROOF.every) chosen.push(i);
  const samples = 2 * PROOF.reach + 1;
  const patches = patchMedians(sampled(rgb, points, chosen, toPhoto), chosen.length, samples);
  const judged = chosen.map((i, p) => (skip[i] === 1 ? null : judge(patches, p * samples)));
  const spacingMm = (PROOF.every * lengthMm(points)) / n;
  for (const { start, count } of longRuns(judged, LIMITS.shortestRunMm / spacingMm)) {
    for (let k = 0; k < count; k++) {
      const p = (start + k) % chosen.length;
      for (let j = 0; j < PROOF.every; j++) if (chosen[p]! + j < n) doubts[chosen[p]! + j] = judged[p]!;
    }
  }
  return doubts;
}

/** Log light along the normals of the chosen points, from outside to inside. */
function sampled(
  rgb: RgbImage,
  points: readonly TablePointMm[],
  chosen: readonly number[],
  toPhoto: (point: TablePointMm) => PhotoPointPx,
): Float32Array {
  const n = points.length;
  const samples = 2 * PROOF.reach + 1;
  const out = new Float32Array(chosen.length * samples * CHANNELS);
  const baseline = 3;
  chosen.forEach((i, p) => {
    const along = unit(sub(points[(i + baseline) % n]!, points[(i - baseline + n) % n]!));
    const inward: Point = [-along[1], along[0]];
    const at = points[i]!;
    const middle = toPhoto(at);
    const step = sub(toPhoto(tableMm(at[0] + inward[0] * PROOF.stepMm, at[1] + inward[1] * PROOF.stepMm)), middle);
    for (let k = -PROOF.reach; k <= PROOF.reach; k++) {
      const to = (p * samples + k + PROOF.reach) * CHANNELS;
      linearAt(rgb, middle[0] + k * step[0], middle[1] + k * step[1], out, to);
      for (let c = 0; c < CHANNELS; c++) out[to + c] = Math.log(out[to + c]! + DARK_FLOOR);
    }
  });
  return out;
}

function patchMedians(values: Float32Array, count: number, samples: number): Float32Array {
  const out = new Float32Array(values.length);
  const near = new Float32Array((2 * PROOF.patchAcross + 1) * (2 * PROOF.patchAlong + 1));
  for (let p = 0; p < count; p++) {
    for (let k = 0; k < samples; k++) {
      for (let c = 0; c < CHANNELS; c++) {
        let n = 0;
        for (let dp = -PROOF.patchAlong; dp <= PROOF.patchAlong; dp++) {
          const row = (p + dp + count) % count;
          for (let dk = -PROOF.patchAcross; dk <= PROOF.patchAcross; dk++) {
            const column = Math.min(Math.max(k + dk, 0), samples - 1);
            near[n++] = values[(row * samples + column) * CHANNELS + c]!;
          }
        }
        out[(p * samples + k) * CHANNELS + c] = near.sort()[n >> 1]!;
      }
    }
  }
  return out;
}

/** What is doubtful about one profile of patches that starts at `row`. */
function judge(patches: Float32Array, row: number): EdgeDoubt | null {
  const light = (k: number): Light => {
    const at = (row + k + PROOF.reach) * CHANNELS;
    return [patches[at]!, patches[at + 1]!, patches[at + 2]!];
  };
  const stepAt = (k: number): Light => lightMinus(light(k + PROOF.stepReach), light(k - PROOF.stepReach));
  const own = stepAt(0);
  const size = Math.hypot(...own);
  if (size < LIMITS.leastStep) return 'weak-edge';
  const sides = lightMinus(light(PROOF.sideReach), light(-PROOF.sideReach));
  const whole = Math.hypot(...sides);
  const paper = light(PROOF.stepReach);
  const table = light(-PROOF.stepReach);
  const neutral = Math.hypot(...colourPart(own)) < LIMITS.sameColour;
  const furthest = PROOF.reach - PROOF.stepReach - 1;
  for (let k = PROOF.stepReach + 1; k <= furthest; k++) {
    const outer = Math.hypot(...stepAt(-k));
    if (outer > Math.max(LIMITS.rivalOutside * size, LIMITS.leastRival) && couldBe(table, paper)) {
      return neutral ? 'shadow' : 'weak-edge';
    }
    const inner = Math.hypot(...stepAt(k));
    if (inner < LIMITS.leastRival) continue;
    const beyond = light(Math.min(k + PROOF.stepReach, PROOF.reach));
    // what lies between the edge and the step is paper only when it can be the same paper, more or less lit
    if (!couldBe(paper, beyond)) return 'weak-edge';
    if (inner > LIMITS.rivalInside * size && neutral && couldBe(table, beyond)) return 'shadow';
  }
  const share = whole > 0 ? dotted(own, sides) / (whole * whole) : 1;
  return share < LIMITS.leastShare && couldBe(table, paper) ? 'weak-edge' : null;
}

/** True when one place can be the same material as another, more or less lit. */
function couldBe(a: Light, b: Light): boolean {
  const difference = lightMinus(a, b);
  return (
    Math.hypot(...colourPart(difference)) < LIMITS.sameColour && Math.abs(meanLight(difference)) < LIMITS.deepestShade
  );
}

function dotted(a: Light, b: Light): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/** Runs of doubt around the closed outline with at least `shortest` entries. */
function longRuns(doubts: readonly (EdgeDoubt | null)[], shortest: number): { start: number; count: number }[] {
  const n = doubts.length;
  const free = doubts.indexOf(null);
  if (free < 0) return [{ start: 0, count: n }];
  const runs: { start: number; count: number }[] = [];
  for (let k = 0; k < n; k++) {
    const start = (free + k) % n;
    if (doubts[start] === null) continue;
    let count = 1;
    while (doubts[(start + count) % n] !== null) count++;
    if (count >= shortest) runs.push({ start, count });
    k += count - 1;
  }
  return runs;
}

function lengthMm(points: readonly TablePointMm[]): number {
  let sum = 0;
  points.forEach((point, i) => {
    const next = points[(i + 1) % points.length]!;
    sum += Math.hypot(next[0] - point[0], next[1] - point[1]);
  });
  return sum;
}
