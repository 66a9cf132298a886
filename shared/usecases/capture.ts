// Photo → pieces: the stages one after the other. Each stage's warnings are handed on; the first failure ends the photo.
import { fail, type Result } from '../base/result.ts';
import type { Photo } from '../vision/image.ts';
import type { StageContext } from '../vision/stageContext.ts';
import { findCards } from '../vision/stages/findCards.ts';
import type { CapturedPhoto, CaptureOptions, TablePhoto } from './captured.ts';

/** What one photo gives, with its picture at true scale. */
export interface PhotoRead {
  readonly captured: CapturedPhoto;
  readonly table: TablePhoto;
}

/** Reads every piece in one photo. Pure: the same photo gives the same pieces. */
export function capturePhoto(photo: Photo, _options: CaptureOptions, context: StageContext): Result<PhotoRead> {
  context.report(0.1, `Looking for reference cards in ${photo.name}`);
  const found = findCards(photo, { search: 'quick' }, context);
  if (found.cards.length === 0) {
    return fail(
      'no-reference',
      `${photo.name} shows no reference card that could be read, so nothing in it has a scale; lay at least one card flat beside the piece and take the photo again.`,
    );
  }
  return fail('stages-missing', `${photo.name}: the stages after finding the cards are not joined up yet.`);
}
