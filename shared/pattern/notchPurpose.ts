// What a notch is for when nobody has said more than "a notch": one on a dart leg or a pleat line belongs to that mouth, one
// an allowance away from a corner marks the allowance, one at the turn of a hem marks the hem. None of these has a mate.
import { closuresOn } from './darts.ts';
import type { Notch, NotchPurpose, Shape } from './model.ts';
import { insetMm, neighbours, seamEdge } from './seamline.ts';

/** How near a notch must be to the thing it marks: a traced mark and a measured line may miss each other by this much. */
const SAME_PLACE_MM = 2;

export function notchPurpose(shape: Shape, notch: Notch): NotchPurpose {
  if (notch.purpose !== 'match' || (notch.mate.kind !== 'unknown' && notch.mate.kind !== 'none')) return notch.purpose;
  const seam = seamEdge(shape, notch.edge);
  if (seam === undefined) return notch.purpose;
  for (const { kind, fromMm, toMm } of closuresOn(shape, notch.edge)) {
    if (isNear(notch.atMm, fromMm) || isNear(notch.atMm, toMm)) return kind;
  }
  const { before, after } = neighbours(shape, seam.index);
  const ends = [
    { edge: before.edge, awayMm: notch.atMm },
    { edge: after.edge, awayMm: seam.lengthMm - notch.atMm },
  ];
  for (const { edge, awayMm } of ends) {
    // On a cutting line the seamline already stops at the allowance: a mark for it lies at the corner itself.
    if (edge.role !== 'fold' && isNear(awayMm, 0) && insetMm(shape, edge) > 0) return 'allowance';
    if (edge.role === 'hem' && insetMm(shape, edge) === 0 && edge.allowanceMm > 0 && isNear(awayMm, edge.allowanceMm))
      return 'hem-turn';
    if (edge.role === 'hem' && isNear(awayMm, 0)) return 'hem-turn';
  }
  return notch.purpose;
}

function isNear(aMm: number, bMm: number): boolean {
  return Math.abs(aMm - bMm) <= SAME_PLACE_MM;
}
