// The cap of a seam named by a person, redrawn in one size or in all of them.
import { fail, ok, type Result } from '../../base/result.ts';
import type { PatternSet } from '../../pattern/model.ts';
import { type SeamWalk, walkSeam } from '../../pattern/walk.ts';
import type { ChangedShape } from '../record.ts';
import { redrawCap, type SectionChanges } from './cap.ts';
import { EXACT } from './corners.ts';

/**
 * @param size '' = every size in which both sides were traced
 * @param changesOf how much longer each section of the cap becomes
 */
export function redrawCapInSizes(
  set: PatternSet,
  seamId: string,
  size: string,
  changesOf: (walk: SeamWalk) => SectionChanges,
): Result<readonly ChangedShape[]> {
  const seam = set.seams.find(({ id }) => id === seamId);
  if (seam === undefined) return fail('no-seam', `The set has no seam "${seamId}".`);
  const changes: ChangedShape[] = [];
  for (const name of size === '' ? set.sizes : [size]) {
    const walk = walkSeam(set, seam, name, EXACT);
    if (!walk.ok) continue;
    if (walk.value.sorted.sort !== 'cap')
      return fail('no-cap', `The seam "${seam.name}" sets no sleeve into an armhole.`);
    const changed = redrawCap(set, walk.value, changesOf(walk.value));
    if (!changed.ok) return changed;
    changes.push(...changed.value);
  }
  if (changes.length === 0) return fail('no-walk', `The seam "${seam.name}" was not traced on both sides.`);
  return ok(changes);
}
