// Long panels over several photos: read photo by photo, joined, compared with their truth.
import { decodePhoto } from '../../main/imaging/decodePhoto.ts';
import { openCv } from '../../main/imaging/loadCv.ts';
import { capturePhoto } from '../../shared/usecases/capture.ts';
import type { CapturedPhoto } from '../../shared/usecases/captured.ts';
import { combineShots } from '../../shared/usecases/combineShots.ts';
import { type LongPanelWish, longPanel } from '../photos/longPanel.ts';
import { CHECKED_PRINT, photoOf, realisticCards } from './captureCases.ts';
import { type PhotoScore, scorePhoto } from './scorePieces.ts';

export interface LongResult {
  readonly name: string;
  readonly score: PhotoScore;
  /** Photos that the best piece was put together from. */
  readonly joined: number;
  readonly warnings: readonly string[];
}

export async function runLong(seed: number, wish: LongPanelWish): Promise<LongResult> {
  const { scenes, truth } = longPanel(seed, wish);
  const photos: CapturedPhoto[] = [];
  for (const scene of scenes) {
    const bytes = await photoOf({ ...scene, items: realisticCards(scene.items, seed) });
    const decoded = await decodePhoto(`${scene.name}.jpg`, bytes);
    if (!decoded.ok) throw new Error(decoded.error.sentence);
    const read = capturePhoto(decoded.value.photo, CHECKED_PRINT, { cv: openCv(), report: () => {} });
    if (read.ok) photos.push(read.value.captured);
  }
  const { pieces, warnings } = combineShots(photos);
  return {
    name: scenes[0]!.name,
    score: scorePhoto(pieces, [truth]),
    joined: Math.max(0, ...pieces.map((piece) => piece.photos.length)),
    warnings: warnings.map(({ code }) => code),
  };
}
