// A hollow back: the centre back made shorter at the waist, the waist redrawn from the side, which stays as it is.
import { ok, type Result } from '../../base/result.ts';
import { bodySide, isBodice } from '../../pattern/kinds.ts';
import type { Edge } from '../../pattern/model.ts';
import { type Alteration, allOf, nothingToAlter } from '../alteration.ts';
import { endGrasp } from '../grasp.ts';
import { meeting, slideCorner } from '../kernel/corners.ts';
import type { End } from '../kernel/ends.ts';
import { centreEdge, edgeNamed, type Place, placesIn } from '../kernel/find.ts';
import type { ChangedShape } from '../record.ts';
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
    const changes = placesIn(set, scope, isBodice).flatMap((place) => {
      const changed = shortened(place, values.amount('byMm'));
      return changed === null ? [] : [changed];
    });
    return changes.length === 0
      ? nothingToAlter('back bodice with a waist that meets its centre back')
      : allOf(changes);
  },
  grasps: (set, _, scope) =>
    placesIn(set, scope, isBodice).flatMap((place) => {
      const found = backWaistOf(place);
      return found === null ? [] : endGrasp(place, 'byMm', found.centre, found.low);
    }),
};

interface BackWaist {
  readonly centre: Edge;
  readonly waist: Edge;
  /** The end of the centre at the waist. */
  readonly low: End;
}

function backWaistOf(place: Place): BackWaist | null {
  if (bodySide(place.piece) !== 'back') return null;
  const centre = centreEdge(place);
  const waist = edgeNamed(place, 'waist');
  if (centre === null || waist === null) return null;
  const met = meeting(place.shape, centre.id, waist.id);
  return met && { centre, waist, low: met.endA };
}

function shortened(place: Place, byMm: number): Result<ChangedShape> | null {
  const found = backWaistOf(place);
  if (found === null) return null;
  const slid = slideCorner(place.shape, found.centre.id, found.waist.id, byMm);
  return slid.ok ? ok({ piece: place.piece.id, size: place.size, ...slid.value }) : slid;
}
