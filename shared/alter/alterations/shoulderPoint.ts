// The shoulder made narrower or wider: its outer point slides along the shoulder seam, the armhole is redrawn to it.
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
    const changes = placesIn(set, scope, isBodice).flatMap((place) => {
      const changed = moved(place, values.amount('byMm'));
      return changed === null ? [] : [changed];
    });
    return changes.length === 0 ? nothingToAlter('bodice with a shoulder that ends at an armhole') : allOf(changes);
  },
  grasps: (set, _, scope) =>
    placesIn(set, scope, isBodice).flatMap((place) => {
      const found = tipOf(place);
      return found === null ? [] : endGrasp(place, 'byMm', found.shoulder, found.tip);
    }),
};

interface Tip {
  readonly armhole: Edge;
  readonly shoulder: Edge;
  /** The end of the shoulder at the armhole. */
  readonly tip: End;
}

function tipOf(place: Place): Tip | null {
  const armhole = edgeNamed(place, 'armhole');
  const shoulder = edgeNamed(place, 'shoulder');
  if (armhole === null || shoulder === null) return null;
  const met = meeting(place.shape, shoulder.id, armhole.id);
  return met && { armhole, shoulder, tip: met.endA };
}

function moved(place: Place, byMm: number): Result<ChangedShape> | null {
  const found = tipOf(place);
  if (found === null) return null;
  const slid = slideCorner(place.shape, found.shoulder.id, found.armhole.id, byMm);
  return slid.ok ? ok({ piece: place.piece.id, size: place.size, ...slid.value }) : slid;
}
