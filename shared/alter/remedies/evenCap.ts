// The whole cap redrawn to a wanted ease: none below the notches, the rest over the top, a little more behind than in front.
import { fail, ok } from '../../base/result.ts';
import { capSections } from '../../pattern/capSections.ts';
import { type SeamWalk, walkSeam } from '../../pattern/walk.ts';
import { overShares } from '../carryThrough.ts';
import { redrawCap } from '../kernel/cap.ts';
import { EXACT } from '../kernel/corners.ts';
import type { ChangedShape } from '../record.ts';
import { type RemedyAction, SEAM, SIZE } from '../remedy.ts';
import { lengthWords } from '../words.ts';

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
    `Cap redrawn in the seam ${values.name('seam')}: ${lengthWords(set, values.amount('easeMm'))} of ease over the top, none below the notches.`,
  redraw: (set, values) => {
    const seam = set.seams.find(({ id }) => id === values.name('seam'));
    if (seam === undefined) return fail('no-seam', `The set has no seam "${values.name('seam')}".`);
    const size = values.name('size');
    const changes: ChangedShape[] = [];
    for (const name of size === '' ? set.sizes : [size]) {
      const walk = walkSeam(set, seam, name, EXACT);
      if (!walk.ok) continue;
      if (walk.value.sorted.sort !== 'cap')
        return fail('no-cap', `The seam "${seam.name}" sets no sleeve into an armhole.`);
      const changed = redrawCap(set, walk.value, changesTo(walk.value, values.amount('easeMm')));
      if (!changed.ok) return changed;
      changes.push(...changed.value);
    }
    if (changes.length === 0) return fail('no-walk', `The seam "${seam.name}" was not traced on both sides.`);
    return ok(changes);
  },
};

/** What each section of the cap lacks. */
function changesTo(walk: SeamWalk, easeMm: number): readonly number[] {
  const sign = walk.sorted.fuller === 1 ? 1 : -1;
  const isMm = walk.sections.map((section) => sign * section.difference.valueMm);
  if (capSections(walk).length === 0) return isMm.map((mm) => easeMm / isMm.length - mm);
  const shares = overShares(walk);
  return isMm.map((mm, i) => easeMm * shares[i]! - mm);
}
