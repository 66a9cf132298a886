// What a photo of 12 MP costs: processor time, peak memory, whether a second photo costs more memory, the same stages with
// the native OpenCV, and what a second core is worth to many photos.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { longPanel } from '../photos/longPanel.ts';
import { benchScene } from '../photos/scenes.ts';
import { builtProgram } from './builtProgram.ts';
import { photoOf, realisticCards } from './captureCases.ts';
import { NATIVE_ELSEWHERE_CPU_SECONDS, type NativeCost, nativeCost } from './nativeCost.ts';
import type { PhotoCost } from './onePhoto.ts';
import { type PoolTimes, poolCost, poolTimes } from './poolBench.ts';
import type { PoolCost } from './poolRun.ts';
import { printTable } from './statistics.ts';
import { type Judged, judgedRows } from './targets.ts';

/** What the heap may have grown by after a second photo without holding on to it: a garbage collector keeps some slack. */
const MEMORY_SLACK_MB = 20;

/** As many as a person takes of one pattern. */
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
async function speedTargets(poolPhotos: number): Promise<Judged[]> {
  const folder = mkdtempSync(join(tmpdir(), 'notchwise-bench-'));
  try {
    return await measuredIn(folder, poolPhotos);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function measuredIn(folder: string, poolPhotos: number): Promise<Judged[]> {
  const file = join(folder, 'mat.jpg');
  writeFileSync(file, await asPhonesWrite(await photoOf(benchScene('mat', 1).scene)));
  const { first, second } = await costsOf(file);
  const native = nativeCost(file);
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
    ...poolTargets(await poolTimes(poolPhotos)),
    await joinTarget(folder),
  ];
}

function poolTargets({ photos, oneCore, oneWorker, twoWorkers }: PoolTimes): Judged[] {
  const seconds = ({ wallSeconds }: PoolCost) => `${wallSeconds.toFixed(1)} s`;
  const held = oneCore ?? oneWorker;
  return [
    {
      what: `${photos} photos: ${oneCore === null ? 'one worker' : 'held to one core'} ÷ both (${seconds(held)} ÷ ${seconds(twoWorkers)})`,
      value: held.wallSeconds / twoWorkers.wallSeconds,
      target: 1.7,
      bound: 'least',
      unit: '×',
    },
    {
      what: `${photos} photos: one worker, free to use both cores, ÷ two (${seconds(oneWorker)} ÷ ${seconds(twoWorkers)})`,
      value: oneWorker.wallSeconds / twoWorkers.wallSeconds,
      target: null,
      bound: 'least',
      unit: '×',
    },
    {
      what: `${photos} photos: cores that one worker keeps busy by itself`,
      value: oneWorker.cpuSeconds / oneWorker.wallSeconds,
      target: null,
      bound: 'least',
      unit: '',
    },
    {
      what: `${photos} photos: cores that two workers keep busy`,
      value: twoWorkers.cpuSeconds / twoWorkers.wallSeconds,
      target: null,
      bound: 'least',
      unit: '',
    },
    {
      what: `${photos} photos: processor time of two workers ÷ of one`,
      value: twoWorkers.cpuSeconds / oneWorker.cpuSeconds,
      target: null,
      bound: 'most',
      unit: '×',
    },
  ];
}

/** A panel joined from three photos of 12 MP by two workers. */
async function joinTarget(folder: string): Promise<Judged> {
  const { scenes } = longPanel(1, { lengthMm: 1400, photos: 3, megapixels: 12 });
  const files: string[] = [];
  for (const scene of scenes) {
    const file = join(folder, `${scene.name}.jpg`);
    writeFileSync(file, await asPhonesWrite(await photoOf({ ...scene, items: realisticCards(scene.items, 1) })));
    files.push(file);
  }
  const { peakMb, failure } = await poolCost(2, files);
  const what = `three photos of 12 MP ${failure === null ? 'joined' : `read together (${failure})`}: peak memory`;
  return { what, value: peakMb, target: 600, bound: 'most', unit: 'MB' };
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
  const ratios = [first, second].map((cost, i): Judged => {
    const theirs = native.cpuSeconds[i]!;
    const what = `12 MP photo: ${i === 0 ? 'first' : 'second'} ÷ native OpenCV on one thread (${theirs.toFixed(2)} CPU s)`;
    return { what, value: cost.cpuSeconds / theirs, target: 1, bound: 'most', unit: '×' };
  });
  return [...ratios, ...stageRows(second, native)];
}

/** The native pipeline's stages by the stage of ours in which the same is done. */
const NATIVE_STAGES: Readonly<Record<string, readonly string[]>> = {
  Opening: ['decode'],
  'Looking for reference cards': ['cards'],
  'Measuring the table': ['plane'],
  'Looking for pieces': ['straighten', 'segment'],
  'Following the lines': ['ink'],
  'Measuring outlines': ['outline', 'corners'],
  'Reading the marks': ['marks', 'keep'],
};

function stageRows({ stages }: PhotoCost, native: NativeCost): Judged[] {
  return Object.entries(stages).map(([sentence, value]): Judged => {
    const stage = sentence.replace(/( in)? photo$/, '');
    const theirs = (NATIVE_STAGES[stage] ?? []).reduce((sum, name) => sum + (native.stages[name] ?? 0), 0);
    return {
      what: `12 MP photo, second: ${stage} (native ${theirs.toFixed(2)} CPU s)`,
      value,
      target: null,
      bound: 'most',
      unit: 'CPU s',
    };
  });
}

/** The same photo twice in a process of its own, so that peak memory belongs to nobody else. */
async function costsOf(file: string): Promise<{ first: PhotoCost; second: PhotoCost }> {
  const script = await builtProgram('onePhoto');
  const { stdout, stderr, status } = spawnSync(process.execPath, [script, file], { encoding: 'utf8' });
  if (status !== 0) throw new Error(stderr);
  const { costs } = JSON.parse(stdout) as { costs: readonly [PhotoCost, PhotoCost] };
  return { first: costs[0], second: costs[1] };
}
