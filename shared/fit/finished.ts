// Every finished measure of a garment in one size: what could be taken, and why the rest could not.

import { FINISHED_MEASURES, type Finished, type MeasureId } from './finishedMeasure.ts';
import type { Garment } from './garment.ts';
import { acrossBody, biceps, bust, hip, thigh, waist, waistOpening } from './girths.ts';
import { backLength, crotchDepth, inseam, shoulder, skirtLength, sleeveLength } from './lengths.ts';
import { footOpening, handOpening, neckOpening } from './openings.ts';

const TAKE: Readonly<Record<MeasureId, (garment: Garment) => Finished>> = {
  bust,
  waist,
  hip,
  biceps,
  thigh,
  'across back': (garment) => acrossBody(garment, 'back'),
  'across front': (garment) => acrossBody(garment, 'front'),
  shoulder,
  'back length': backLength,
  'sleeve length': sleeveLength,
  'crotch depth': crotchDepth,
  inseam,
  'skirt length': skirtLength,
  'neck opening': neckOpening,
  'waist opening': waistOpening,
  'hand opening': handOpening,
  'foot opening': footOpening,
};

export type FinishedMeasures = Readonly<Record<MeasureId, Finished>>;

export function finishedMeasure(garment: Garment, id: MeasureId): Finished {
  return TAKE[id](garment);
}

/** In the order of FINISHED_MEASURES. */
export function finishedMeasures(garment: Garment): FinishedMeasures {
  const entries = FINISHED_MEASURES.map(({ id }) => [id, finishedMeasure(garment, id)] as const);
  return Object.fromEntries(entries) as FinishedMeasures; // every id of the list is there
}
