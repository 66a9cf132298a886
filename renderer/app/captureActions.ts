// Reading pieces from photos: the job on the host, its progress, its end, and the small pictures of the photos that wait.
import type { PatternSet } from '../../shared/pattern/model.ts';
import { printScaleOf } from '../photos/printScale.ts';
import { type CaptureState, currentSet, type WindowState } from '../state/windowState.ts';
import type { ActionParts } from './actionParts.ts';
import { pictureAddress } from './files.ts';

const THUMBNAIL_PX = 240;

export function makeCaptureActions({ store, bridge, tell, refuse, keeper }: ActionParts) {
  const change = (part: Partial<CaptureState>) => store.set((s) => ({ ...s, capture: { ...s.capture, ...part } }));

  const ended = async (handle: string): Promise<void> => {
    const reply = await bridge.call['job.state']({ job: handle });
    if (store.get().capture.job?.handle !== handle) return;
    if (!reply.ok) {
      change({ job: null });
      return refuse(reply.error);
    }
    const state = reply.value;
    if (state.state === 'running') return;
    change({ job: null });
    if (state.state === 'failed') return tell('error', state.error.sentence);
    if (state.state === 'cancelled') return tell('done', 'The reading was cancelled; nothing was changed.');
    const before = currentSet(store.get());
    const { document } = state.result;
    const count = store.get().capture.photos.length;
    const set = keeper.takeChange(document, count === 1 ? 'Read a photo' : `Read ${count} photos`);
    if (set === null) return;
    const shot = set.shots[before?.shots.length ?? 0];
    const traced = newlyTraced(before, set);
    store.set((s) => ({
      ...s,
      size: set.sizes.includes(s.size) ? s.size : set.baseSize,
      shown: shot === undefined ? s.shown : { kind: 'shot', shot: shot.id },
      selection: { ...s.selection, piece: traced[0] ?? null, edge: null, mark: null },
      capture: { ...s.capture, photos: [], refused: [], warnings: document.warnings.map(({ message }) => message) },
    }));
    tell(
      traced.length === 0 ? 'error' : 'done',
      traced.length === 0
        ? 'No pattern piece was found in these photos; lay it flat on a table of another colour, whole in the picture.'
        : `${traced.length === 1 ? 'One piece was' : `${traced.length} pieces were`} found; look whether the line follows the paper everywhere.`,
    );
  };

  bridge.on['job.progress'](({ job, progress, sentence }) =>
    store.set((s) =>
      s.capture.job?.handle === job ? { ...s, capture: { ...s.capture, job: { handle: job, progress, sentence } } } : s,
    ),
  );
  bridge.on['job.ended'](({ job }) => void ended(job));

  return {
    changeCapture: change,
    thumbnail: async (photo: string): Promise<void> => {
      const reply = await bridge.call['photo.picture']({ photo, maxSidePx: THUMBNAIL_PX });
      if (!reply.ok) return;
      const thumbnail = pictureAddress(reply.value.bytes, reply.value.mime);
      store.set((s) => withThumbnail(s, photo, thumbnail));
    },
    dropPhoto: (photo: string): void =>
      store.set((s) => ({
        ...s,
        shown: s.shown?.kind === 'photo' && s.shown.photo === photo ? null : s.shown,
        capture: { ...s.capture, photos: s.capture.photos.filter((one) => one.photo !== photo) },
      })),
    readPhotos: async (): Promise<void> => {
      const { open, capture } = store.get();
      if (open === null || capture.photos.length === 0 || capture.job !== null) return;
      const printScale = printScaleOf(capture.rulerX, capture.rulerY);
      if (!printScale.ok) return tell('error', printScale.error.sentence);
      await keeper.flush();
      const photos = capture.photos.map(({ photo }) => photo);
      const options = { line: capture.line, outline: capture.outline, printScale: printScale.value };
      const reply = await bridge.call['job.start']({ document: open.handle, photos, options });
      if (!reply.ok) return refuse(reply.error);
      change({ job: { handle: reply.value.job, progress: 0, sentence: 'Starting' }, warnings: [] });
      // A job that was over before its handle came here has told its end to nobody.
      await ended(reply.value.job);
    },
    cancelReading: async (): Promise<void> => {
      const { job } = store.get().capture;
      if (job === null) return;
      const reply = await bridge.call['job.cancel']({ job: job.handle });
      if (!reply.ok) refuse(reply.error);
    },
  };
}

/** Pieces whose shapes are not those they had. */
function newlyTraced(before: PatternSet | null, after: PatternSet): string[] {
  return after.pieces
    .filter((piece) => {
      const old = before?.pieces.find(({ id }) => id === piece.id);
      return JSON.stringify(old?.shapes ?? {}) !== JSON.stringify(piece.shapes);
    })
    .map(({ id }) => id);
}

function withThumbnail(state: WindowState, photo: string, thumbnail: string): WindowState {
  const photos = state.capture.photos.map((one) => (one.photo === photo ? { ...one, thumbnail } : one));
  return { ...state, capture: { ...state.capture, photos } };
}
