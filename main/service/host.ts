// The contract, implemented once: what every window's request does. The carriers (desktop, loopback) only bring requests
// here and take replies and events back. A handler that is missing does not compile.
import { fail, ok, type Result } from '../../shared/base/result.ts';
import type { CallReply, Handlers } from '../../shared/contract/contract.ts';
import { setDocument } from '../../shared/formats/set/write.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { packSet, unpackSet } from '../../shared/usecases/archive.ts';
import { exportFiles } from '../../shared/usecases/exportSet.ts';
import { importInto } from '../../shared/usecases/importFiles.ts';
import { cardPage } from '../../shared/usecases/printCards.ts';
import { proposeFor } from '../../shared/usecases/proposeSeams.ts';
import { reportOf } from '../../shared/usecases/report.ts';
import { emptySet } from '../../shared/usecases/setFromCapture.ts';
import { traceDocument } from '../../shared/usecases/traceDocument.ts';
import { makeVerifier } from '../../shared/usecases/verify.ts';
import { phoneStore } from '../files/phoneStore.ts';
import { rulePages } from '../files/rulePages.ts';
import { fileNameFor, SET_ENDING } from '../files/setStore.ts';
import { previewPhoto } from '../imaging/decodePhoto.ts';
import { type CaptureWork, capturePhotos } from './captureJob.ts';
import { changeHandlers } from './changes.ts';
import { deliver, receive, targetPath } from './delivery.ts';
import { type DocumentState, type Documents, openDocuments, shown } from './documents.ts';
import { fitHandlers } from './fit.ts';
import { makeJobs } from './jobs.ts';
import { lookHandlers } from './looking.ts';
import { modelOf } from './modelOf.ts';
import type { EventListener, HostParts } from './parts.ts';
import { makePhotoShelf } from './photoShelf.ts';

export interface Host {
  readonly handlers: Handlers;
  /** Gives a function that ends the listening. */
  readonly listen: (listener: EventListener) => () => void;
  /** Ends running work and the workers. */
  readonly close: () => Promise<void>;
}

const SET_MIME = 'application/zip';

export async function makeHost(parts: HostParts): Promise<Result<Host>> {
  // Remembers what it judged: the window asks after every change.
  const verify = makeVerifier();
  const listeners = new Set<EventListener>();
  const tell: EventListener = (name, value) => {
    for (const listener of listeners) listener(name, value);
  };
  const documents = openDocuments(parts);
  const photos = makePhotoShelf(parts.newHandle);
  const phones = phoneStore(parts.disk, parts.folders, parts.now);
  const jobs = makeJobs(parts.newHandle, tell, parts.reportBug);

  await documents.recover();
  if (parts.openAtStart !== null) {
    const opened = await documents.openPath(parts.openAtStart);
    if (!opened.ok) return opened;
  }

  const handlers: Handlers = {
    'app.info': async () =>
      ok({
        version: parts.version,
        host: parts.kind,
        canPick: parts.dialogs !== null,
        archiveName: parts.folders.archive,
      }),

    'set.new': async ({ name }) => ok(shown(documents.add({ ...blank(emptySet(name)), title: name }))),
    'set.open': async ({ from }) => openOne(documents, await receive(parts, from, 'set')),
    'set.current': async () => {
      const current = documents.current();
      return ok(current === null ? null : shown(current));
    },
    'set.update': async ({ document, set }) => {
      const read = modelOf(set);
      if (!read.ok) return read;
      const changed = await documents.change(document, { set: read.value });
      return changed.ok ? ok({ unsaved: changed.value.unsaved }) : changed;
    },
    'set.save': async ({ document }) => {
      const state = documents.get(document);
      if (!state.ok) return state;
      if (state.value.path === null) {
        return fail('never-saved', 'This set has not been saved yet; choose where to save it.');
      }
      return saveAt(documents, document, state.value.path);
    },
    'set.saveAs': async ({ document, to }) => {
      const state = documents.get(document);
      if (!state.ok) return state;
      const name = fileNameFor(state.value.title) + SET_ENDING;
      if (to.kind === 'window') {
        return deliver(parts, [{ name, mime: SET_MIME, content: packSet(state.value, parts.now()) }], to);
      }
      const path = await targetPath(parts, name, to);
      if (!path.ok) return path;
      const made = to.kind === 'archive' ? await parts.disk.makeFolder(parts.folders.archive) : ok(undefined);
      return made.ok ? saveAt(documents, document, path.value) : made;
    },

    'photos.add': async ({ document, from }) => {
      const state = documents.get(document);
      if (!state.ok) return state;
      const files = await receive(parts, from, 'photos');
      return files.ok ? ok(await photos.add(files.value)) : files;
    },
    'photo.picture': async ({ photo, maxSidePx }) => {
      const kept = photos.get(photo);
      if (!kept.ok) return kept;
      const preview = await previewPhoto(kept.value.name, kept.value.bytes, maxSidePx);
      return preview.ok ? ok({ mime: 'image/jpeg', ...preview.value }) : preview;
    },

    'job.start': async ({ document, photos: handles, options }) => {
      const state = documents.get(document);
      if (!state.ok) return state;
      const held = photos.all(handles);
      if (!held.ok) return held;
      const work: CaptureWork = { pool: parts.pool, documents, document, photos, handles, options, phones };
      const job = jobs.start(handles, async (progress) => {
        const done = await capturePhotos(work, progress);
        if (!done.ok) return done;
        return ok({ document: shown(done.value.state), trace: traceDocument(done.value.capture) });
      });
      return ok({ job });
    },
    'job.state': async ({ job }) => jobs.state(job),
    'job.photos': async ({ job }) => jobs.photos(job),
    'job.cancel': async ({ job, photo }) => jobs.cancel(job, photo),
    ...lookHandlers(parts.pool, photos, phones),

    'shot.picture': async ({ document, shot }) => {
      const state = documents.get(document);
      return state.ok ? shotPicture(state.value, shot) : state;
    },

    'seams.propose': async ({ set }) => {
      const read = modelOf(set);
      return read.ok ? ok({ set: setDocument(proposeFor(read.value)) }) : read;
    },
    'checks.run': async ({ set }) => {
      const read = modelOf(set);
      // A copy with an index signature: the contract carries the format as an open object.
      return read.ok ? ok({ ...verify(read.value).findings }) : read;
    },
    ...changeHandlers,
    ...fitHandlers(parts),
    'report.html': async ({ set }) => {
      const read = modelOf(set);
      if (!read.ok) return read;
      const pages = await rulePages();
      return pages.ok ? ok({ html: reportOf(read.value, pages.value) }) : pages;
    },
    export: async ({ set, as, page, to }) => {
      const read = modelOf(set);
      if (!read.ok) return read;
      const files = await exportFiles(read.value, as, { page });
      return files.ok ? deliver(parts, files.value, to) : files;
    },
    import: async ({ document, from }) => {
      const state = documents.get(document);
      if (!state.ok) return state;
      const files = await receive(parts, from, 'drawings');
      if (!files.ok) return files;
      const imported = importInto(state.value.set, files.value, (bytes) => new TextDecoder().decode(bytes));
      if (!imported.ok) return imported;
      const changed = await documents.change(document, { set: imported.value.value });
      if (!changed.ok) return changed;
      return ok(shown({ ...changed.value, warnings: imported.value.warnings }));
    },
    'card.page': async ({ page, as, print, to }) => {
      const file = await cardPage(page, as, print);
      return file.ok ? deliver(parts, [file.value], to) : file;
    },
  };

  return ok({
    handlers,
    listen: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    close: async () => {
      jobs.close();
      await parts.pool.close();
    },
  });
}

function blank(set: PatternSet): Omit<DocumentState, 'handle' | 'title'> {
  return { path: null, set, pictures: new Map(), unsaved: false, warnings: [] };
}

async function openOne(
  documents: Documents,
  files: Awaited<ReturnType<typeof receive>>,
): Promise<CallReply<'set.open'>> {
  if (!files.ok) return files;
  const [file] = files.value;
  if (file === undefined) return fail('not-chosen', 'Nothing was chosen.');
  if (file.path !== null) {
    const opened = await documents.openPath(file.path);
    return opened.ok ? ok(shown(opened.value)) : opened;
  }
  const unpacked = unpackSet(file.name, file.bytes);
  if (!unpacked.ok) return unpacked;
  const { set, pictures, warnings } = unpacked.value;
  return ok(shown(documents.add({ title: set.name, path: null, set, pictures, unsaved: false, warnings })));
}

async function saveAt(documents: Documents, handle: string, path: string): Promise<CallReply<'set.save'>> {
  const saved = await documents.saveTo(handle, path);
  if (!saved.ok) return saved;
  const { savedAs } = shown(saved.value);
  return ok({ names: savedAs === null ? [] : [savedAs], sentence: `Saved as ${path}.`, files: [] });
}

function shotPicture(state: DocumentState, shotId: string): CallReply<'shot.picture'> {
  const picture = state.set.shots.find((shot) => shot.id === shotId)?.picture;
  const bytes = picture && state.pictures.get(picture.file);
  if (picture === undefined || bytes === undefined) {
    return fail('no-picture', 'No picture of this shot was kept.');
  }
  const { widthPx, heightPx, mmPerPixel, originMm } = picture;
  return ok({ mime: 'image/jpeg', bytes, widthPx, heightPx, mmPerPixel, originMm: [originMm[0], originMm[1]] });
}
