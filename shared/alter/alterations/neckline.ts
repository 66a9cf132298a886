// The neckline lowered or raised at the centre, and opened at the shoulder: corners slide along centre and shoulder, the
// neck edge is redrawn and stays square at the centre.
import { ok, type Result } from '../../base/result.ts';
import { bodySide, isBodice } from '../../pattern/kinds.ts';
import type { Edge } from '../../pattern/model.ts';
import { type Alteration, allOf, nothingToAlter } from '../alteration.ts';
import { meeting, slideCorner } from '../kernel/corners.ts';
import { centreEdge, edgeNamed, type Place, placesIn } from '../kernel/find.ts';
import type { Reshaped } from '../kernel/reshape.ts';
import { slidingCorner, slidingGrasps } from '../kernel/slidingCorner.ts';
import type { ChangedShape } from '../record.ts';
import { lengthWords } from '../words.ts';

export const neckline: Alteration = {
  id: 'neckline',
  title: 'Lower or raise the neckline',
  sentence: 'Moves the neck down or up along the centre, and out along the shoulder where that is asked for.',
  params: [
    {
      name: 'byMm',
      unit: 'mm',
      default: null,
      min: -40,
      max: 150,
      sentence: 'How far the front neck drops at the centre; negative raises it.',
    },
    { name: 'backMm', unit: 'mm', default: 0, min: -40, max: 200, sentence: 'The same for the back neck.' },
    {
      name: 'shoulderMm',
      unit: 'mm',
      default: 0,
      min: -40,
      max: 80,
      sentence: 'How far the neck opens along the shoulder, front and back alike; negative closes it.',
    },
  ],
  describe: (values, set) =>
    `Neckline lowered by ${lengthWords(set, values.amount('byMm'))} in front, ${lengthWords(set, values.amount('backMm'))} behind, opened by ${lengthWords(set, values.amount('shoulderMm'))} at the shoulder.`,
  redraw: (set, values, scope) => {
    const changes = placesIn(set, scope, isBodice).flatMap((place) => {
      const side = bodySide(place.piece);
      const centreMm = values.amount(side === 'back' ? 'backMm' : 'byMm');
      const changed = lowered(place, side === null ? 0 : centreMm, values.amount('shoulderMm'));
      return changed === null ? [] : [changed];
    });
    return changes.length === 0
      ? nothingToAlter('bodice with a neck that meets its centre or shoulder')
      : allOf(changes);
  },
  grasps: (set, _, scope) =>
    placesIn(set, scope, isBodice).flatMap((place) => {
      const side = bodySide(place.piece);
      const neck = edgeNamed(place, 'neck');
      if (side === null || neck === null) return [];
      const held = (param: string, along: Edge | null) =>
        slidingGrasps(place, param, slidingCorner(place, along, neck));
      const centreParam = side === 'back' ? 'backMm' : 'byMm';
      return [...held(centreParam, centreEdge(place)), ...held('shoulderMm', edgeNamed(place, 'shoulder'))];
    }),
};

function lowered(place: Place, centreMm: number, shoulderMm: number): Result<ChangedShape> | null {
  const neck = edgeNamed(place, 'neck');
  if (neck === null) return null;
  const steps = [
    { along: centreEdge(place), byMm: centreMm },
    { along: edgeNamed(place, 'shoulder'), byMm: shoulderMm },
  ].filter((step): step is { along: Edge; byMm: number } => isStep(place, step, neck));
  if (steps.length === 0) return null;
  let now: Reshaped = { shape: place.shape, carry: (_, atMm) => atMm };
  for (const { along, byMm } of steps) {
    const slid = slideCorner(now.shape, along.id, neck.id, byMm);
    if (!slid.ok) return slid;
    const before = now;
    now = { ...slid.value, carry: (edge, atMm) => slid.value.carry(edge, before.carry(edge, atMm)) };
  }
  return ok({ piece: place.piece.id, size: place.size, ...now });
}

function isStep(place: Place, step: { readonly along: Edge | null; readonly byMm: number }, neck: Edge): boolean {
  return step.along !== null && step.byMm !== 0 && meeting(place.shape, step.along.id, neck.id) !== null;
}
