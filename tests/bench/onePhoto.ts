// Reads the same photo twice in a process of its own and prints what it cost, so that peak memory belongs to nobody else.
// Arguments: a photo file. Output: JSON.
import { readFileSync } from 'node:fs';
import { decodePhoto } from '../../main/imaging/decodePhoto.ts';
import { openCv } from '../../main/imaging/loadCv.ts';
import { capturePhoto } from '../../shared/usecases/capture.ts';
import { CHECKED_PRINT } from './captureCases.ts';

export interface PhotoCost {
  readonly wallSeconds: number;
  readonly cpuSeconds: number;
  readonly peakMb: number;
}

const file = process.argv[2];
if (file === undefined) throw new Error('name a photo');
const idleMb = process.resourceUsage().maxRSS / 1024;
const costs: PhotoCost[] = [];
for (let round = 0; round < 2; round++) {
  const started = performance.now();
  const cpu = process.cpuUsage();
  const decoded = await decodePhoto(file, readFileSync(file));
  if (!decoded.ok) throw new Error(decoded.error.sentence);
  const read = capturePhoto(decoded.value.photo, CHECKED_PRINT, { cv: openCv(), report: () => {} });
  if (!read.ok) throw new Error(read.error.sentence);
  const { user, system } = process.cpuUsage(cpu);
  costs.push({
    wallSeconds: (performance.now() - started) / 1000,
    cpuSeconds: (user + system) / 1e6,
    peakMb: process.resourceUsage().maxRSS / 1024,
  });
}
console.log(JSON.stringify({ idleMb, costs }));
