// What several photos of one phone do for one another: long panels read photo by photo and joined, and the lens that one
// photo with four cards teaches for one with a single card. Compared with the truth.
import { decodePhoto } from '../../main/imaging/decodePhoto.ts';
import { openCv } from '../../main/imaging/loadCv.ts';
import { capturePhoto } from '../../shared/usecases/capture.ts';
import type { CapturedPhoto } from '../../shared/usecases/captured.ts';
import { combineShots } from '../../shared/usecases/combineShots.ts';
import { type LongPanelWish, longPanel } from '../photos/longPanel.ts';
import { benchScene, type SceneCase } from '../photos/scenes.ts';
import { CHECKED_PRINT, photoOf, realisticCards, runScene } from './captureCases.ts';
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

/**
 * One card or one page, with what a photo with four cards taught about the phone before it; null when that photo taught nothing. Both
 * photos are taken by the same lens.
 */
export async function runWithProfile(
  sceneCase: SceneCase,
  seed: number,
  megapixels: number,
): Promise<PhotoScore | null> {
  const one = benchScene(sceneCase, seed, megapixels);
  const four = benchScene('four-cards', seed + TEACHER_SEEDS, megapixels);
  const { focal35Mm, lens, principalOffsetPx } = one.scene.camera;
  const teacher = { ...four.scene, camera: { ...four.scene.camera, focal35Mm, lens, principalOffsetPx } };
  const taught = await runScene(
    {
      ...four,
      scene: { ...teacher, name: sceneCase === 'one-card' ? `teacher-${seed}` : `${sceneCase}-teacher-${seed}` },
    },
    CHECKED_PRINT,
  );
  if (taught.learned === null) return null;
  const result = await runScene(one, { ...CHECKED_PRINT, phones: [taught.learned] });
  return result.score ?? result.missed;
}

/** Teachers must not show the piece that is measured. */
const TEACHER_SEEDS = 400;
