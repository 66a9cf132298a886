// What one photo knows of the table besides the estimate itself (cards, tapes, lens, priors), kept so that photos of one
// table can be solved together.
import type { PhotoPointPx, Point, TablePointMm } from '../../base/points.ts';
import type { Affine } from '../../geometry/transform.ts';
import type { FoundCard } from '../cards/foundCard.ts';
import type { PhotoMetadata } from '../image.ts';
import type { PrintScale } from './cardBodies.ts';
import type { PlaneSolution } from './planeSolution.ts';
import type { LensHypothesis, PhotoPriors } from './priors.ts';

export interface PhotoFrame {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly metadata: PhotoMetadata;
}

/** One end of a taped distance: a point of a card, or a point picked by hand in the photo. */
export type TapedEnd = { readonly cardId: string; readonly cardMm: Point } | { readonly photo: PhotoPointPx };

export interface TapedInput {
  readonly from: TapedEnd;
  readonly to: TapedEnd;
  readonly lengthMm: number;
  /** Standard deviation of the taping. */
  readonly sigmaMm: number;
}

/** Cards that lie as one sheet, with the corners that were believed, and how stiff the sheet was taken to be. */
export interface SeenBody {
  readonly cards: readonly FoundCard[];
  readonly bowSigmaMm: number;
  readonly liftSigmaMm: number;
}

/** What one photo brings to a solution over several: everything but the estimate itself. */
export interface PlaneEvidence {
  readonly frame: PhotoFrame;
  readonly scale: PrintScale;
  /** Expected focal length, half diagonals. */
  readonly focalRatio: number;
  readonly priors: PhotoPriors;
  readonly lenses: readonly LensHypothesis[];
  readonly bodies: readonly SeenBody[];
  /** Taped distances, the disbelieved ones left out. */
  readonly taped: readonly TapedInput[];
}

/** One photo, solved on its own. */
export interface SoloShot {
  readonly solution: PlaneSolution;
  readonly evidence: PlaneEvidence;
  /** Stretches of outline measured in it, its own table frame: they prove that a single shared card was not moved. */
  readonly outlines: readonly (readonly TablePointMm[])[];
}

/** A photo with its rough place in the frame of its group's first photo. */
export interface PlacedShot {
  readonly shot: number;
  readonly groupFromOwn: Affine;
}
