// What a plain pipeline of the same stages costs with the native OpenCV (tests/bench/native/pipeline.py), where the person
// has a Python with it: NOTCHWISE_PYTHON names that Python.
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';

/** Measured once on another machine: say it, do not judge by it. */
export const NATIVE_ELSEWHERE_CPU_SECONDS = 3.7;

const reply = z.object({
  cards: z.int(),
  pieces: z.int(),
  cpuSeconds: z.array(z.number()),
  peakMb: z.number(),
  stages: z.record(z.string(), z.number()),
});
export type NativeCost = z.infer<typeof reply>;

/** Null when there is no native OpenCV here. Throws when it is there and fails. */
export function nativeCost(photo: string): NativeCost | null {
  const python = process.env.NOTCHWISE_PYTHON;
  if (python === undefined || python === '') return null;
  if (spawnSync(python, ['-c', 'import cv2']).status !== 0) return null;
  const script = fileURLToPath(new URL('./native/pipeline.py', import.meta.url));
  const { stdout, stderr, status } = spawnSync(python, [script, photo], { encoding: 'utf8' });
  if (status !== 0) throw new Error(stderr);
  return reply.parse(JSON.parse(stdout));
}
