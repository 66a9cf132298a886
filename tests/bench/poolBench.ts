// Many photos through the worker pool that the program uses, with one worker and with two: does a second core help?
import { readdirSync, readFileSync } from 'node:fs';
import type { VisionTask } from '../../main/imaging/visionJob.ts';
import { makeWorkerPool } from '../../main/imaging/workerPool.ts';
import { CHECKED_PRINT } from './captureCases.ts';

export interface PoolTimes {
  readonly photos: number;
  readonly oneSeconds: number;
  readonly twoSeconds: number;
}

const DEMO = new URL('../../assets/demo/photos/marl-m/', import.meta.url);

/** The demo's photos over and over, workers' start and library loading included. */
export async function poolTimes(photos: number): Promise<PoolTimes> {
  const names = readdirSync(DEMO)
    .filter((name) => name.endsWith('.jpg'))
    .sort();
  const tasks = Array.from({ length: photos }, (_, i): VisionTask => {
    const name = names[i % names.length]!;
    return {
      photo: { name: `${i + 1}-${name}`, bytes: new Uint8Array(readFileSync(new URL(name, DEMO))) },
      options: CHECKED_PRINT,
    };
  });
  return { photos, oneSeconds: await secondsWith(1, tasks), twoSeconds: await secondsWith(2, tasks) };
}

async function secondsWith(workers: number, tasks: readonly VisionTask[]): Promise<number> {
  const pool = makeWorkerPool(undefined, workers);
  const started = performance.now();
  const results = await Promise.all(tasks.map((task) => pool.run(task, () => {}, new AbortController().signal)));
  const seconds = (performance.now() - started) / 1000;
  await pool.close();
  for (const result of results) if (!result.ok) throw new Error(result.error.sentence);
  return seconds;
}
