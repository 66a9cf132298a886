// Every number that we claim. `npm run bench` prints a short run of all; `npm run bench -- capture|lenses|speed|checks` one
// part at full length.
import { captureBench } from './captureBench.ts';
import { checksBench } from './checksBench.ts';
import { lensBench } from './lensBench.ts';
import { speedBench } from './speedBench.ts';

const SHORT_SEEDS = [1];
const FULL_SEEDS = [1, 2, 3];

const parts: Readonly<Record<string, () => Promise<void> | void>> = {
  capture: () => captureBench(FULL_SEEDS),
  lenses: lensBench,
  speed: speedBench,
  checks: checksBench,
};

const wanted = process.argv[2];
if (wanted === undefined) {
  lensBench();
  checksBench();
  await speedBench();
  await captureBench(SHORT_SEEDS);
} else {
  const part = parts[wanted];
  if (part === undefined) {
    console.error(`There is no bench "${wanted}": choose one of ${Object.keys(parts).join(', ')}.`);
    process.exitCode = 2;
  } else await part();
}
