// A worker thread: takes one task at a time, reports progress, answers once. It keeps the wasm library between tasks.
import { parentPort } from 'node:worker_threads';
import { readPhoto } from './readPhoto.ts';
import type { VisionTask, WorkerMessage } from './visionJob.ts';

if (parentPort === null) throw new Error('visionWorker runs as a worker thread only');
const port = parentPort;
const say = (message: WorkerMessage) => port.postMessage(message);

port.on('message', (task: VisionTask) => {
  readPhoto(task, (progress, sentence) => say({ kind: 'progress', progress, sentence })).then(
    (result) => say({ kind: 'done', result }),
    (error: unknown) =>
      say({ kind: 'bug', text: error instanceof Error ? (error.stack ?? error.message) : String(error) }),
  );
});
