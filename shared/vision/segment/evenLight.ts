// Takes the slow change of light over the table out of the block lightness: lamp to one side, dark picture corners. Learnt
// from what looks like table, with the cards' white as a second witness; a surface of second order, fitted robustly.
import { solveLinear } from '../../geometry/solveLinear.ts';
import type { BlockGrid } from './blockGrid.ts';
import { type Mode, shadedDistance } from './mixture.ts';
import { FEATURES } from './quietWindows.ts';

const TERMS = 6;
const ROUNDS = 4;
/** Blocks further from the table's look than this do not vote. */
const TABLE_DISTANCE = 12;
/** Residual at which a block's vote is halved: a shadow is no slow change. */
const SOFT_RESIDUAL = 0.06;
const STEP = 3;

/**
 * Subtracts the fitted surface from feature 0 (lightness) of all usable blocks and from grid lightness, in place on copies.
 * @returns null when too little table is seen
 */
export function evenedLight(
  grid: BlockGrid,
  features: Float32Array,
  table: readonly Mode[],
): { readonly grid: BlockGrid; readonly features: Float32Array } | null {
  const { width, height } = grid;
  const lightnessOf = surfaceLightness(table);
  const rows: number[] = [];
  const target: number[] = [];
  for (let y = 0; y < height; y += STEP) {
    for (let x = 0; x < width; x += STEP) {
      const i = y * width + x;
      if (grid.usable[i] === 0 || shadedDistance(table, features, i) > TABLE_DISTANCE) continue;
      rows.push(i);
      target.push(features[i * FEATURES]! - lightnessOf(features, i));
    }
  }
  if (rows.length < 20 * TERMS) return null;
  const terms = (i: number): number[] => {
    const x = ((i % width) / width) * 2 - 1;
    const y = (Math.floor(i / width) / height) * 2 - 1;
    return [1, x, y, x * x, x * y, y * y];
  };
  let surface: readonly number[] = new Array<number>(TERMS).fill(0);
  for (let round = 0; round < ROUNDS; round++) {
    const normal = Array.from({ length: TERMS }, () => new Array<number>(TERMS).fill(0));
    const right = new Array<number>(TERMS).fill(0);
    rows.forEach((row, k) => {
      const t = terms(row);
      const residual = target[k]! - dotted(surface, t);
      const weight = round === 0 ? 1 : 1 / (1 + (residual / SOFT_RESIDUAL) ** 2);
      for (let a = 0; a < TERMS; a++) {
        right[a]! += weight * t[a]! * target[k]!;
        for (let b = 0; b < TERMS; b++) normal[a]![b]! += weight * t[a]! * t[b]!;
      }
    });
    for (let a = 0; a < TERMS; a++) normal[a]![a]! += 1;
    const next = solveLinear(normal, right);
    if (next === null) return null;
    surface = next;
  }
  const evened = features.slice();
  const lightness = grid.lightness.slice();
  for (let i = 0; i < lightness.length; i++) {
    const shift = dotted(surface, terms(i));
    lightness[i]! -= shift;
    if (grid.usable[i] === 1) evened[i * FEATURES]! -= shift;
  }
  return { grid: { ...grid, lightness }, features: evened };
}

/**
 * Lightness of the surface a block belongs to: of the mode that fits best in everything but lightness, averaged with modes
 * that differ from it in little but lightness (one surface, lit and less lit).
 */
function surfaceLightness(table: readonly Mode[]): (features: Float32Array, row: number) => number {
  const shared = table.map((mode) => {
    let weight = 0;
    let sum = 0;
    for (const other of table) {
      if (unlikeness(other.mean, 0, mode.mean) > SAME_SURFACE) continue;
      weight += other.weight;
      sum += other.weight * other.mean[0]!;
    }
    return sum / weight;
  });
  return (features, row) => {
    let best = 0;
    let bestUnlikeness = Number.POSITIVE_INFINITY;
    for (let k = 0; k < table.length; k++) {
      const value = unlikeness(features, row * FEATURES, table[k]!.mean);
      if (value < bestUnlikeness) {
        bestUnlikeness = value;
        best = k;
      }
    }
    return shared[best]!;
  };
}

function unlikeness(values: ArrayLike<number>, from: number, mean: ArrayLike<number>): number {
  let sum = 0;
  for (let f = 0; f < FEATURES; f++) sum += ((values[from + f]! - mean[f]!) / SCALE[f]!) ** 2;
  return sum;
}

/** Two modes this alike are one surface. */
const SAME_SURFACE = 3;
/** Lightness counts little: it is what may be wrong. */
const SCALE = [0.4, 0.03, 0.04, 0.3, 0.4, 0.4] as const;

function dotted(a: readonly number[], b: readonly number[]): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}
