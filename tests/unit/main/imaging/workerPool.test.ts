import { Worker } from 'node:worker_threads';
import { describe, expect, it } from 'vitest';
import type { VisionTask } from '../../../../main/imaging/visionJob.ts';
import { makeWorkerPool } from '../../../../main/imaging/workerPool.ts';

/** A worker that answers by the photo's name, so that the pool is seen apart from the vision. */
const scripted = () =>
  new Worker(
    `const { parentPort, threadId } = require('node:worker_threads');
     parentPort.on('message', ({ task: { photo } }) => {
       parentPort.postMessage({ kind: 'progress', progress: 0.5, sentence: photo.name });
       if (photo.name === 'hang') return;
       if (photo.name === 'die') process.exit(3);
       if (photo.name === 'throw') throw new Error('broken on purpose');
       if (photo.name === 'bug') return parentPort.postMessage({ kind: 'bug', text: 'impossible' });
       parentPort.postMessage({ kind: 'done', result: { ok: true, value: { thread: threadId, name: photo.name } } });
     });`,
    { eval: true },
  );

const task = (name: string): VisionTask => ({
  photo: { name, bytes: new Uint8Array() },
  options: { printScale: null, line: 'centre', outline: 'auto', phones: [], taped: [] },
});
const never = new AbortController().signal;
const quiet = () => {};

describe('the worker pool', () => {
  it('answers every task, two at a time, and reports progress', async () => {
    const pool = makeWorkerPool(scripted, 2);
    const said: string[] = [];
    const results = await Promise.all(
      ['a', 'b', 'c', 'd'].map((name) => pool.run(task(name), (_progress, sentence) => said.push(sentence), never)),
    );
    expect(results.map((result) => result.ok && Reflect.get(result.value, 'name'))).toEqual(['a', 'b', 'c', 'd']);
    expect(new Set(results.map((result) => result.ok && Reflect.get(result.value, 'thread'))).size).toBe(2);
    expect(said.sort()).toEqual(['a', 'b', 'c', 'd']);
    await pool.close();
  });

  it('ends a task that hangs when it is cancelled, and works on', async () => {
    const pool = makeWorkerPool(scripted, 1);
    const abort = new AbortController();
    const hanging = pool.run(task('hang'), () => abort.abort(), abort.signal);
    const behind = pool.run(task('a'), quiet, never);
    expect(await hanging).toMatchObject({ ok: false, error: { code: 'cancelled' } });
    expect(await behind).toMatchObject({ ok: true });
    await pool.close();
  });

  it('takes a waiting task out of the line when it is cancelled', async () => {
    const pool = makeWorkerPool(scripted, 1);
    const first = new AbortController();
    const second = new AbortController();
    const hanging = pool.run(task('hang'), quiet, first.signal);
    const waiting = pool.run(task('a'), quiet, second.signal);
    second.abort();
    expect(await waiting).toMatchObject({ ok: false, error: { code: 'cancelled' } });
    first.abort();
    await hanging;
    await pool.close();
  });

  it('does not start what was cancelled before it was asked for', async () => {
    const pool = makeWorkerPool(() => {
      throw new Error('no worker should start');
    }, 1);
    expect(await pool.run(task('a'), quiet, AbortSignal.abort())).toMatchObject({ error: { code: 'cancelled' } });
  });

  for (const [name, message] of [
    ['die', /ended by itself with code 3/],
    ['throw', /broken on purpose/],
    ['bug', /impossible/],
  ] as const) {
    it(`rejects when a worker has a fault (${name}), and works on with a fresh one`, async () => {
      const pool = makeWorkerPool(scripted, 1);
      const failing = pool.run(task(name), quiet, never);
      const behind = pool.run(task('a'), quiet, never);
      await expect(failing).rejects.toThrow(message);
      expect(await behind).toMatchObject({ ok: true });
      await pool.close();
    });
  }

  it('cancels what runs and what waits when it is closed', async () => {
    const pool = makeWorkerPool(scripted, 1);
    const running = pool.run(task('hang'), quiet, never);
    const waiting = pool.run(task('a'), quiet, never);
    await pool.close();
    expect(await running).toMatchObject({ error: { code: 'cancelled' } });
    expect(await waiting).toMatchObject({ error: { code: 'cancelled' } });
  });

  it('starts the real worker from source: a photo without cards is refused, not guessed', async () => {
    const sharp = (await import('sharp')).default;
    const bytes = await sharp({ create: { width: 900, height: 700, channels: 3, background: '#b08850' } })
      .png()
      .toBuffer();
    const pool = makeWorkerPool();
    const result = await pool.run(
      { ...task('table.png'), photo: { name: 'table.png', bytes: new Uint8Array(bytes) } },
      quiet,
      never,
    );
    await pool.close();
    expect(result).toMatchObject({ ok: false, error: { code: 'no-card' } });
  });
});
