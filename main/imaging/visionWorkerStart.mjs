// Starts the worker from its TypeScript source, when nothing has been bundled: a worker thread does not inherit the loader.
import { register } from 'tsx/esm/api';

register();
await import('./visionWorker.ts');
