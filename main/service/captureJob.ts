// The capture as a job of the window: photos through the workers, the result into the document as it is by then.
import { ok, type Result } from '../../shared/base/result.ts';
import type { ParsedArgs } from '../../shared/contract/contract.ts';
import type { Capture } from '../../shared/usecases/captured.ts';
import { takeIn } from '../../shared/usecases/setFromCapture.ts';
import { nextShotNumber } from '../../shared/usecases/shots.ts';
import { isSettled } from '../../shared/vision/plane/phoneProfile.ts';
import type { PhoneStore } from '../files/phoneStore.ts';
import { captureFiles } from '../imaging/captureFiles.ts';
import { keptPictures } from '../imaging/keptPictures.ts';
import type { WorkerPool } from '../imaging/workerPool.ts';
import type { DocumentState, Documents } from './documents.ts';
import type { Progress } from './jobs.ts';
import { tapesOf } from './looking.ts';
import type { PhotoShelf } from './photoShelf.ts';

export interface CaptureWork {
  readonly pool: WorkerPool;
  readonly documents: Documents;
  readonly document: string;
  readonly photos: PhotoShelf;
  /** Handles of the photos to read. */
  readonly handles: readonly string[];
  readonly options: ParsedArgs<'job.start'>['options'];
  readonly phones: PhoneStore;
}

export async function capturePhotos(
  { pool, documents, document, photos, handles, options, phones }: CaptureWork,
  { report, signal, onPhoto, signalOf }: Progress,
): Promise<Result<{ readonly state: DocumentState; readonly capture: Capture }>> {
  const files = photos.all(handles);
  if (!files.ok) return files;
  // On the shelf every photo has a name of its own.
  const handleOf = new Map(files.value.map((file, i) => [file.name, handles[i]!]));
  const known = await phones.all();
  if (!known.ok) return known;
  const settled = known.value.phones.filter(isSettled);
  const taped = tapesOf(options.taped, photos);
  const captured = await captureFiles(
    pool,
    files.value,
    { ...options, phones: settled, taped },
    {
      report,
      signal,
      onPhoto: (name, state) => onPhoto(handleOf.get(name)!, state),
      signalOf: (name) => signalOf(handleOf.get(name)!),
    },
  );
  if (!captured.ok) return captured;
  const { capture, tables } = captured.value;
  const lessons = capture.photos.flatMap((photo) => (photo.learned === null ? [] : [photo.learned]));
  const taught = await phones.teach(lessons);
  const before = documents.get(document);
  if (!before.ok) return before;
  const kept = keptPictures(tables, nextShotNumber(before.value.set));
  const taken = takeIn(capture, {
    into: before.value.set,
    size: before.value.set.baseSize,
    pictures: kept.pictures,
    printScale: options.printScale,
    again: options.again ?? undefined,
  });
  const changed = await documents.change(document, { set: taken.set, pictures: kept.bytes });
  if (!changed.ok) return changed;
  const warnings = [
    ...known.value.warnings,
    ...capture.warnings,
    ...taken.warnings,
    ...(taught.ok ? [] : [{ code: taught.error.code, message: taught.error.sentence }]),
  ];
  return ok({ state: { ...changed.value, warnings }, capture: { ...capture, warnings } });
}
