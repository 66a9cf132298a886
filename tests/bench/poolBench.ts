// Many photos through the worker pool that the program uses: on one core, on both with one worker, on both with two. One
// worker alone spills over to the second core (V8 compiles and collects garbage beside it), so that what the second
// core is worth shows only against a process that is held to one.
import { spawnSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { builtProgram } from './builtProgram.ts';
import type { PoolCost } from './poolRun.ts';

export interface PoolTimes {
  readonly photos: number;
  /** Held to one core; null where the system has no way to do so. */
  readonly oneCore: PoolCost | null;
  readonly oneWorker: PoolCost;
  readonly twoWorkers: PoolCost;
}

const DEMO = new URL('../../assets/demo/photos/marl-m/', import.meta.url);

/** The tool of util-linux that holds a process to the first core. */
const HOLD = { command: 'taskset', toFirst: ['-c', '0'] } as const;

/** The demo's photos over and over, workers' start and library loading included. */
export async function poolTimes(photos: number): Promise<PoolTimes> {
  const names = readdirSync(DEMO)
    .filter((name) => name.endsWith('.jpg'))
    .sort();
  const files = Array.from({ length: photos }, (_, i) => fileURLToPath(new URL(names[i % names.length]!, DEMO)));
  return {
    photos,
    oneCore:
      spawnSync(HOLD.command, ['-V']).status === 0 ? await poolCost(1, files, [HOLD.command, ...HOLD.toFirst]) : null,
    oneWorker: await poolCost(1, files),
    twoWorkers: await poolCost(2, files),
  };
}

/** @param under a command that the process is started by */
export async function poolCost(
  workers: number,
  files: readonly string[],
  under: readonly string[] = [],
): Promise<PoolCost> {
  const script = await builtProgram('poolRun');
  const [command, ...args] = [...under, process.execPath, script, String(workers), ...files];
  const { stdout, stderr, status } = spawnSync(command!, args, { encoding: 'utf8' });
  if (status !== 0) throw new Error(stderr);
  return JSON.parse(stdout) as PoolCost;
}
