// The wasm library for tests, loaded as the host loads it, once a process.
import { createRequire } from 'node:module';
import { loadOpenCv, type OpenCv } from '../../shared/vision/opencv/openCv.ts';
import type { StageContext } from '../../shared/vision/stageContext.ts';

let loaded: OpenCv | undefined;

export function testOpenCv(): OpenCv {
  loaded ??= loadOpenCv(createRequire(import.meta.url)('opencv-wasm').cv);
  return loaded;
}

/** A stage context for tests that keeps quiet about progress. */
export function testStageContext(): StageContext {
  return { cv: testOpenCv(), report: () => undefined };
}
