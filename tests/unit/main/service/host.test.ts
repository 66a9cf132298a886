import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import type { WorkerPool } from '../../../../main/imaging/workerPool.ts';
import { CALL_NAMES, calls, events } from '../../../../shared/contract/contract.ts';
import { memoryDisk } from '../../../support/memoryDisk.ts';
import { smallSet } from '../../../support/setJson.ts';
import { hostParts, noPool, testHost } from '../../../support/testHost.ts';

const json = (value: unknown) => new TextEncoder().encode(JSON.stringify(value));
const given = (name: string, bytes: Uint8Array) => ({ kind: 'given' as const, files: [{ name, bytes }] });

async function withSmallSet(changes: Parameters<typeof testHost>[0] = {}) {
  const host = await testHost(changes);
  const opened = await host.handlers['set.open']({ from: given('small.json', json(smallSet())) });
  if (!opened.ok) throw new Error(opened.error.sentence);
  return { ...host, opened: opened.value };
}

const photo = () =>
  sharp({ create: { width: 900, height: 700, channels: 3, background: '#a87' } })
    .png()
    .toBuffer()
    .then((buffer) => new Uint8Array(buffer));

describe('sets', () => {
  it('a set written by hand is opened, changed, saved to the archive and opened again', async () => {
    const { handlers, opened, parts } = await withSmallSet();
    expect(opened).toMatchObject({ title: 'Two panels', savedAs: null, unsaved: false });
    const changed = { ...opened.set, name: 'Two long panels' };
    expect(await handlers['set.update']({ document: opened.document, set: changed })).toEqual({
      ok: true,
      value: { unsaved: true },
    });
    const saved = await handlers['set.saveAs']({ document: opened.document, to: { kind: 'archive', name: 'x' } });
    expect(saved).toMatchObject({ ok: true, value: { names: ['x.notchwise'] } });
    const again = await testHost({ disk: parts.disk, openAtStart: '/archive/x.notchwise' });
    expect(await again.handlers['set.current']({})).toMatchObject({
      value: { title: 'Two long panels', savedAs: 'x.notchwise', unsaved: false },
    });
  });

  it('saving asks for a place the first time and knows it the second', async () => {
    const { handlers, opened } = await withSmallSet();
    const { document } = opened;
    expect(await handlers['set.save']({ document })).toMatchObject({ error: { code: 'never-saved' } });
    await handlers['set.saveAs']({ document, to: { kind: 'archive', name: 'x' } });
    expect(await handlers['set.save']({ document })).toMatchObject({ ok: true, value: { names: ['x.notchwise'] } });
  });

  it('a set that does not hold together is refused and the one before stays', async () => {
    const { handlers, opened } = await withSmallSet();
    const broken = structuredClone(opened.set) as ReturnType<typeof smallSet>;
    broken.seams[0]!.sides[0]![0]!.edge = 'nowhere';
    const refused = await handlers['set.update']({ document: opened.document, set: broken as never });
    expect(refused).toMatchObject({ error: { sentence: expect.stringContaining('names the edge "nowhere"') } });
    expect(await handlers['set.current']({})).toMatchObject({ value: { unsaved: false, set: opened.set } });
  });

  it('unsaved changes come back after the program was killed', async () => {
    const { handlers, opened, parts } = await withSmallSet();
    await handlers['set.update']({ document: opened.document, set: { ...opened.set, name: 'Unsaved work' } });
    const next = await testHost({ disk: parts.disk });
    expect(await next.handlers['set.current']({})).toMatchObject({
      value: { title: 'Unsaved work', unsaved: true, warnings: [{ code: 'recovered' }] },
    });
  });

  it('a read-only folder is a sentence, and nothing is lost', async () => {
    const { handlers, opened } = await withSmallSet({
      disk: memoryDisk((path) => (path.startsWith('/archive') ? 'EROFS' : null)),
    });
    const saved = await handlers['set.saveAs']({ document: opened.document, to: { kind: 'archive', name: 'x' } });
    expect(saved).toMatchObject({ error: { code: 'file-erofs', sentence: expect.stringContaining('read-only') } });
    expect(await handlers['set.current']({})).toMatchObject({ value: { title: 'Two panels' } });
  });

  it('goes back through the window as bytes where there is no dialog', async () => {
    const { handlers, opened } = await withSmallSet();
    const saved = await handlers['set.saveAs']({ document: opened.document, to: { kind: 'window' } });
    if (!saved.ok) throw new Error(saved.error.sentence);
    const [file] = saved.value.files;
    expect(file?.name).toBe('Two panels.notchwise');
    const again = await handlers['set.open']({ from: given(file!.name, file!.bytes) });
    expect(again.ok && again.value.set).toEqual(opened.set);
    expect(await handlers['set.open']({ from: { kind: 'pick' } })).toMatchObject({ error: { code: 'no-dialogs' } });
  });

  it('is picked and placed by the dialogs where there are some', async () => {
    const disk = memoryDisk();
    disk.files.set('/home/small.json', json(smallSet()));
    const dialogs = { pickFiles: async () => ['/home/small.json'], pickTarget: async () => '/home/mine.notchwise' };
    const { handlers } = await testHost({ disk, dialogs });
    const opened = await handlers['set.open']({ from: { kind: 'pick' } });
    if (!opened.ok) throw new Error(opened.error.sentence);
    // A bare JSON file is another program's: saving must ask for a place instead of writing over it.
    expect(opened.value.savedAs).toBeNull();
    await handlers['set.saveAs']({ document: opened.value.document, to: { kind: 'pick' } });
    expect(disk.files.has('/home/mine.notchwise')).toBe(true);
  });

  it('a document that is not open is a sentence', async () => {
    const { handlers } = await testHost();
    expect(await handlers['set.save']({ document: 'gone' })).toMatchObject({ error: { code: 'no-document' } });
  });
});

describe('photos and jobs', () => {
  it('takes pictures in and refuses the rest, each with its sentence', async () => {
    const { handlers, opened } = await withSmallSet();
    const added = await handlers['photos.add']({
      document: opened.document,
      from: {
        kind: 'given',
        files: [
          { name: 'a.png', bytes: await photo() },
          { name: 'b.txt', bytes: json(1) },
        ],
      },
    });
    expect(added).toMatchObject({
      value: {
        photos: [{ name: 'a.png', widthPx: 900, heightPx: 700, warnings: [] }],
        refused: [{ name: 'b.txt', code: 'not-a-picture' }],
      },
    });
  });

  const hanging: WorkerPool['run'] = (_task, _report, signal) =>
    new Promise((done) =>
      signal.addEventListener('abort', () => done({ ok: false, error: { code: 'cancelled', sentence: 'Cancelled.' } })),
    );

  async function startedJob(run: WorkerPool['run']) {
    const pool = { ...noPool, run };
    const host = await withSmallSet({ pool });
    const heard: unknown[] = [];
    let ended = () => {};
    const end = new Promise<void>((done) => {
      ended = done;
    });
    host.listen((name, value) => {
      events[name].parse(value);
      heard.push([name, value]);
      if (name === 'job.ended') ended();
    });
    const { document } = host.opened;
    const added = await host.handlers['photos.add']({ document, from: given('a.png', await photo()) });
    if (!added.ok) throw new Error(added.error.sentence);
    const { options } = calls['job.start'].args.parse({ document, photos: ['x'] });
    const job = await host.handlers['job.start']({ document, photos: [added.value.photos[0]!.photo], options });
    if (!job.ok) throw new Error(job.error.sentence);
    return { ...host, heard, end, job: job.value.job, photo: added.value.photos[0]!.photo };
  }

  it('a job tells its progress and ends with a failure that is a sentence', async () => {
    const { handlers, end, heard, job, photo } = await startedJob(async (_task, report) => {
      report(0.25, 'Looking for cards');
      return { ok: false, error: { code: 'no-card', sentence: 'No card.' } };
    });
    await end;
    expect(heard).toEqual([
      ['job.photo', { job, photo, state: 'reading', progress: 0.25, sentence: 'Looking for cards' }],
      ['job.progress', { job, progress: 0.25, sentence: 'Looking for cards' }],
      ['job.photo', { job, photo, state: 'failed', progress: 0, sentence: 'No card.' }],
      ['job.ended', { job, state: 'failed' }],
    ]);
    expect(await handlers['job.state']({ job })).toEqual({
      ok: true,
      value: { state: 'failed', error: { code: 'no-card', sentence: 'No card.' } },
    });
  });

  it('a job that hangs ends when it is cancelled', async () => {
    const { handlers, end, job } = await startedJob(hanging);
    expect(await handlers['job.state']({ job })).toMatchObject({ value: { state: 'running' } });
    await handlers['job.cancel']({ job, photo: null });
    await end;
    expect(await handlers['job.state']({ job })).toEqual({ ok: true, value: { state: 'cancelled' } });
  });

  it('one photo of a job can be left out; it says so, and the job ends when none is left', async () => {
    const { handlers, end, job, photo } = await startedJob(hanging);
    expect(await handlers['job.photos']({ job })).toMatchObject({ value: { photos: [{ photo, state: 'waiting' }] } });
    await handlers['job.cancel']({ job, photo });
    await end;
    expect(await handlers['job.photos']({ job })).toMatchObject({ value: { photos: [{ photo, state: 'cancelled' }] } });
    expect(await handlers['job.state']({ job })).toEqual({ ok: true, value: { state: 'cancelled' } });
  });

  it('a bug in a worker is a sentence too', async () => {
    const { handlers, end, job } = await startedJob(() => Promise.reject(new Error('impossible')));
    await end;
    expect(await handlers['job.state']({ job })).toMatchObject({
      value: { state: 'failed', error: { code: 'bug', sentence: 'Bug: impossible' } },
    });
  });
});

describe('work on a set', () => {
  it('checks, reports and exports what the window holds, saved or not', async () => {
    const { handlers, opened } = await withSmallSet();
    const { set } = opened;
    expect(await handlers['checks.run']({ set })).toMatchObject({ value: { format: 'notchwise-findings/1' } });
    const report = await handlers['report.html']({ set });
    expect(report.ok && report.value.html).toContain('Two panels');
    for (const as of ['svg', 'pdf'] as const) {
      const files = await handlers.export({ set, as, page: 'one', to: { kind: 'window' } });
      expect(files.ok && files.value.files.map((file) => file.name)).toEqual([`Two panels.${as}`]);
    }
  });

  it('imports its own export', async () => {
    const { handlers, opened } = await withSmallSet();
    const files = await handlers.export({ set: opened.set, as: 'svg', page: 'one', to: { kind: 'window' } });
    if (!files.ok) throw new Error(files.error.sentence);
    const [svg] = files.value.files;
    const imported = await handlers.import({ document: opened.document, from: given('panels.svg', svg!.bytes) });
    expect(imported).toMatchObject({
      value: {
        set: { pieces: [{ id: 'front-panel' }, { id: 'back-panel' }, { id: 'front-panel-2' }, { id: 'back-panel-2' }] },
      },
    });
  });

  it('gives the page of cards', async () => {
    const { handlers } = await testHost();
    const page = await handlers['card.page']({ page: 'a4', as: 'pdf', print: 1, to: { kind: 'window' } });
    expect(page.ok && new TextDecoder().decode(page.value.files[0]!.bytes.subarray(0, 5))).toBe('%PDF-');
    const none = await handlers['card.page']({ page: 'a4', as: 'pdf', print: 999, to: { kind: 'window' } });
    expect(none).toMatchObject({ error: { code: 'no-such-print' } });
  });
});

it('a host whose first set cannot be opened says why instead of starting', async () => {
  const { makeHost } = await import('../../../../main/service/host.ts');
  expect(await makeHost(hostParts({ openAtStart: '/nowhere.notchwise' }))).toMatchObject({
    ok: false,
    error: { code: 'file-enoent' },
  });
});

it('every request has arguments and a value in the contract, and a handler', async () => {
  const { handlers } = await testHost();
  expect(Object.keys(handlers).sort()).toEqual([...CALL_NAMES].sort());
  for (const name of CALL_NAMES) expect(calls[name].args.safeParse(undefined).success).toBe(false);
});
