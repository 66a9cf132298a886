// Every number that we claim. `npm run bench` prints a short run of all; `npm run bench -- capture|marks|lenses|speed|checks` one
// part at full length; `npm run bench -- capture 1` the table of the capture with one photo a case instead of three.
import { spawnSync } from 'node:child_process';
import { builtProgram } from './builtProgram.ts';
import { captureBench } from './captureBench.ts';
import { checksBench } from './checksBench.ts';
import { lensBench } from './lensBench.ts';
import { marksBench } from './marksBench.ts';
import { speedBench } from './speedBench.ts';

const SHORT_SEEDS = [1];
const FULL_SEEDS = [1, 2, 3];

/** Enough to see whether a second core helps. */
const SHORT_POOL_PHOTOS = 6;

const parts: Readonly<Record<string, () => Promise<void> | void>> = {
  capture: () => captureBench(process.argv[3] === '1' ? SHORT_SEEDS : FULL_SEEDS),
  marks: marksBench,
  lenses: lensBench,
  speed: () => speedBench(),
  checks,
};

async function checks(): Promise<void> {
  const script = await builtProgram('checksRun');
  await checksBench(async (what) => {
    const { stdout, stderr, status } = spawnSync(process.execPath, [script, what], { encoding: 'utf8' });
    if (status !== 0) throw new Error(stderr);
    return Number(stdout);
  });
}

const wanted = process.argv[2];
if (wanted === undefined) {
  lensBench();
  await checks();
  await captureBench(SHORT_SEEDS, SHORT_POOL_PHOTOS);
} else {
  const part = parts[wanted];
  if (part === undefined) {
    console.error(`There is no bench "${wanted}": choose one of ${Object.keys(parts).join(', ')}.`);
    process.exitCode = 2;
  } else await part();
}
