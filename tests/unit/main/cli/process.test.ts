import { execFile, spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type TraceV1, traceV1 } from '../../../../shared/formats/trace/v1.ts';
import { againstSchemaFile } from '../../../support/schemaFile.ts';

const PROGRAM = ['node_modules/tsx/dist/cli.mjs', 'main/cli/index.ts'];

/** The program as a process of its own, the way other programs start it. */
function notchwise(...argv: readonly string[]): Promise<{ exit: number; out: string; err: string }> {
  return new Promise((done) => {
    execFile(process.execPath, [...PROGRAM, ...argv], { maxBuffer: 1e9 }, (error, out, err) => {
      done({ exit: typeof error?.code === 'number' ? error.code : 0, out, err });
    });
  });
}

describe('the program as a process', () => {
  it('traces a photo to one JSON document of its format', async () => {
    const photo = 'assets/demo/photos/marl-m/2-sleeve-and-band.jpg';
    const { exit, out } = await notchwise('trace', photo, '--print-scale', '1,1', '--json');
    expect(exit).toBe(0);
    const trace = traceV1.strict().parse(JSON.parse(out));
    expect(againstSchemaFile('notchwise-trace-1', JSON.parse(out))).toEqual([]);
    expect(trace.photos).toMatchObject([{ file: '2-sleeve-and-band.jpg', cards: { length: 4 } }]);
    expect(trace.pieces).toHaveLength(2);
    for (const piece of trace.pieces) expectEdgesOnOutline(piece);
  });

  it('ends quietly when its reader stops reading', async () => {
    const program = spawn(process.execPath, [...PROGRAM, 'check', '--help'], { stdio: ['ignore', 'pipe', 'pipe'] });
    program.stdout.destroy();
    let err = '';
    program.stderr.on('data', (chunk) => {
      err += chunk;
    });
    const exit = await new Promise((done) => program.on('close', done));
    expect([exit, err]).toEqual([0, '']);
  });

  it('is ended by Ctrl-C in the middle of the photos: exit code 130, one line, and no file begun', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'notchwise-ended-'));
    const argv = ['demo', '--no-window', '--out', folder];
    // The loader is given to the process itself: a signal then reaches the program alone.
    const program = spawn(process.execPath, ['--import', 'tsx', 'main/cli/index.ts', ...argv], {
      env: { ...process.env, NOTCHWISE_HOME: join(folder, 'home') },
    });
    // It has said that it reads the photos.
    program.stdout.once('data', () => program.kill('SIGINT'));
    let err = '';
    program.stderr.on('data', (chunk) => {
      err += chunk;
    });
    const exit = await new Promise((done) => program.on('close', done));
    const written = readdirSync(folder, { recursive: true });
    rmSync(folder, { recursive: true });
    expect([exit, err, written]).toEqual([130, 'The work was cancelled; nothing was changed.\n', []]);
  });

  it('refuses with exit code 2 and one line, without a trace', async () => {
    const { exit, out, err } = await notchwise('check', 'package.json');
    expect([exit, out]).toEqual([2, '']);
    expect(err).toBe('package.json names no format; a set says "format": "notchwise-set/1".\n');
  });
});

/** Each edge starts where the one before ends, and both lie on the outline. */
function expectEdgesOnOutline({ edges, outline }: TraceV1['pieces'][number]): void {
  edges.forEach((edge, i) => {
    expect(edges[(i + 1) % edges.length]!.fromMm).toEqual(edge.toMm);
    const [x, y] = edge.fromMm;
    const nearest = Math.min(...outline.points.map(([px, py]) => Math.hypot(px - x, py - y)));
    expect(nearest).toBeLessThan(0.5);
    expect(edge.sigmaMm).toBeGreaterThan(0);
  });
}
