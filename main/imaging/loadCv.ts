// Loads the wasm picture library, once a thread.
import { createRequire } from 'node:module';
import { loadOpenCv, type OpenCv } from '../../shared/vision/opencv/openCv.ts';

let loaded: OpenCv | undefined;

/** About 0.1 s the first time. */
export function openCv(): OpenCv {
  loaded ??= loadOpenCv((createRequire(import.meta.url)('opencv-wasm') as { cv: unknown }).cv);
  return loaded;
}
