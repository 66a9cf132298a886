// Photos of the simulated camera by case, read back by the program, compared with their truth. Rendering is slow, so the
// JPEG files are kept in .cache by the content of their scene.
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { decodePhoto } from '../../main/imaging/decodePhoto.ts';
import { openCv } from '../../main/imaging/loadCv.ts';
import { tableMm } from '../../shared/base/points.ts';
import { capturePhoto } from '../../shared/usecases/capture.ts';
import type { CaptureOptions } from '../../shared/usecases/captured.ts';
import type { PhoneProfile } from '../../shared/vision/plane/phoneProfile.ts';
import { photoFromTable } from '../../shared/vision/plane/planeSolution.ts';
import { makeCamera, unproject } from '../photos/camera.ts';
import { seededRandom } from '../photos/random.ts';
import { renderPhoto } from '../photos/renderPhoto.ts';
import type { PaperItem, Scene } from '../photos/scene.ts';
import { type BenchScene, benchScene, type SceneCase } from '../photos/scenes.ts';
import { type PhotoScore, scorePhoto } from './scorePieces.ts';

/** How real prints and cards are: checked print off by this much an axis, cards bowed up to this much. */
const PRINT_SIGMA_RATIO = 3e-4;
const LARGEST_BOW_MM = 0.6;

const cacheFolder = new URL('../../.cache/bench/', import.meta.url);

export interface CaseResult {
  readonly name: string;
  readonly score: PhotoScore | null;
  readonly failure: string | null;
  /** What a refused photo scores: nothing found. */
  readonly missed: PhotoScore;
  readonly warnings: readonly string[];
  readonly learned: PhoneProfile | null;
  readonly cpuSeconds: number;
}

export const CHECKED_PRINT: CaptureOptions = {
  printScale: { x: 1, y: 1 },
  line: 'centre',
  outline: 'auto',
  phones: [],
  taped: [],
};

export async function runCase(
  sceneCase: SceneCase,
  seed: number,
  megapixels: number,
  options: CaptureOptions = CHECKED_PRINT,
): Promise<CaseResult> {
  return runScene(benchScene(sceneCase, seed, megapixels), options);
}

/** The scene with real prints and cards, read and scored. */
export async function runScene(
  bench: Pick<BenchScene, 'scene' | 'truths'>,
  options: CaptureOptions,
): Promise<CaseResult> {
  const { scene, truths } = realistic(bench);
  const bytes = await photoOf(scene);
  const before = process.cpuUsage();
  const decoded = await decodePhoto(`${scene.name}.jpg`, bytes);
  if (!decoded.ok) throw new Error(decoded.error.sentence);
  const read = capturePhoto(decoded.value.photo, options, { cv: openCv(), report: () => {} });
  const used = process.cpuUsage(before);
  const cpuSeconds = (used.user + used.system) / 1e6;
  const missed = scorePhoto([], truths);
  if (!read.ok)
    return {
      name: scene.name,
      score: null,
      failure: read.error.sentence,
      missed,
      warnings: [],
      learned: null,
      cpuSeconds,
    };
  const { pieces, plane, warnings, learned } = read.value.captured;
  const camera = makeCamera(scene.camera);
  return {
    name: scene.name,
    score: scorePhoto(pieces, truths, (p) => unproject(camera, photoFromTable(plane, tableMm(...p)), 0)),
    failure: null,
    missed,
    warnings: warnings.map((w) => w.code),
    learned,
    cpuSeconds,
  };
}

/** All cards of one print share its size error; each lies a little bowed. */
function realistic<T extends Pick<BenchScene, 'scene'>>(bench: T): T {
  return { ...bench, scene: { ...bench.scene, items: realisticCards(bench.scene.items, bench.scene.seed) } };
}

export function realisticCards(items: readonly PaperItem[], seed: number): PaperItem[] {
  const random = seededRandom(seed * 31 + 7);
  const printScale = [1 + PRINT_SIGMA_RATIO * random.normal(), 1 + PRINT_SIGMA_RATIO * random.normal()] as const;
  return items.map((item) => {
    if (!item.id.startsWith('N')) return item;
    const bow = {
      sagittaMm: random.between(0, LARGEST_BOW_MM),
      axisDeg: random.between(0, 180),
      form: random.pick(['edges-up', 'middle-up'] as const),
    };
    return { ...item, printScale, curl: item.curl ?? bow };
  });
}

export async function photoOf(scene: Scene): Promise<Uint8Array> {
  mkdirSync(cacheFolder, { recursive: true });
  const key = createHash('sha256').update(JSON.stringify(scene)).digest('hex').slice(0, 16);
  const file = new URL(`${scene.name}-${key}.jpg`, cacheFolder);
  if (existsSync(file)) return readFileSync(file);
  const bytes = await renderPhoto(scene).encodeJpeg();
  writeFileSync(file, bytes);
  return bytes;
}
