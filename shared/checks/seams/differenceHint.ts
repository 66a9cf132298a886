// A difference that equals something well known has probably come from there: one pleat not traced, one dart not closed, or
// one grade step, because the tracing wheel slipped to the next size's line.
import { DRAWN_TO } from '../../limits/grading.ts';
import { GRADE_STEPS_MM } from '../../limits/seamEase.ts';
import { closuresOn } from '../../pattern/darts.ts';
import { normalLabel } from '../../pattern/kinds.ts';
import type { Length } from '../../pattern/measure.ts';
import type { Size } from '../../pattern/model.ts';
import { type WalkedSide, walkSide } from '../../pattern/spans.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import type { CheckContext } from '../context.ts';
import type { Remedy } from '../finding.ts';
import { expanded } from '../verdict.ts';
import type { Words } from '../words.ts';

export interface DifferenceHint {
  readonly kind: 'pleat' | 'dart' | 'grade-step';
  readonly amountMm: number;
  readonly sentence: (say: Words) => string;
  /** What to do when the guess is right; it comes before changing a length. */
  readonly remedy: (say: Words) => string;
}

/** The remedies of a difference with the one that the hint suggests first. */
export function withHint(hint: DifferenceHint | null, remedies: readonly Remedy[], say: Words): readonly Remedy[] {
  return hint === null ? remedies : [{ grade: 'choice', sentence: hint.remedy(say) }, ...remedies];
}

export function differenceHint(walk: SeamWalk, difference: Length, context: CheckContext): DifferenceHint | null {
  const gapMm = Math.abs(difference.valueMm);
  const slackMm = expanded(difference.sigmaMm) + DRAWN_TO.valueMm;
  const longer = walk.sides[difference.valueMm > 0 ? 1 : 0];
  const mouth = mouthLike(longer, gapMm, slackMm);
  if (mouth !== null) return mouth;
  const stepMm = gradeSteps(walk, context)
    .filter((step) => step > DRAWN_TO.valueMm && Math.abs(step - gapMm) <= slackMm)
    .toSorted((a, b) => Math.abs(a - gapMm) - Math.abs(b - gapMm))[0];
  if (stepMm === undefined) return null;
  return {
    kind: 'grade-step',
    amountMm: stepMm,
    sentence: (say) => `${say.length(stepMm)} is one grade step: did you follow the next size's line?`,
    remedy: () => 'Lay both edges back on the sheet, and trace again the one that left its line.',
  };
}

function mouthLike(side: WalkedSide, gapMm: number, slackMm: number): DifferenceHint | null {
  for (const { shape, span, piece } of side.spans) {
    for (const { kind, fromMm, toMm } of closuresOn(shape, span.edge)) {
      if (Math.abs(toMm - fromMm - gapMm) > slackMm) continue;
      const amountMm = toMm - fromMm;
      return {
        kind,
        amountMm,
        sentence: (say) => `The gap of ${say.length(gapMm)} equals one ${kind}: was one ${kind} not traced?`,
        remedy: (say) => `Mark the ${kind} of ${say.length(amountMm)} that is missing on ${piece.name}.`,
      };
    }
  }
  return null;
}

/** Steps of this very edge where the neighbouring sizes are known, otherwise the usual steps of a quarter of a girth. */
function gradeSteps(walk: SeamWalk, context: CheckContext): readonly number[] {
  const measured = walk.sides.flatMap((side, which) => stepsOf(walk, side, which as 0 | 1, context));
  if (measured.length > 0) return measured;
  const isAcross = walk.sides.every((side) => side.spans.every((s) => ACROSS.includes(normalLabel(s.seam.edge.label))));
  return isAcross && context.set.sizes.length > 1 ? GRADE_STEPS_MM.map((step) => step.valueMm) : [];
}

/** Edges that run across the body and so grow by a quarter of the girth's step. */
const ACROSS: readonly string[] = ['waist', 'hem', 'bust', 'hip'];

function stepsOf(walk: SeamWalk, side: WalkedSide, which: 0 | 1, context: CheckContext): number[] {
  const { sizes } = context.set;
  const at = sizes.indexOf(walk.size);
  const others: Size[] = [sizes[at - 1], sizes[at + 1]].filter((size) => size !== undefined);
  return others.flatMap((size) => {
    const other = walkSide(context.setIn(size), walk.seam.sides[which], size, context.measuring);
    if (at < 0 || !other.ok) return [];
    return side.spans.map((s, i) => Math.abs((other.value.spans[i]?.length.valueMm ?? 0) - s.length.valueMm));
  });
}
