// A small pool of vision workers: tasks wait in line, each worker does one at a time. Cancelling ends the worker that has
// the task and starts a fresh one for the next: no stage needs to poll, nothing can hang.
import { Worker } from 'node:worker_threads';
import { fail, type Result } from '../../shared/base/result.ts';
import type { PhotoLook } from '../../shared/usecases/lookAtPhoto.ts';
import type { LookTask, PhotoResult, VisionTask, WorkerMessage, WorkerOrder } from './visionJob.ts';

export const CANCELLED = 'cancelled';

/** Two photos at once: a 12 MP photo needs about 400 MB, and an ordinary machine has as many cores to spare. */
const WORKERS = 2;

export interface WorkerPool {
  /** Ends with the code `cancelled` after an abort. Rejects only for bugs. */
  readonly run: (
    task: VisionTask,
    report: (progress: number, sentence: string) => void,
    signal: AbortSignal,
  ) => Promise<Result<PhotoResult>>;
  /** The same for a look; it waits in the same line. */
  readonly look: (task: LookTask, signal: AbortSignal) => Promise<Result<PhotoLook>>;
  readonly close: () => Promise<void>;
}

interface Waiting {
  readonly order: WorkerOrder;
  readonly report: (progress: number, sentence: string) => void;
  readonly settle: (result: Result<PhotoResult | PhotoLook>) => void;
  readonly reject: (error: Error) => void;
  /** What an abort does: leave the line, later end the worker. */
  stop: () => void;
}

/** `start` makes a worker; tests hand in their own. */
export function makeWorkerPool(start: () => Worker = startWorker, workers: number = WORKERS): WorkerPool {
  const idle: Worker[] = [];
  const all = new Set<Worker>();
  const waiting: Waiting[] = [];
  const running = new Set<Waiting>();

  const next = () => {
    if (waiting.length === 0) return;
    const worker = idle.pop() ?? (all.size < workers ? begin() : undefined);
    if (worker === undefined) return;
    give(worker, waiting.shift()!);
  };

  const begin = () => {
    const worker = start();
    worker.unref(); // an idle pool does not keep the program alive
    all.add(worker);
    return worker;
  };

  const drop = (worker: Worker) => {
    all.delete(worker);
    deafen(worker);
    return worker.terminate();
  };

  const give = (worker: Worker, job: Waiting) => {
    const finish = (outcome: () => void, keep: 'keep' | 'drop') => {
      running.delete(job);
      deafen(worker);
      worker.unref();
      if (keep === 'keep') idle.push(worker);
      outcome();
      if (keep === 'drop') void drop(worker).then(next);
      else next();
    };
    job.stop = () => finish(() => job.settle(cancelled()), 'drop');
    const crash = (error: Error) => finish(() => job.reject(error), 'drop');
    worker.ref();
    worker.on('message', (message: WorkerMessage) => {
      switch (message.kind) {
        case 'progress':
          return job.report(message.progress, message.sentence);
        case 'done':
          return finish(() => job.settle(message.result), 'keep');
        case 'bug':
          return crash(new Error(`in the vision worker: ${message.text}`));
      }
    });
    worker.on('error', crash);
    worker.on('exit', (code) => crash(new Error(`the vision worker ended by itself with code ${code}`)));
    running.add(job);
    worker.postMessage(job.order);
  };

  /** A worker answers an order with the result of its own kind. */
  const put = <R extends PhotoResult | PhotoLook>(
    order: WorkerOrder,
    report: Waiting['report'],
    signal: AbortSignal,
  ): Promise<Result<R>> =>
    new Promise((settle, reject) => {
      if (signal.aborted) return settle(cancelled());
      const stop = () => job.stop();
      const ending =
        <T extends unknown[]>(end: (...args: T) => void) =>
        (...args: T) => {
          signal.removeEventListener('abort', stop);
          end(...args);
        };
      const job: Waiting = {
        order,
        report,
        settle: ending((result) => settle(result as Result<R>)),
        reject: ending(reject),
        stop: () => {
          waiting.splice(waiting.indexOf(job), 1);
          job.settle(cancelled());
        },
      };
      signal.addEventListener('abort', stop);
      waiting.push(job);
      next();
    });

  return {
    run: (task, report, signal) => put({ kind: 'read', task }, report, signal),
    look: (task, signal) => put({ kind: 'look', task }, () => {}, signal),
    close: async () => {
      for (const job of [...waiting, ...running]) job.stop();
      await Promise.all([...all].map(drop));
    },
  };
}

/** Only our own listeners: the worker's class keeps some of its own, without which messages stop. */
function deafen(worker: Worker): void {
  for (const event of ['message', 'error', 'exit']) worker.removeAllListeners(event);
}

function cancelled(): Result<never> {
  return fail(CANCELLED, 'The work was cancelled; nothing was changed.');
}

/** From the bundle when this file is one, else from the source. */
function startWorker(): Worker {
  const bundled = import.meta.url.endsWith('.js');
  // Its standard output is not joined to ours: a decoder that chatters there must not spoil our JSON.
  return new Worker(new URL(bundled ? './visionWorker.js' : './visionWorkerStart.mjs', import.meta.url), {
    stdout: true,
  });
}
