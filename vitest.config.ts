// Unit, source and property tests. `electron` is a fake for the whole suite: its runtime is not part of the package.
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  resolve: {
    alias: { electron: fileURLToPath(new URL('./tests/support/fakes/electron.ts', import.meta.url)) },
  },
  test: {
    include: ['tests/{unit,sources,properties}/**/*.test.{ts,tsx}'],
    testTimeout: 60_000,
    maxWorkers: '100%', // of the cores; by itself one is left idle, half of a small machine
  },
});
