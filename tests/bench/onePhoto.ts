// Does what a worker does with a photo, twice with the same one, and prints what it cost. A process of its own, so that peak
// memory belongs to nobody else.
// Arguments: a photo file. Output: JSON.
import { readFileSync } from 'node:fs';
import { carryOut } from '../../main/imaging/readPhoto.ts';
import { CHECKED_PRINT } from './captureCases.ts';

export interface PhotoCost {
  readonly wallSeconds: number;
  readonly cpuSeconds: number;
  readonly peakMb: number;
  /** Processor seconds of each stage, by the words that announce it. */
  readonly stages: Readonly<Record<string, number>>;
}

const file = process.argv[2];
if (file === undefined) throw new Error('name a photo');
const idleMb = process.resourceUsage().maxRSS / 1024;
const costs: PhotoCost[] = [];
for (let round = 0; round < 2; round++) {
  const started = performance.now();
  const cpu = process.cpuUsage();
  const stages: Record<string, number> = {};
  let [stage, since] = ['', cpu];
  const begin = (next: string): void => {
    const { user, system } = process.cpuUsage(since);
    if (stage !== '') stages[stage] = (user + system) / 1e6;
    [stage, since] = [next, process.cpuUsage()];
  };
  const photo = { name: 'photo', bytes: new Uint8Array(readFileSync(file)) };
  const read = await carryOut({ kind: 'read', task: { photo, options: CHECKED_PRINT } }, (_, sentence) =>
    begin(sentence),
  );
  begin('');
  if (!read.ok) throw new Error(read.error.sentence);
  const { user, system } = process.cpuUsage(cpu);
  costs.push({
    wallSeconds: (performance.now() - started) / 1000,
    cpuSeconds: (user + system) / 1e6,
    peakMb: process.resourceUsage().maxRSS / 1024,
    stages,
  });
}
console.log(JSON.stringify({ idleMb, costs }));
