// Reads a number of photos at once through the worker pool and puts together what they gave. A photo that cannot be read
// does not stop the others: it becomes a warning, unless none is left.
import { ok, type Result, type Warning } from '../../shared/base/result.ts';
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
}

/** `files` must have names of their own and at least one member. */
export async function captureFiles(
  pool: WorkerPool,
  files: readonly PhotoFile[],
  options: CaptureOptions,
  { report, signal }: CaptureProgress,
): Promise<Result<CapturedFiles>> {
  const shares = files.map(() => 0);
  const results = await Promise.all(
    files.map((photo, index) =>
      pool.run(
        { photo, options },
        (progress, sentence) => {
          shares[index] = progress;
          report(shares.reduce((sum, share) => sum + share, 0) / files.length, sentence);
        },
        signal,
      ),
    ),
  );
  const stopped = results.find((result) => !result.ok && result.error.code === CANCELLED);
  if (stopped !== undefined && !stopped.ok) return stopped;
  const read = results.flatMap((result) => (result.ok ? [result.value] : []));
  const failures = results.flatMap((result) => (result.ok ? [] : [result.error]));
  const [firstFailure] = failures;
  if (read.length === 0 && firstFailure !== undefined) return { ok: false, error: firstFailure };
  const combined = combineShots(read.map(({ captured }) => captured));
  if (combined.pieces.length === 0) {
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
