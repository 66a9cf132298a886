// What the capture takes and gives: the types between the vision stages, the worker boundary, the command line and the
// window. Plain data that survives structuredClone.
import type { Point } from '../base/points.ts';
import type { Warning } from '../base/result.ts';
import type { RgbImage } from '../vision/image.ts';
import type { PhoneProfile } from '../vision/plane/phoneProfile.ts';
import type { PlaneSolution } from '../vision/plane/planeSolution.ts';
import type { TracedPiece } from '../vision/traced.ts';

export interface CaptureOptions {
  /** Measured divided by nominal length of the print's rulers; null = nobody measured them. */
  readonly printScale: { readonly x: number; readonly y: number } | null;
  /** Which edge of a drawn line is the outline. */
  readonly line: 'centre' | 'inner' | 'outer';
  /** Paper edges, drawn lines, or whichever a piece shows. */
  readonly outline: 'auto' | 'paper' | 'drawn';
  readonly phone: PhoneProfile | null;
}

/** The table at true scale: table point (x, y) lies at pixel ((x - originMm[0]) / mmPerPixel, …). */
export interface TablePhoto {
  readonly image: RgbImage;
  readonly mmPerPixel: number;
  readonly originMm: Point;
}

/** Everything that was read from one photo. */
export interface CapturedPhoto {
  readonly file: string;
  readonly plane: PlaneSolution;
  readonly pieces: readonly TracedPiece[];
  readonly warnings: readonly Warning[];
  /** What this photo teaches about the phone; null when it is not well-conditioned enough to teach. */
  readonly learned: PhoneProfile | null;
}

/** Everything that was read from the photos of one capture, pieces of all photos with ids of their own. */
export interface Capture {
  readonly photos: readonly CapturedPhoto[];
  readonly pieces: readonly TracedPiece[];
  readonly warnings: readonly Warning[];
}
