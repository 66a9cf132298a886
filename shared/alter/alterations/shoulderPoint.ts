// The shoulder made narrower or wider: its outer point slides along the shoulder seam, the armhole is redrawn to it.
import { isBodice } from '../../pattern/kinds.ts';
import { type Alteration, allOf, nothingToAlter } from '../alteration.ts';
import { edgeNamed, type Place, placesIn } from '../kernel/find.ts';
import { type SlidingCorner, slid, slidingCorner, slidingGrasps } from '../kernel/slidingCorner.ts';
import { lengthWords } from '../words.ts';

export const shoulderPoint: Alteration = {
  id: 'shoulder-point',
  title: 'Move the shoulder point in or out',
  sentence: 'Shortens or lengthens both shoulder seams at the armhole; the upper armhole is redrawn.',
  params: [
    {
      name: 'byMm',
      unit: 'mm',
      default: null,
      min: -40,
      max: 60,
      sentence: 'How far the shoulder point moves toward the neck; negative moves it out.',
    },
  ],
  describe: (values, set) =>
    `Shoulder point moved ${values.amount('byMm') < 0 ? 'out' : 'in'} by ${lengthWords(set, Math.abs(values.amount('byMm')))}.`,
  redraw: (set, values, scope) => {
    const changes = placesIn(set, scope, isBodice).flatMap((place) => slid(place, tipOf(place), values.amount('byMm')));
    return changes.length === 0 ? nothingToAlter('bodice with a shoulder that ends at an armhole') : allOf(changes);
  },
  grasps: (set, _, scope) =>
    placesIn(set, scope, isBodice).flatMap((place) => slidingGrasps(place, 'byMm', tipOf(place))),
};

/** The shoulder at the armhole. */
function tipOf(place: Place): SlidingCorner | null {
  return slidingCorner(place, edgeNamed(place, 'shoulder'), edgeNamed(place, 'armhole'));
}
