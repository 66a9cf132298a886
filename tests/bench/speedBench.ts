// What a photo of 12 MP costs: wall and processor time, peak memory, and whether a second photo costs more memory.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { benchScene } from '../photos/scenes.ts';
import { photoOf } from './captureCases.ts';
import type { PhotoCost } from './onePhoto.ts';
import { printTable } from './statistics.ts';

export async function speedBench(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'notchwise-bench-'));
  const file = join(folder, 'mat.jpg');
  writeFileSync(file, await photoOf(benchScene('mat', 1).scene));
  const script = fileURLToPath(new URL('./onePhoto.ts', import.meta.url));
  const { stdout, stderr, status } = spawnSync(process.execPath, ['--import', 'tsx', script, file], {
    encoding: 'utf8',
  });
  rmSync(folder, { recursive: true, force: true });
  if (status !== 0) throw new Error(stderr);
  const { idleMb, costs } = JSON.parse(stdout) as { idleMb: number; costs: readonly PhotoCost[] };
  printTable('One photo of 12 MP, from file to pieces', [
    ['', 'wall s', 'CPU s', 'peak MB'],
    ['program loaded', '', '', idleMb.toFixed(0)],
    ...costs.map((c, i) => [
      i === 0 ? 'first photo' : 'same again',
      c.wallSeconds.toFixed(2),
      c.cpuSeconds.toFixed(2),
      c.peakMb.toFixed(0),
    ]),
  ]);
}
