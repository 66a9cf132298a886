// The ease of a cap spread over its front and its back: the cap is redrawn longer or shorter over the top, the underarm stays.
import { fail, ok, type Result } from '../../base/result.ts';
import { capSections } from '../../pattern/capSections.ts';
import { bodySide } from '../../pattern/kinds.ts';
import type { PatternSet } from '../../pattern/model.ts';
import { type SeamWalk, walkSeam } from '../../pattern/walk.ts';
import { redrawCap } from '../kernel/cap.ts';
import { EXACT } from '../kernel/corners.ts';
import type { ChangedShape } from '../record.ts';
import { type RemedyAction, SEAM, SIZE } from '../remedy.ts';
import { lengthWords } from '../words.ts';

export const spreadCap: RemedyAction = {
  id: 'spread-cap',
  grade: 'choice',
  title: 'Spread the cap, or take ease out of it',
  params: [
    { name: 'frontMm', unit: 'mm', default: null, min: -80, max: 80, sentence: 'Added to the front half of the cap.' },
    { name: 'backMm', unit: 'mm', default: null, min: -80, max: 80, sentence: 'Added to the back half of the cap.' },
    SEAM,
    SIZE,
  ],
  sentence: (values, set) =>
    `Cap redrawn in the seam ${values.name('seam')}: ${lengthWords(set, values.amount('frontMm'))} front, ${lengthWords(set, values.amount('backMm'))} back.`,
  redraw: (set, values) =>
    spread(set, values.name('seam'), values.name('size'), values.amount('frontMm'), values.amount('backMm')),
};

function spread(
  set: PatternSet,
  seamId: string,
  size: string,
  frontMm: number,
  backMm: number,
): Result<readonly ChangedShape[]> {
  const seam = set.seams.find(({ id }) => id === seamId);
  if (seam === undefined) return fail('no-seam', `The set has no seam "${seamId}".`);
  const changes: ChangedShape[] = [];
  for (const name of size === '' ? set.sizes : [size]) {
    const walk = walkSeam(set, seam, name, EXACT);
    if (!walk.ok) continue;
    if (walk.value.sorted.sort !== 'cap')
      return fail('no-cap', `The seam "${seam.name}" sets no sleeve into an armhole.`);
    const changed = redrawCap(set, walk.value, sectionChanges(walk.value, frontMm, backMm));
    if (!changed.ok) return changed;
    changes.push(...changed.value);
  }
  if (changes.length === 0) return fail('no-walk', `The seam "${seam.name}" was not traced on both sides.`);
  return ok(changes);
}

/** Each half's amount over its sections above the underarm, by their length. */
function sectionChanges(walk: SeamWalk, frontMm: number, backMm: number): readonly number[] {
  const parts = capSections(walk);
  const armhole = walk.sides[walk.sorted.fuller === 1 ? 0 : 1];
  const firstIsBack = bodySide(armhole.spans[0]!.piece) === 'back';
  const amountOf = (half: 'first' | 'second') => ((half === 'first') === firstIsBack ? backMm : frontMm);
  const lengthOf = (i: number) => walk.sections[i]!.lengths[walk.sorted.fuller].valueMm;
  if (parts.length === 0) return [frontMm + backMm];
  return parts.map((part) => {
    if (part.part === 'underarm') return 0;
    const peers = parts.filter((peer) => peer.half === part.half && peer.part === 'over');
    const totalMm = peers.reduce((sum, peer) => sum + lengthOf(peer.index), 0);
    return (amountOf(part.half) * lengthOf(part.index)) / totalMm;
  });
}
