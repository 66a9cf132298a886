// One photo from bytes to pieces: decoding, the vision stages, the picture to keep. What a worker does for a task.
import { ok, type Result } from '../../shared/base/result.ts';
import { capturePhoto } from '../../shared/usecases/capture.ts';
import { decodePhoto } from './decodePhoto.ts';
import { encodeJpeg } from './encodePicture.ts';
import { openCv } from './loadCv.ts';
import type { PhotoResult, VisionTask } from './visionJob.ts';

export async function readPhoto(
  { photo, options }: VisionTask,
  report: (progress: number, sentence: string) => void,
): Promise<Result<PhotoResult>> {
  report(0, `Opening ${photo.name}`);
  const decoded = await decodePhoto(photo.name, photo.bytes);
  if (!decoded.ok) return decoded;
  const read = capturePhoto(decoded.value.photo, options, { cv: openCv(), report });
  if (!read.ok) return read;
  const { captured, table } = read.value;
  return ok({
    captured,
    table: {
      jpeg: await encodeJpeg(table.image),
      widthPx: table.image.widthPx,
      heightPx: table.image.heightPx,
      mmPerPixel: table.mmPerPixel,
      originMm: [table.originMm[0], table.originMm[1]],
    },
    warnings: decoded.value.warnings,
  });
}
