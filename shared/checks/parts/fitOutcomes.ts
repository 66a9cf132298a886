// What the rules of fit have in common once their subject is known: nobody to compare with, a measure that could not be
// taken, the measure beside its limit, and whether an opening lets the body through.
import type { FinishedMeasure, FitProblem, Opening } from '../../fit/finishedMeasure.ts';
import { KNIT_STRETCH } from '../../limits/bodyFit.ts';
import type { CheckContext } from '../context.ts';
import type { Outcome } from '../rule.ts';
import { judgeInterval } from '../verdict.ts';
import { type BodyFit, linesOf, piecesOf, problemWords } from './bodyFits.ts';

export function noBody<D>(data: D): Outcome<D> {
  return { verdict: 'not-applicable', key: 'noBody', data, subjects: [] };
}

/** @param data of the rule; why the measure could not be taken is filled in. */
export function notTaken<D extends { readonly problem: string; readonly size: string }>(
  data: D,
  problem: FitProblem,
): Outcome<D> {
  return {
    verdict: 'not-applicable',
    key: 'notTaken',
    data: { ...data, problem: problemWords(problem) },
    subjects: [{ size: data.size }],
  };
}

/** Where a measure was taken, and what is compared with what. */
export function compared(
  taken: FinishedMeasure,
  fit: BodyFit,
  measured: { readonly valueMm: number; readonly sigmaMm: number },
  limit: { readonly valueMm: number; readonly source: string },
) {
  return {
    subjects: piecesOf(taken, fit),
    measured: { value: measured.valueMm, sigma: measured.sigmaMm, unit: 'mm' },
    limit: { value: limit.valueMm, unit: 'mm', source: limit.source },
    overlay: linesOf(taken),
  } as const;
}

/** The part of an outcome that an opening decides; null when the body surely does not pass. */
export function letsThrough({ passes, slitMm, isSaid }: Opening, bodyMm: number, { set }: CheckContext) {
  const decision = judgeInterval(passes.valueMm, passes.sigmaMm, bodyMm, Number.POSITIVE_INFINITY);
  if (decision === 'clear') return { verdict: 'clear', key: 'clear' } as const;
  const isKnit = set.preset.cloth === 'knit';
  if (isKnit && passes.valueMm * KNIT_STRETCH.ratio >= bodyMm) return { verdict: 'clear', key: 'stretches' } as const;
  if (decision === 'unsure') return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse' } as const;
  if (!isSaid && slitMm === null) return { verdict: 'unsure', reason: 'not-said', key: 'openingNotSaid' } as const;
  return null;
}

/** How an opening is undone, for the middle of a sentence. */
export function slitWords(slitMm: number | null, closedMm: number, length: (mm: number) => string): string {
  return slitMm === null ? '' : ` undone (${length(closedMm)} closed, ${length(slitMm)} of opening)`;
}
