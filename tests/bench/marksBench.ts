// Marks against their aims, on small photos full of them (never used to set a number in the program).
import { markScene } from '../photos/markScenes.ts';
import { CHECKED_PRINT, runScene } from './captureCases.ts';
import type { PhotoScore } from './scorePieces.ts';
import { printTable } from './statistics.ts';
import { judgedRows, markTargets } from './targets.ts';

const PHOTOS = 40;

export async function marksBench(): Promise<void> {
  const scores: PhotoScore[] = [];
  for (let seed = 1; seed <= PHOTOS; seed++) {
    const { scene, truth } = markScene(seed);
    const { score, missed } = await runScene({ scene, truths: [truth] }, CHECKED_PRINT);
    scores.push(score ?? missed);
  }
  printTable(`Marks, ${PHOTOS} small photos`, [...judgedRows(markTargets(scores))]);
}
