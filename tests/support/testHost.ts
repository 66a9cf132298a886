// A host for tests: memory disk, no dialogs unless given, handles that can be told apart, a pool that answers as it is told.
import type { WorkerPool } from '../../main/imaging/workerPool.ts';
import { makeHost } from '../../main/service/host.ts';
import type { HostParts } from '../../main/service/parts.ts';
import { fail } from '../../shared/base/result.ts';
import { memoryDisk } from './memoryDisk.ts';

/** Parts of a pool that a test does not speak of answer that there is no card. */
export const noPool: WorkerPool = {
  run: async () => fail('no-card', 'No card was found.'),
  look: async () => fail('no-card', 'No card was found.'),
  close: async () => {},
};

export function hostParts(changes: Partial<HostParts> = {}): HostParts {
  let count = 0;
  return {
    kind: 'loopback',
    version: '0.0.0-test',
    disk: memoryDisk(),
    folders: { data: '/data', logs: '/logs', archive: '/archive' },
    pool: noPool,
    dialogs: null,
    now: () => new Date(2026, 10, 25),
    newHandle: () => `handle-${++count}`,
    openAtStart: null,
    reportBug: async (error) => `Bug: ${error instanceof Error ? error.message : String(error)}`,
    ...changes,
  };
}

export async function testHost(changes: Partial<HostParts> = {}) {
  const parts = hostParts(changes);
  const host = await makeHost(parts);
  if (!host.ok) throw new Error(host.error.sentence);
  return { ...host.value, parts };
}
