// Reads photos through the worker pool in a process of its own and prints what it cost: wall and processor seconds, peak memory.
// Arguments: how many workers, then photo files. Output: JSON.
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { captureFiles } from '../../main/imaging/captureFiles.ts';
import { makeWorkerPool } from '../../main/imaging/workerPool.ts';
import { CHECKED_PRINT } from './captureCases.ts';

export interface PoolCost {
  readonly wallSeconds: number;
  readonly cpuSeconds: number;
  readonly peakMb: number;
  /** Why the photos together gave no piece; null when they did. */
  readonly failure: string | null;
}

const [workers, ...files] = process.argv.slice(2);
const photos = files.map((file, i) => ({
  name: `${i + 1}-${basename(file)}`,
  bytes: new Uint8Array(readFileSync(file)),
}));
const pool = makeWorkerPool(undefined, Number(workers));
const started = performance.now();
const cpu = process.cpuUsage();
const read = await captureFiles(pool, photos, CHECKED_PRINT, {
  report: () => {},
  signal: new AbortController().signal,
});
const { user, system } = process.cpuUsage(cpu);
const wallSeconds = (performance.now() - started) / 1000;
await pool.close();
const cost: PoolCost = {
  wallSeconds,
  cpuSeconds: (user + system) / 1e6,
  peakMb: process.resourceUsage().maxRSS / 1024,
  failure: read.ok ? null : read.error.sentence,
};
console.log(JSON.stringify(cost));
