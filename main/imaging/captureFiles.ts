// Reads a number of photos at once through the worker pool and puts together what they gave. A photo that cannot be read
// does not stop the others: it becomes a warning, unless none is left.
import { type Failure, fail, ok, type Result, type Warning } from '../../shared/base/result.ts';
import { noPiece } from '../../shared/usecases/capture.ts';
import type { Capture, CaptureOptions } from '../../shared/usecases/captured.ts';
import { combineShots } from '../../shared/usecases/combineShots.ts';
import type { PhotoFile, TableJpeg } from './visionJob.ts';
import { CANCELLED, type WorkerPool } from './workerPool.ts';

export interface CapturedFiles {
  readonly capture: Capture;
  /** The table's picture of each photo by its name. */
  readonly tables: ReadonlyMap<string, TableJpeg>;
}

export interface CaptureProgress {
  readonly report: (progress: number, sentence: string) => void;
  readonly signal: AbortSignal;
  /** Told of each photo by itself; absent = nobody listens. */
  readonly onPhoto?: (name: string, progress: PhotoProgress) => void;
  /** Ends the reading of one photo while the others go on; absent = only all together. */
  readonly signalOf?: (name: string) => AbortSignal;
}

export interface PhotoProgress {
  readonly state: 'reading' | 'read' | 'failed' | 'cancelled';
  readonly progress: number;
  /** What is being done, or why it failed. */
  readonly sentence: string;
}

/** `files` must have names of their own and at least one member. */
export async function captureFiles(
  pool: WorkerPool,
  files: readonly PhotoFile[],
  options: CaptureOptions,
  { report, signal, onPhoto, signalOf }: CaptureProgress,
): Promise<Result<CapturedFiles>> {
  const shares = files.map(() => 0);
  const results = await Promise.all(
    files.map(async (photo, index) => {
      const own = signalOf === undefined ? signal : AbortSignal.any([signal, signalOf(photo.name)]);
      const result = await pool.run(
        { photo, options },
        (progress, sentence) => {
          shares[index] = progress;
          onPhoto?.(photo.name, { state: 'reading', progress, sentence });
          report(shares.reduce((sum, share) => sum + share, 0) / files.length, sentence);
        },
        own,
      );
      onPhoto?.(photo.name, endOf(result));
      return result;
    }),
  );
  const read = results.flatMap((result) => (result.ok ? [result.value] : []));
  const failures = results.flatMap((result) => (result.ok ? [] : [result.error])).filter(isNotCancelled);
  const stopped = results.find((result) => !result.ok && !isNotCancelled(result.error));
  // One photo that was left out does not end the others; all of them, or the whole work, do.
  if (stopped !== undefined && !stopped.ok && (signal.aborted || read.length + failures.length === 0)) return stopped;
  const [firstFailure] = failures;
  if (read.length === 0 && firstFailure !== undefined) return { ok: false, error: firstFailure };
  const combined = combineShots(
    read.map(({ captured }) => captured),
    options.arrangement,
  );
  if (combined.pieces.length === 0) {
    const [apart] = combined.joinWarnings;
    // Parts of one piece that could not be joined: why not is more use than that there is no whole piece.
    if (apart !== undefined) return fail(apart.code, apart.message);
    return noPiece(files.length === 1 ? files[0]!.name : 'None of the photos shows a whole piece: each');
  }
  const warnings: readonly Warning[] = [
    ...failures.map(({ code, sentence }) => ({ code, message: sentence })),
    ...read.flatMap((photo) => photo.warnings),
    ...combined.warnings,
  ];
  return ok({
    capture: { ...combined, warnings },
    tables: new Map(read.map(({ captured, table }) => [captured.file, table])),
  });
}

function isNotCancelled({ code }: Failure): boolean {
  return code !== CANCELLED;
}

function endOf(result: Result<unknown>): PhotoProgress {
  if (result.ok) return { state: 'read', progress: 1, sentence: '' };
  const { code, sentence } = result.error;
  return { state: code === CANCELLED ? 'cancelled' : 'failed', progress: 0, sentence };
}
