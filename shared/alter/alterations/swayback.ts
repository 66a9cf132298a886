// A hollow back: the centre back made shorter at the waist, the waist redrawn from the side, which stays as it is.
import { bodySide, isBodice } from '../../pattern/kinds.ts';
import { type Alteration, allOf, nothingToAlter } from '../alteration.ts';
import { centreEdge, edgeNamed, type Place, placesIn } from '../kernel/find.ts';
import { type SlidingCorner, slid, slidingCorner, slidingGrasps } from '../kernel/slidingCorner.ts';
import { lengthWords } from '../words.ts';

export const swayback: Alteration = {
  id: 'swayback',
  title: 'Shorten the centre back (swayback)',
  sentence:
    'Takes length out of the centre back at the waist; the waist is redrawn to the side, which keeps its length.',
  params: [
    {
      name: 'byMm',
      unit: 'mm',
      default: null,
      min: -30,
      max: 40,
      sentence: 'How much shorter the centre back becomes; negative lengthens it.',
    },
  ],
  describe: (values, set) => `Centre back shortened by ${lengthWords(set, values.amount('byMm'))} at the waist.`,
  redraw: (set, values, scope) => {
    const changes = placesIn(set, scope, isBodice).flatMap((place) =>
      slid(place, backWaistOf(place), values.amount('byMm')),
    );
    return changes.length === 0
      ? nothingToAlter('back bodice with a waist that meets its centre back')
      : allOf(changes);
  },
  grasps: (set, _, scope) =>
    placesIn(set, scope, isBodice).flatMap((place) => slidingGrasps(place, 'byMm', backWaistOf(place))),
};

/** The centre back at the waist. */
function backWaistOf(place: Place): SlidingCorner | null {
  if (bodySide(place.piece) !== 'back') return null;
  return slidingCorner(place, centreEdge(place), edgeNamed(place, 'waist'));
}
