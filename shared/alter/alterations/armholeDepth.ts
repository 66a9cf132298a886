// The armhole opened or raised at the underarm: the underarm point slides along the side seam, the armhole is redrawn to it.
import { ok, type Result } from '../../base/result.ts';
import { isBodice } from '../../pattern/kinds.ts';
import type { Edge } from '../../pattern/model.ts';
import { type Alteration, allOf, nothingToAlter } from '../alteration.ts';
import { endGrasp } from '../grasp.ts';
import { meeting, slideCorner } from '../kernel/corners.ts';
import type { End } from '../kernel/ends.ts';
import { edgeNamed, type Place, placesIn } from '../kernel/find.ts';
import type { ChangedShape } from '../record.ts';
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
    const changes = placesIn(set, scope, isBodice).flatMap((place) => {
      const changed = opened(place, values.amount('byMm'));
      return changed === null ? [] : [changed];
    });
    return changes.length === 0 ? nothingToAlter('bodice with a side seam that ends at an armhole') : allOf(changes);
  },
  grasps: (set, _, scope) =>
    placesIn(set, scope, isBodice).flatMap((place) => {
      const found = underarmOf(place);
      return found === null ? [] : endGrasp(place, 'byMm', found.side, found.top);
    }),
};

interface Underarm {
  readonly armhole: Edge;
  readonly side: Edge;
  /** The end of the side at the armhole. */
  readonly top: End;
}

function underarmOf(place: Place): Underarm | null {
  const armhole = edgeNamed(place, 'armhole');
  const side = edgeNamed(place, 'side');
  if (armhole === null || side === null) return null;
  const met = meeting(place.shape, side.id, armhole.id);
  return met && { armhole, side, top: met.endA };
}

function opened(place: Place, byMm: number): Result<ChangedShape> | null {
  const found = underarmOf(place);
  if (found === null) return null;
  const slid = slideCorner(place.shape, found.side.id, found.armhole.id, byMm);
  return slid.ok ? ok({ piece: place.piece.id, size: place.size, ...slid.value }) : slid;
}
