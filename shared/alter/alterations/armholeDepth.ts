// The armhole opened or raised at the underarm: the underarm point slides along the side seam, the armhole is redrawn to it.
import { isBodice } from '../../pattern/kinds.ts';
import { type Alteration, allOf, nothingToAlter } from '../alteration.ts';
import { edgeNamed, type Place, placesIn } from '../kernel/find.ts';
import { type SlidingCorner, slid, slidingCorner, slidingGrasps } from '../kernel/slidingCorner.ts';
import { lengthWords } from '../words.ts';

export const armholeDepth: Alteration = {
  id: 'armhole-depth',
  title: 'Open or raise the armhole',
  sentence:
    'Moves the underarm point along the side seam, on front and back alike; the armhole is redrawn and the sides become shorter or longer.',
  params: [
    {
      name: 'byMm',
      unit: 'mm',
      default: null,
      min: -60,
      max: 80,
      sentence: 'How far the underarm point moves down the side seam; negative raises it.',
    },
  ],
  describe: (values, set) =>
    `Armholes ${values.amount('byMm') < 0 ? 'raised' : 'opened'} by ${lengthWords(set, Math.abs(values.amount('byMm')))} at the underarm.`,
  redraw: (set, values, scope) => {
    const changes = placesIn(set, scope, isBodice).flatMap((place) =>
      slid(place, underarmOf(place), values.amount('byMm')),
    );
    return changes.length === 0 ? nothingToAlter('bodice with a side seam that ends at an armhole') : allOf(changes);
  },
  grasps: (set, _, scope) =>
    placesIn(set, scope, isBodice).flatMap((place) => slidingGrasps(place, 'byMm', underarmOf(place))),
};

/** The side at the armhole. */
function underarmOf(place: Place): SlidingCorner | null {
  return slidingCorner(place, edgeNamed(place, 'side'), edgeNamed(place, 'armhole'));
}
