// Runs every check and test, cheap first, and ends with one plain line `N passed, N failed` over all runners.
// A tool that only says yes or no (formatter, types, directions, dead code) counts as one.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { findChromium } from './support/chromium.ts';

interface Count {
  readonly passed: number;
  readonly failed: number;
}

const reports = mkdtempSync(join(tmpdir(), 'notchwise-tests-'));
const node = process.execPath;
const bin = (name: string) => join('node_modules', '.bin', name);

const counts: Count[] = [
  tool('format and lint', bin('biome'), ['ci', '--error-on-warnings']),
  tool('types', bin('tsc'), ['-b']),
  tool('import directions', bin('depcruise'), [
    'shared',
    'main',
    'renderer',
    'tests',
    '--config',
    '.dependency-cruiser.cjs',
  ]),
  tool('dead code', bin('knip'), []),
  tool('build', bin('vite'), ['build']),
  vitest(),
  playwright(),
];
rmSync(reports, { recursive: true, force: true });

const total = counts.reduce((a, b) => ({ passed: a.passed + b.passed, failed: a.failed + b.failed }));
console.log(`${total.passed} passed, ${total.failed} failed`);
process.exitCode = total.failed === 0 ? 0 : 1;

function tool(title: string, command: string, args: readonly string[]): Count {
  console.log(`\n== ${title}`);
  const { status } = spawnSync(command, args, { stdio: 'inherit' });
  return status === 0 ? { passed: 1, failed: 0 } : { passed: 0, failed: 1 };
}

function vitest(): Count {
  console.log('\n== unit, source and property tests');
  const file = join(reports, 'vitest.json');
  const { status } = spawnSync(
    node,
    ['node_modules/vitest/vitest.mjs', 'run', '--reporter=default', '--reporter=json', `--outputFile.json=${file}`],
    { stdio: 'inherit' },
  );
  const report = readReport(file) as {
    numPassedTests: number;
    numFailedTests: number;
    numFailedTestSuites: number;
  } | null;
  return settle(status, report === null ? null : { passed: report.numPassedTests, failed: report.numFailedTests });
}

function playwright(): Count {
  console.log('\n== window tests');
  const chromium = findChromium();
  if (!chromium.ok) {
    console.error(chromium.error.sentence);
    return { passed: 0, failed: 1 };
  }
  const file = join(reports, 'playwright.json');
  const { status } = spawnSync(node, ['node_modules/@playwright/test/cli.js', 'test', '--reporter=line,json'], {
    stdio: 'inherit',
    env: {
      ...process.env,
      NOTCHWISE_CHROMIUM: chromium.value,
      PLAYWRIGHT_JSON_OUTPUT_FILE: file,
      PLAYWRIGHT_JSON_OUTPUT_NAME: file,
    },
  });
  const report = readReport(file) as { stats: { expected: number; unexpected: number; flaky: number } } | null;
  return settle(
    status,
    report === null ? null : { passed: report.stats.expected, failed: report.stats.unexpected + report.stats.flaky },
  );
}

/** A runner that failed without counting a failure, or wrote no report, counts as one failure. */
function settle(status: number | null, count: Count | null): Count {
  if (count === null) return { passed: 0, failed: 1 };
  if (status !== 0 && count.failed === 0) return { passed: count.passed, failed: 1 };
  return count;
}

function readReport(file: string): unknown {
  try {
    return JSON.parse(readFileSync(file, 'utf8'));
  } catch (error) {
    console.error(`The runner left no readable report: ${String(error)}`);
    return null;
  }
}
