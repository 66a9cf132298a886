// The ease of a cap spread over its front and its back: the cap is redrawn longer or shorter over the top, the underarm stays.
import { capSections } from '../../pattern/capSections.ts';
import { bodySide } from '../../pattern/kinds.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import { redrawCapInSizes } from '../kernel/capInSizes.ts';
import { type RemedyAction, SEAM, SIZE } from '../remedy.ts';
import { lengthWords, seamWords } from '../words.ts';

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
    `Cap redrawn in the seam ${seamWords(set, values.name('seam'))}: ${lengthWords(set, values.amount('frontMm'))} front, ${lengthWords(set, values.amount('backMm'))} back.`,
  redraw: (set, values) =>
    redrawCapInSizes(set, values.name('seam'), values.name('size'), (walk) =>
      sectionChanges(walk, values.amount('frontMm'), values.amount('backMm')),
    ),
};

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
