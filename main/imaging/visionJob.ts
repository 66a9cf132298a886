// The messages between the worker pool and its workers: plain data, bytes are moved instead of copied.
import type { Result, Warning } from '../../shared/base/result.ts';
import type { CapturedPhoto, CaptureOptions } from '../../shared/usecases/captured.ts';
import type { PhotoLook } from '../../shared/usecases/lookAtPhoto.ts';
import type { PlaneOptions } from '../../shared/usecases/solvePhoto.ts';

export interface PhotoFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export interface VisionTask {
  readonly photo: PhotoFile;
  readonly options: CaptureOptions;
}

/** A look stops after the plane. */
export interface LookTask {
  readonly photo: PhotoFile;
  readonly options: PlaneOptions;
}

/** What a worker is told to do. */
export type WorkerOrder =
  | { readonly kind: 'read'; readonly task: VisionTask }
  | { readonly kind: 'look'; readonly task: LookTask };

/** The table of a shot as a JPEG at true scale. */
export interface TableJpeg {
  readonly jpeg: Uint8Array;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly mmPerPixel: number;
  readonly originMm: readonly [number, number];
}

export interface PhotoResult {
  readonly captured: CapturedPhoto;
  readonly table: TableJpeg;
  /** About the file itself: too few pixels, no focal length. */
  readonly warnings: readonly Warning[];
}

export type WorkerMessage =
  | { readonly kind: 'progress'; readonly progress: number; readonly sentence: string }
  | { readonly kind: 'done'; readonly result: Result<PhotoResult | PhotoLook> }
  /** Something that should not happen; the text is for the error log. */
  | { readonly kind: 'bug'; readonly text: string };
