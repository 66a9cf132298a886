// Window tests: the built renderer in a system Chromium, served by the loopback host.
import { defineConfig } from '@playwright/test';

export default defineConfig({
  testDir: 'tests/window',
  testMatch: '**/*.spec.ts',
  timeout: 240_000,
  // A machine that does other work as well is slow, not wrong.
  expect: { timeout: 20_000 },
  workers: 1,
  outputDir: 'test-results',
  use: {
    viewport: { width: 1360, height: 860 },
    launchOptions: {
      executablePath: process.env.NOTCHWISE_CHROMIUM ?? '/usr/bin/chromium',
      args: [
        '--no-sandbox',
        '--disable-gpu',
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
      ],
    },
  },
});
