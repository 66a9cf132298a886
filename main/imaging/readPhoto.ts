// One photo from bytes to pieces, or to a quick look: decoding, the vision stages, the picture to keep. What a worker does.
import { ok, type Result } from '../../shared/base/result.ts';
import { capturePhoto } from '../../shared/usecases/capture.ts';
import { lookAtPhoto, type PhotoLook } from '../../shared/usecases/lookAtPhoto.ts';
import type { Photo } from '../../shared/vision/image.ts';
import { decodePhoto } from './decodePhoto.ts';
import { encodeJpeg } from './encodePicture.ts';
import { openCv } from './loadCv.ts';
import type { LookTask, PhotoResult, VisionTask, WorkerOrder } from './visionJob.ts';

type Report = (progress: number, sentence: string) => void;

export async function carryOut(order: WorkerOrder, report: Report): Promise<Result<PhotoResult | PhotoLook>> {
  return order.kind === 'read' ? readPhoto(order.task, report) : lookAt(order.task, report);
}

async function lookAt({ photo, options }: LookTask, report: Report): Promise<Result<PhotoLook>> {
  report(0, `Opening ${photo.name}`);
  const decoded = await decodePhoto(photo.name, photo.bytes);
  if (!decoded.ok) return decoded;
  const look = lookAtPhoto(decoded.value.photo, options, { cv: openCv(), report });
  release(decoded.value.photo);
  return look;
}

/**
 * Takes a photo's pixels out of long-lived memory: moved to a new owner that nobody holds they are freed by the next small
 * collection. Otherwise they wait for a full one, and the next photo is decoded beside them.
 */
function release({ rgb, gray }: Photo): void {
  for (const { data } of [rgb, gray]) structuredClone(data.buffer, { transfer: [data.buffer as ArrayBuffer] });
}

async function readPhoto({ photo, options }: VisionTask, report: Report): Promise<Result<PhotoResult>> {
  report(0, `Opening ${photo.name}`);
  const decoded = await decodePhoto(photo.name, photo.bytes);
  if (!decoded.ok) return decoded;
  const read = capturePhoto(decoded.value.photo, options, { cv: openCv(), report });
  release(decoded.value.photo);
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
