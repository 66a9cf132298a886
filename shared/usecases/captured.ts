// What the capture takes and gives: the types between the vision stages, the worker boundary, the command line and the
// window. Plain data that survives structuredClone.
import type { Point, TablePointMm } from '../base/points.ts';
import type { Warning } from '../base/result.ts';
import type { RgbImage } from '../vision/image.ts';
import type { PhoneProfile } from '../vision/plane/phoneProfile.ts';
import type { PhotoQuality } from '../vision/plane/photoQuality.ts';
import type { PlaneEvidence } from '../vision/plane/planeEvidence.ts';
import type { PlaneSolution } from '../vision/plane/planeSolution.ts';
import type { TracedMark, TracedPiece, UnsureStretch } from '../vision/traced.ts';

export interface CaptureOptions {
  /** Measured divided by nominal length of the print's rulers; null = nobody measured them. */
  readonly printScale: { readonly x: number; readonly y: number } | null;
  /** Which edge of a drawn line is the outline. */
  readonly line: 'centre' | 'inner' | 'outer';
  /** Paper edges, drawn lines, or whichever a piece shows. */
  readonly outline: 'auto' | 'paper' | 'drawn';
  /** What earlier photos taught; a photo uses the one of its own phone and setting. */
  readonly phones: readonly PhoneProfile[];
  readonly taped: readonly Taped[];
  /** Whether photos that show the same cards lying unmoved are joined; absent = they are. */
  readonly arrangement?: Arrangement;
}

/** One table seen in several photos, or a table of its own in each. */
export type Arrangement = 'one-table' | 'separate';

export type Taped = TapedCards | TapedPoints;

/**
 * A distance measured with a tape between two cards: from the top left corner of the one's chequer to the top left corner
 * of the other's, each as it looks when the card is turned so that its number can be read.
 */
export interface TapedCards {
  readonly from: string;
  readonly to: string;
  readonly lengthMm: number;
  readonly sigmaMm: number;
}

/** A distance between two points picked in one photo: along a tape or ruler that lies in it, or between two things on the table. */
export interface TapedPoints {
  readonly photo: string;
  /** Pixels of the upright photo. */
  readonly fromPx: Point;
  readonly toPx: Point;
  readonly lengthMm: number;
  readonly sigmaMm: number;
}

/** How well a person tapes a distance on a table: half a millimetre, from memory. */
export const TAPE_SIGMA_MM = 0.5;

/** The table at true scale: table point (x, y) lies at pixel ((x - originMm[0]) / mmPerPixel, …). */
export interface TablePhoto {
  readonly image: RgbImage;
  readonly mmPerPixel: number;
  readonly originMm: Point;
}

/** One outline as one photo measured it, before edges were fitted: what photos are joined from. */
export interface SeenOutline {
  readonly line: TracedPiece['line'];
  /** Closed, clockwise, in the photo's own table frame. */
  readonly points: readonly TablePointMm[];
  /** For every point 1 where the outline is the photo's rim instead of the piece's; empty for a whole piece. */
  readonly atRim: Uint8Array;
  /** By index into `points`. */
  readonly unsure: readonly UnsureStretch[];
  readonly pointSigmaMm: number;
  readonly marks: readonly TracedMark[];
}

/** Everything that was read from one photo. */
export interface CapturedPhoto {
  readonly file: string;
  readonly plane: PlaneSolution;
  /** What the plane was solved from. */
  readonly evidence: PlaneEvidence;
  readonly quality: PhotoQuality;
  readonly pieces: readonly TracedPiece[];
  /** The whole pieces' outlines in the order of `pieces`, then those that run out of the photo. */
  readonly outlines: readonly SeenOutline[];
  /** Taped distances of which this photo does not show both cards. */
  readonly tapedUnseen: readonly TapedCards[];
  readonly warnings: readonly Warning[];
  /** What this photo by itself teaches about the phone; null when it is not well-conditioned enough to teach. */
  readonly learned: PhoneProfile | null;
}

/** Everything that was read from the photos of one capture, pieces of all photos with ids of their own. */
export interface Capture {
  readonly photos: readonly CapturedPhoto[];
  readonly pieces: readonly TracedPiece[];
  /** Files of the photos that were joined, table by table. */
  readonly joined: readonly (readonly string[])[];
  /** Why photos with parts of pieces were not joined; also among the warnings. */
  readonly joinWarnings: readonly Warning[];
  readonly warnings: readonly Warning[];
}
