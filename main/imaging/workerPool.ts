// A small pool of vision workers: tasks wait in line, each worker does one at a time. Cancelling ends the worker that has
// the task and starts a fresh one for the next: no stage needs to poll, nothing can hang.
import { Worker } from 'node:worker_threads';
import { fail, type Result } from '../../shared/base/result.ts';
import type { PhotoResult, VisionTask, WorkerMessage } from './visionJob.ts';

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
  readonly close: () => Promise<void>;
}

interface Waiting {
  readonly task: VisionTask;
  readonly report: (progress: number, sentence: string) => void;
  readonly signal: AbortSignal;
  readonly settle: (result: Result<PhotoResult>) => void;
  readonly reject: (error: Error) => void;
}

/** `start` makes a worker; tests hand in their own. */
export function makeWorkerPool(start: () => Worker = startWorker, workers: number = WORKERS): WorkerPool {
  const idle: Worker[] = [];
  const all = new Set<Worker>();
  const waiting: Waiting[] = [];
  const stops = new Set<() => void>();

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
    worker.removeAllListeners();
    return worker.terminate();
  };

  const give = (worker: Worker, job: Waiting) => {
    const finish = (outcome: () => void, keep: 'keep' | 'drop') => {
      job.signal.removeEventListener('abort', abort);
      stops.delete(abort);
      worker.removeAllListeners();
      worker.unref();
      if (keep === 'keep') idle.push(worker);
      outcome();
      if (keep === 'drop') void drop(worker).then(next);
      else next();
    };
    const abort = () => finish(() => job.settle(cancelled()), 'drop');
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
    job.signal.addEventListener('abort', abort, { once: true });
    stops.add(abort);
    worker.postMessage(job.task);
  };

  return {
    run: (task, report, signal) =>
      new Promise((settle, reject) => {
        if (signal.aborted) return settle(cancelled());
        const job: Waiting = { task, report, signal, settle, reject };
        waiting.push(job);
        signal.addEventListener('abort', () => {
          const place = waiting.indexOf(job);
          if (place === -1) return; // a worker has it and hears the signal itself
          waiting.splice(place, 1);
          settle(cancelled());
        });
        next();
      }),
    close: async () => {
      for (const job of waiting.splice(0)) job.settle(cancelled());
      for (const stop of [...stops]) stop();
      await Promise.all([...all].map(drop));
    },
  };
}

function cancelled(): Result<never> {
  return fail(CANCELLED, 'The work was cancelled; nothing was changed.');
}

/** From the bundle when this file is one, else from the source. */
function startWorker(): Worker {
  const bundled = import.meta.url.endsWith('.js');
  return new Worker(new URL(bundled ? './visionWorker.js' : './visionWorkerStart.mjs', import.meta.url));
}
