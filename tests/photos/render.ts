// Writes simulated photos to disk: `npx tsx tests/photos/render.ts demo` makes the demo's photos,
// `… plan` its plan,
// `… case CASE SEED MEGAPIXELS FILE.jpg` one benchmark scene with its truth beside it.
import { mkdir, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { demoPhotos } from './marl/photos.ts';
import { planText } from './marl/plan.ts';
import { type RenderedPhoto, renderPhoto } from './renderPhoto.ts';
import { benchScene, SCENE_CASES, type SceneCase } from './scenes.ts';

const DEMO_FOLDER = 'assets/demo/photos';
const PLAN_FILE = 'assets/demo/marl-plan.json';

async function writeJpeg(file: string, photo: RenderedPhoto): Promise<void> {
  const bytes = await photo.encodeJpeg();
  await mkdir(dirname(file), { recursive: true });
  await writeFile(file, bytes);
  console.log(`${file}: ${Math.round(bytes.length / 1000)} kB, ${photo.mmPerPixel.toFixed(3)} mm a pixel`);
}

async function renderDemo(folder: string, wanted: string): Promise<void> {
  for (const { file, scene } of demoPhotos().filter((photo) => photo.file.includes(wanted))) {
    await writeJpeg(join(folder, file), renderPhoto(scene));
  }
}

async function renderCase(sceneCase: SceneCase, seed: number, megapixels: number, file: string): Promise<void> {
  const bench = benchScene(sceneCase, seed, megapixels);
  await writeJpeg(file, renderPhoto(bench.scene));
  await writeFile(
    file.replace(/\.jpg$/, '.truth.json'),
    JSON.stringify({ camera: bench.scene.camera, pieces: bench.truths }, null, 1),
  );
}

async function main(): Promise<void> {
  const [what, ...rest] = process.argv.slice(2);
  if (what === 'plan') return writeFile(PLAN_FILE, planText());
  if (what === 'demo') return renderDemo(rest[0] ?? DEMO_FOLDER, rest[1] ?? '');
  const sceneCase = SCENE_CASES.find((name) => name === rest[0]);
  const file = rest[3];
  if (what === 'case' && sceneCase !== undefined && file !== undefined) {
    return renderCase(sceneCase, Number(rest[1]), Number(rest[2]), file);
  }
  console.error(
    `Say "plan", "demo [FOLDER [PART OF A NAME]]" or "case CASE SEED MEGAPIXELS FILE.jpg". Cases: ${SCENE_CASES.join(', ')}.`,
  );
  process.exitCode = 2;
}

main().catch((error: unknown) => {
  console.error(error);
  process.exitCode = 1;
});
