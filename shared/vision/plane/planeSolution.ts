// What one photo says about the plane of the table: the camera, the cards, and how sure that is. Plain data, so that it
// survives the archive and a worker boundary; the functions below are the only way between photo and table.
import type { PhotoPointPx, TablePointMm } from '../../base/points.ts';
import type { Warning } from '../../base/result.ts';
import { type Camera, photoFromTableVia, tableFromPhotoVia } from './cameraModel.ts';

export interface PlacedCard {
  readonly id: string;
  readonly page: number;
  /** Turn of the card's x axis in the table frame, radians, clockwise on the screen (y down). */
  readonly turnRad: number;
  /** Where the card's top left cut corner lies. */
  readonly originMm: TablePointMm;
  /** Estimated height of the card's middle above the table, and its bow over half its width. */
  readonly liftMm: number;
  readonly bowMm: number;
  /** Root mean square distance of its used corners from where the solution expects them. */
  readonly residualPx: number;
  readonly cornersUsed: number;
  readonly cornersDropped: number;
  /** True when it was solved as part of an uncut page. */
  readonly uncut: boolean;
}

/** Another reading of the same photo (other tilt, other lens model) that the data does not rule out. */
export interface RivalReading {
  readonly camera: Camera;
  readonly covariance: readonly (readonly number[])[];
  /** Posterior weight against the others, 0-1. */
  readonly weight: number;
}

export interface PlaneSolution {
  readonly camera: Camera;
  /** Covariance of the camera step (see cameraSteps.ts), first card fixed as the frame, everything inflated and included. */
  readonly covariance: readonly (readonly number[])[];
  /** Other readings that remain possible; empty when the photo is clear. Their weights leave the rest to `camera`. */
  readonly rivals: readonly RivalReading[];
  readonly cards: readonly PlacedCard[];
  /** Standard deviation of one corner coordinate as re-estimated from this photo. */
  readonly cornerSigmaPx: number;
  /** Millimetres of table per photo pixel at the middle of the cards. */
  readonly mmPerPixel: number;
  /** Angle between the line of sight and the table's normal. */
  readonly tiltDeg: number;
  /** Relative standard uncertainty of scale that everything in this photo shares. */
  readonly scaleSigmaRatio: number;
  readonly warnings: readonly Warning[];
}

/** Table point seen at a photo point. `heightMm` is the height of the thing seen above the table (paper, card). NaN above the horizon. */
export function tableFromPhoto(solution: PlaneSolution, point: PhotoPointPx, heightMm = 0): TablePointMm {
  return tableFromPhotoVia(solution.camera, point, heightMm);
}

/** Photo point of a table point; NaN behind the camera. */
export function photoFromTable(solution: PlaneSolution, point: TablePointMm, heightMm = 0): PhotoPointPx {
  return photoFromTableVia(solution.camera, point, heightMm);
}
