// A worker thread: takes one task at a time, reports progress, answers once. It keeps the wasm library between tasks.
import { parentPort } from 'node:worker_threads';
import { carryOut } from './readPhoto.ts';
import type { WorkerMessage, WorkerOrder } from './visionJob.ts';

if (parentPort === null) throw new Error('visionWorker runs as a worker thread only');
const port = parentPort;
const say = (message: WorkerMessage) => port.postMessage(message);

port.on('message', (order: WorkerOrder) => {
  carryOut(order, (progress, sentence) => say({ kind: 'progress', progress, sentence })).then(
    (result) => say({ kind: 'done', result }),
    (error: unknown) =>
      say({ kind: 'bug', text: error instanceof Error ? (error.stack ?? error.message) : String(error) }),
  );
});
