// Reads the photos of the bench in as many processes as there are cores: each does one job at a time, and a line on the error
// stream says how far it is. Results come back in the order of the jobs, whatever order they were done in.
import { type ChildProcess, fork } from 'node:child_process';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import type { BenchJobs, BenchResults, JobKind } from './benchJob.ts';
import type { JobOrder, JobReply } from './benchProcess.ts';

export interface BenchProcesses {
  /** Rejects when a job throws: that is a fault of the bench or of the program, never a bad photo. */
  readonly doAll: <Kind extends JobKind>(kind: Kind, jobs: readonly BenchJobs[Kind][]) => Promise<BenchResults[Kind][]>;
  readonly close: () => void;
}

export function startBenchProcesses(count: number = availableParallelism()): BenchProcesses {
  const idle = Array.from({ length: count }, start);
  const all = [...idle];
  const waiting: ((process: ChildProcess) => void)[] = [];
  let asked = 0;
  let done = 0;

  const free = (): Promise<ChildProcess> => {
    const process = idle.pop();
    return process === undefined ? new Promise((resolve) => waiting.push(resolve)) : Promise.resolve(process);
  };

  const giveBack = (process: ChildProcess) => {
    const next = waiting.shift();
    if (next === undefined) idle.push(process);
    else next(process);
  };

  const doOne = async <Kind extends JobKind>(kind: Kind, job: BenchJobs[Kind]): Promise<BenchResults[Kind]> => {
    asked++;
    const process = await free();
    try {
      return (await ask(process, { kind, job })) as BenchResults[Kind];
    } finally {
      console.error(`${++done} of ${asked} read: ${kind} ${JSON.stringify(Object.values(job))}`);
      giveBack(process);
    }
  };

  return {
    doAll: (kind, jobs) => Promise.all(jobs.map((job) => doOne(kind, job))),
    close: () => {
      for (const process of all) process.disconnect();
    },
  };
}

function start(): ChildProcess {
  return fork(fileURLToPath(new URL('./benchProcess.ts', import.meta.url)), {
    execArgv: ['--import', 'tsx'],
    serialization: 'advanced', // NaN is a result too
  });
}

function ask(process: ChildProcess, order: JobOrder): Promise<BenchResults[JobKind]> {
  return new Promise((resolve, reject) => {
    const ended = (code: number | null) => reject(new Error(`a bench process ended with ${code}`));
    process.once('exit', ended);
    process.once('message', (reply: JobReply) => {
      process.off('exit', ended);
      if (reply.ok) resolve(reply.result);
      else reject(new Error(reply.why));
    });
    process.send(order);
  });
}
