// An outline as measured on the original photo.
import type { TablePointMm } from '../../base/points.ts';
import type { UnsureStretch } from '../traced.ts';
import type { Excursion } from './findExcursions.ts';

export interface DenseOutline {
  /** Closed, clockwise on the screen, under a millimetre apart, notches bridged; first point not repeated. */
  readonly points: readonly TablePointMm[];
  readonly unsure: readonly UnsureStretch[];
  /** Dents and bumps that were bridged: candidates for notches. */
  readonly excursions: readonly Excursion[];
  /** Standard deviation of one point across the outline. */
  readonly pointSigmaMm: number;
}
