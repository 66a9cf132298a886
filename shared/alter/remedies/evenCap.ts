// The whole cap redrawn to a wanted ease: none below the notches, the rest over the top, a little more behind than in front.
import { capSections } from '../../pattern/capSections.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import { overShares } from '../carryThrough.ts';
import { redrawCapInSizes } from '../kernel/capInSizes.ts';
import { type RemedyAction, SEAM, SIZE } from '../remedy.ts';
import { lengthWords, seamWords } from '../words.ts';

export const evenCap: RemedyAction = {
  id: 'even-cap',
  grade: 'choice',
  title: 'Redraw the cap to a wanted ease',
  params: [
    {
      name: 'easeMm',
      unit: 'mm',
      default: null,
      min: -40,
      max: 120,
      sentence: 'Cap ease in all; none of it lies below the notches.',
    },
    SEAM,
    SIZE,
  ],
  sentence: (values, set) =>
    `Cap redrawn in the seam ${seamWords(set, values.name('seam'))}: ${lengthWords(set, values.amount('easeMm'))} of ease over the top, none below the notches.`,
  redraw: (set, values) =>
    redrawCapInSizes(set, values.name('seam'), values.name('size'), (walk) => changesTo(walk, values.amount('easeMm'))),
};

/** What each section of the cap lacks. */
function changesTo(walk: SeamWalk, easeMm: number): readonly number[] {
  const sign = walk.sorted.fuller === 1 ? 1 : -1;
  const isMm = walk.sections.map((section) => sign * section.difference.valueMm);
  if (capSections(walk).length === 0) return isMm.map((mm) => easeMm / isMm.length - mm);
  const shares = overShares(walk);
  return isMm.map((mm, i) => easeMm * shares[i]! - mm);
}
