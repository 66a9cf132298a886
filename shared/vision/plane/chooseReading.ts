// Decides between readings of the same corners: which lens model the data supports, and which tilt. Decided by evidence
// (Laplace approximation: fit, minus what the extra freedom costs); what the evidence leaves open stays as a rival.
// MacKay, Information Theory, Inference, and Learning Algorithms, ch. 28.
import type { LensHypothesis } from './priors.ts';
import { type CoreFit, type CoreInput, refitCore, solveCore } from './solveCore.ts';

export interface ChosenReading {
  readonly best: CoreFit;
  readonly bestWeight: number;
  readonly rivals: readonly { readonly fit: CoreFit; readonly weight: number }[];
}

const CHOICE = {
  /** Rivals with less weight than this add nothing that a sigma could show. */
  smallestWeight: 0.01,
  /** The two-term lens needs this many bodies... */
  bodiesForTwoTerms: 3,
  /** ...or corners over this share of the half diagonal. Both: Sensors-style camera calibration practice, from memory. */
  spreadForTwoTerms: 0.6,
} as const;

/**
 * Null when the first body is degenerate. The first hypothesis finds the tilts; a later one with the same freedom is
 * always weighed against it, one with more lens terms only when the corners can tell two terms apart.
 */
export function chooseReading(
  input: Omit<CoreInput, 'hypothesis'>,
  hypotheses: readonly LensHypothesis[],
): ChosenReading | null {
  const first = hypotheses[0];
  if (first === undefined) return null;
  const fits = solveCore({ ...input, hypothesis: first });
  if (fits.length === 0) return null;
  const candidates = [...fits];
  for (const hypothesis of hypotheses.slice(1))
    if (hypothesis.lens === first.lens || supportsTwoTerms(input))
      candidates.push(...fits.map((fit) => refitCore({ ...input, hypothesis }, fit)));
  return weighed(candidates);
}

/** Whether the corners spread far enough over the picture to tell two lens terms apart. */
function supportsTwoTerms(input: Omit<CoreInput, 'hypothesis'>): boolean {
  return input.bodies.length >= CHOICE.bodiesForTwoTerms || cornerSpread(input) > CHOICE.spreadForTwoTerms;
}

/** Longest distance between corners across the picture, in half diagonals, halved: the radius that they span. */
function cornerSpread(input: Omit<CoreInput, 'hypothesis'>): number {
  let left = Number.POSITIVE_INFINITY;
  let right = Number.NEGATIVE_INFINITY;
  let top = Number.POSITIVE_INFINITY;
  let bottom = Number.NEGATIVE_INFINITY;
  for (const { seenPx } of input.bodies)
    for (let k = 0; k < seenPx.length; k += 2) {
      left = Math.min(left, seenPx[k]!);
      right = Math.max(right, seenPx[k]!);
      top = Math.min(top, seenPx[k + 1]!);
      bottom = Math.max(bottom, seenPx[k + 1]!);
    }
  return Math.hypot(right - left, bottom - top) / Math.hypot(input.widthPx, input.heightPx);
}

function weighed(fits: readonly CoreFit[]): ChosenReading {
  const sorted = fits.filter((fit) => Number.isFinite(fit.lnEvidence)).sort((a, b) => b.lnEvidence - a.lnEvidence);
  const best = sorted[0]!;
  const ratios = sorted.map((fit) => Math.exp(fit.lnEvidence - best.lnEvidence));
  const total = ratios.reduce((sum, r) => sum + r, 0);
  const rivals = sorted
    .map((fit, i) => ({ fit, weight: ratios[i]! / total }))
    .slice(1)
    .filter(({ weight }) => weight >= CHOICE.smallestWeight);
  return { best, bestWeight: 1 / total, rivals };
}
