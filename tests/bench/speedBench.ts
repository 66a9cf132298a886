// What a photo of 12 MP costs: processor time, peak memory, whether a second photo costs more memory, the same stages with
// the native OpenCV, and what a second core is worth to many photos.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { benchScene } from '../photos/scenes.ts';
import { photoOf } from './captureCases.ts';
import { NATIVE_ELSEWHERE_CPU_SECONDS, type NativeCost, nativeCost } from './nativeCost.ts';
import type { PhotoCost } from './onePhoto.ts';
import { poolTimes } from './poolBench.ts';
import { printTable } from './statistics.ts';
import { type Judged, judgedRows } from './targets.ts';

/** What the heap may have grown by after a second photo without holding on to it: a garbage collector keeps some slack. */
const MEMORY_SLACK_MB = 20;

const POOL_PHOTOS = 20;

export async function speedBench(poolPhotos = POOL_PHOTOS): Promise<void> {
  printTable(
    'Speed: one photo of 12 MP from file to pieces, and many photos',
    judgedRows(await speedTargets(poolPhotos)),
  );
}

/** Photos of the simulated camera are kept as progressive JPEGs, which take longer and 36 MB more to open; phones write baseline ones. */
async function asPhonesWrite(photo: Uint8Array): Promise<Uint8Array> {
  return sharp(photo).jpeg({ quality: 92, chromaSubsampling: '4:2:0', progressive: false }).toBuffer();
}

/** Where there is no native OpenCV its row is only shown, beside what it took elsewhere. */
export async function speedTargets(poolPhotos: number): Promise<Judged[]> {
  const folder = mkdtempSync(join(tmpdir(), 'notchwise-bench-'));
  const file = join(folder, 'mat.jpg');
  writeFileSync(file, await asPhonesWrite(await photoOf(benchScene('mat', 1).scene)));
  const { first, second } = costsOf(file);
  const native = nativeCost(file);
  rmSync(folder, { recursive: true, force: true });
  const pool = await poolTimes(poolPhotos);
  const one = pool.oneSeconds.toFixed(1);
  const two = pool.twoSeconds.toFixed(1);
  return [
    { what: '12 MP photo: first in a process', value: first.cpuSeconds, target: null, bound: 'most', unit: 'CPU s' },
    {
      what: '12 MP photo: second in the process',
      value: second.cpuSeconds,
      target: null,
      bound: 'most',
      unit: 'CPU s',
    },
    ...nativeTargets(first, second, native),
    { what: '12 MP photo: peak memory', value: first.peakMb, target: 600, bound: 'most', unit: 'MB' },
    {
      what: '12 MP photo: memory that a second costs',
      value: second.peakMb - first.peakMb,
      target: MEMORY_SLACK_MB,
      bound: 'most',
      unit: 'MB',
    },
    {
      what: `${pool.photos} photos: one core ÷ both (${one} s ÷ ${two} s)`,
      value: pool.oneSeconds / pool.twoSeconds,
      target: 1.7,
      bound: 'least',
      unit: '×',
    },
  ];
}

function nativeTargets(first: PhotoCost, second: PhotoCost, native: NativeCost | null): Judged[] {
  if (native === null)
    return [
      {
        what: 'not compared: no native OpenCV here (elsewhere such a pipeline took about this)',
        value: NATIVE_ELSEWHERE_CPU_SECONDS,
        target: null,
        bound: 'most',
        unit: 'CPU s',
      },
    ];
  return [first, second].map((cost, i): Judged => {
    const theirs = native.cpuSeconds[i]!;
    const what = `12 MP photo: ${i === 0 ? 'first' : 'second'} ÷ native OpenCV on one thread (${theirs.toFixed(2)} CPU s)`;
    return { what, value: cost.cpuSeconds / theirs, target: 1, bound: 'most', unit: '×' };
  });
}

/** The same photo twice in a process of its own, so that peak memory belongs to nobody else. */
function costsOf(file: string): { first: PhotoCost; second: PhotoCost } {
  const script = fileURLToPath(new URL('./onePhoto.ts', import.meta.url));
  const { stdout, stderr, status } = spawnSync(process.execPath, ['--import', 'tsx', script, file], {
    encoding: 'utf8',
  });
  if (status !== 0) throw new Error(stderr);
  const { costs } = JSON.parse(stdout) as { costs: readonly [PhotoCost, PhotoCost] };
  return { first: costs[0], second: costs[1] };
}
