// Reading pieces from photos: a quick look at each, the job on the host, how far every photo is, its end, and the small
// pictures of the photos that wait.
import type { Point } from '../../shared/base/points.ts';
import type { CallValue, EventValue } from '../../shared/contract/contract.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { printScaleOf } from '../photos/printScale.ts';
import { givenTapes, tapeEndAt } from '../photos/tapes.ts';
import {
  type AddedPhoto,
  type CaptureState,
  currentSet,
  type TapeEnd,
  type WindowState,
} from '../state/windowState.ts';
import type { ActionParts } from './actionParts.ts';
import { pictureAddress } from './files.ts';
import { unitsOf } from './lengths.ts';

const THUMBNAIL_PX = 240;

export function makeCaptureActions({ store, bridge, tell, refuse, keeper }: ActionParts) {
  const change = (part: Partial<CaptureState>) => store.set((s) => ({ ...s, capture: { ...s.capture, ...part } }));
  const changePhoto = (photo: string, part: Partial<AddedPhoto>) =>
    store.set((s) => ({
      ...s,
      capture: {
        ...s.capture,
        photos: s.capture.photos.map((one) => (one.photo === photo ? { ...one, ...part } : one)),
      },
    }));

  let isLooking = false;
  /** Looks at the photos that have not been looked at, one after the other; reading goes first. */
  const lookAhead = async (): Promise<void> => {
    if (isLooking) return;
    isLooking = true;
    try {
      for (;;) {
        const { capture } = store.get();
        const next = capture.photos.find(({ look, reading }) => look === null && reading.state !== 'reading');
        if (next === undefined || capture.job !== null) return;
        const printScale = printScaleOf(capture.rulerX, capture.rulerY, unitsOf(store.get()));
        const { tapes } = capture;
        const options = { printScale: printScale.ok ? printScale.value : null, taped: givenTapes(tapes) };
        const reply = await bridge.call['photo.look']({ photo: next.photo, options });
        // Rulers or tapes that were typed meanwhile ask for another look.
        const isStale = store.get().capture.tapes !== tapes || rulersOf(store.get()) !== rulersOf({ capture });
        if (isStale) continue;
        changePhoto(next.photo, {
          look: reply.ok
            ? { state: 'seen', ...reply.value }
            : { state: 'refused', sentence: sentenceWithout(next.name, reply.error.sentence) },
        });
      }
    } finally {
      isLooking = false;
    }
  };
  const lookAgain = (): void => {
    store.set((s) => ({
      ...s,
      capture: { ...s.capture, photos: s.capture.photos.map((one) => ({ ...one, look: null })) },
    }));
    void lookAhead();
  };

  const listPhones = async (): Promise<void> => {
    const reply = await bridge.call['phones.list']({});
    if (!reply.ok) return refuse(reply.error);
    for (const { message } of reply.value.warnings) tell('error', message);
    change({ phones: reply.value.phones });
  };

  const onPhoto = ({ photo, state, progress, sentence }: Omit<EventValue<'job.photo'>, 'job'>): void => {
    if (state === 'failed') changePhoto(photo, { reading: { state, sentence } });
    else if (state === 'reading' || state === 'waiting')
      changePhoto(photo, { reading: { state: 'reading', progress, sentence } });
    else changePhoto(photo, { reading: { state } });
  };
  /** What the job says of every photo; events may have come before its handle did. */
  const askPhotos = async (job: string): Promise<void> => {
    const reply = await bridge.call['job.photos']({ job });
    if (reply.ok) for (const photo of reply.value.photos) onPhoto(photo);
  };

  const ended = async (handle: string): Promise<void> => {
    const reply = await bridge.call['job.state']({ job: handle });
    if (store.get().capture.job?.handle !== handle) return;
    if (!reply.ok) {
      change({ job: null });
      return refuse(reply.error);
    }
    const state = reply.value;
    if (state.state === 'running') return;
    await askPhotos(handle);
    change({ job: null });
    if (state.state === 'failed') {
      const isSaidByPhoto = store.get().capture.photos.some(({ reading }) => reading.state === 'failed');
      store.set((s) => withWaiting(s, ['read']));
      if (!isSaidByPhoto) tell('error', state.error.sentence);
      return;
    }
    if (state.state === 'cancelled') {
      store.set((s) => withWaiting(s, ['read', 'reading', 'cancelled']));
      return tell('done', 'The reading was cancelled; nothing was changed.');
    }
    done(state.result);
  };
  const done = ({ document }: Extract<CallValue<'job.state'>, { state: 'done' }>['result']): void => {
    const before = currentSet(store.get());
    const read = store.get().capture.photos.filter(({ reading }) => reading.state === 'read');
    const set = keeper.takeChange(document, read.length === 1 ? 'Read a photo' : `Read ${read.length} photos`);
    if (set === null) return;
    const known = new Set(before?.shots.map(({ id }) => id));
    const shot = set.shots.find(({ id }) => !known.has(id));
    const traced = newlyTraced(before, set);
    const left = store.get().capture.photos.filter(({ reading }) => reading.state !== 'read');
    const saidByPhotos = new Set(left.flatMap(({ reading }) => (reading.state === 'failed' ? [reading.sentence] : [])));
    store.set((s) => ({
      ...s,
      size: set.sizes.includes(s.size) ? s.size : set.baseSize,
      shown: shot === undefined ? s.shown : { kind: 'shot', shot: shot.id },
      selection: { ...s.selection, piece: traced[0] ?? null, edge: null, mark: null },
      capture: {
        ...s.capture,
        photos: left,
        kept: [...s.capture.kept.filter(({ photo }) => !read.some((one) => one.photo === photo)), ...read],
        refused: [],
        again: null,
        taping: null,
        warnings: [...new Set(document.warnings.map(({ message }) => message))].filter((m) => !saidByPhotos.has(m)),
      },
    }));
    void listPhones();
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
  bridge.on['job.photo'](({ job, ...photo }) => {
    if (store.get().capture.job?.handle === job) onPhoto(photo);
  });
  bridge.on['job.ended'](({ job }) => void ended(job));

  const read = async (photos: readonly AddedPhoto[]): Promise<void> => {
    const { open, capture } = store.get();
    if (open === null || photos.length === 0 || capture.job !== null) return;
    const printScale = printScaleOf(capture.rulerX, capture.rulerY, unitsOf(store.get()));
    if (!printScale.ok) return tell('error', printScale.error.sentence);
    await keeper.flush();
    const { line, outline, arrangement, again, tapes } = capture;
    const options = { line, outline, arrangement, again, printScale: printScale.value, taped: givenTapes(tapes) };
    const handles = photos.map(({ photo }) => photo);
    const reply = await bridge.call['job.start']({ document: open.handle, photos: handles, options });
    if (!reply.ok) return refuse(reply.error);
    const waiting = { state: 'reading', progress: 0, sentence: 'Waiting' } as const;
    for (const photo of handles) changePhoto(photo, { reading: waiting });
    change({ job: { handle: reply.value.job, progress: 0, sentence: 'Starting' }, warnings: [], taping: null });
    await askPhotos(reply.value.job);
    // A job that was over before its handle came here has told its end to nobody.
    await ended(reply.value.job);
  };
  const cancel = async (photo: string | null): Promise<void> => {
    const { job } = store.get().capture;
    if (job === null) return;
    const reply = await bridge.call['job.cancel']({ job: job.handle, photo });
    if (!reply.ok) refuse(reply.error);
  };

  return {
    changeCapture: change,
    lookAhead,
    lookAgain,
    listPhones,
    forgetPhone: async (key: string): Promise<void> => {
      const reply = await bridge.call['phones.forget']({ key });
      if (!reply.ok) refuse(reply.error);
      await listPhones();
    },
    thumbnail: async (photo: string): Promise<void> => {
      const reply = await bridge.call['photo.picture']({ photo, maxSidePx: THUMBNAIL_PX });
      if (reply.ok) changePhoto(photo, { thumbnail: pictureAddress(reply.value.bytes, reply.value.mime) });
    },
    dropPhoto: (photo: string): void =>
      store.set((s) => ({
        ...s,
        shown: s.shown?.kind === 'photo' && s.shown.photo === photo ? null : s.shown,
        capture: {
          ...s.capture,
          photos: s.capture.photos.filter((one) => one.photo !== photo),
          taping: s.capture.taping?.photo === photo ? null : s.capture.taping,
        },
      })),
    /** Everything that waits. */
    readPhotos: (): Promise<void> =>
      read(store.get().capture.photos.filter(({ reading }) => reading.state === 'waiting')),
    readOnePhoto: (photo: string): Promise<void> =>
      read(store.get().capture.photos.filter((one) => one.photo === photo)),
    /** Puts a photo that was read back among those that wait. */
    takeUpAgain: (photo: string): void => {
      store.set((s) => {
        const again = s.capture.kept.find((one) => one.photo === photo);
        if (again === undefined) return s;
        const waiting: AddedPhoto = { ...again, reading: { state: 'waiting' }, look: null };
        const kept = s.capture.kept.filter((one) => one.photo !== photo);
        return {
          ...s,
          shown: { kind: 'photo', photo },
          goTo: { kind: 'all' },
          capture: { ...s.capture, kept, photos: [...s.capture.photos, waiting] },
        };
      });
      void lookAhead();
    },
    cancelReading: (): Promise<void> => cancel(null),
    cancelPhoto: (photo: string): Promise<void> => cancel(photo),

    startTape: (photo: string): void => {
      store.set((s) => ({ ...s, shown: { kind: 'photo', photo } }));
      change({ taping: { photo, ends: [] } });
    },
    /** An end of the tape by a click in the photo. */
    tapeAt: (atPx: Point): void => {
      const { capture } = store.get();
      const photo = capture.photos.find((one) => one.photo === capture.taping?.photo);
      if (capture.taping === null || photo === undefined) return;
      const ends = capture.taping.ends.length === 2 ? [] : capture.taping.ends;
      change({ taping: { photo: photo.photo, ends: [...ends, tapeEndAt(photo, atPx)] } });
    },
    tapeBetween: (photo: string, ends: readonly TapeEnd[]): void => change({ taping: { photo, ends } }),
    addTape: (lengthMm: number): void => {
      const { taping, tapes } = store.get().capture;
      const [from, to] = taping?.ends ?? [];
      if (taping === null || from === undefined || to === undefined) return;
      change({ taping: null, tapes: [...tapes, { photo: taping.photo, from, to, lengthMm }] });
      lookAgain();
    },
    removeTape: (index: number): void => {
      change({ tapes: store.get().capture.tapes.filter((_, i) => i !== index) });
      lookAgain();
    },
  };
}

function rulersOf({ capture }: Pick<WindowState, 'capture'>): string {
  return `${capture.rulerX} ${capture.rulerY}`;
}

/** The row of the photo says its name already. */
function sentenceWithout(name: string, sentence: string): string {
  return sentence.startsWith(`${name} `) ? `It ${sentence.slice(name.length + 1)}` : sentence;
}

/** After nothing came of a reading, photos in these states wait as they did before. */
function withWaiting(state: WindowState, from: readonly AddedPhoto['reading']['state'][]): WindowState {
  const photos = state.capture.photos.map(
    (one): AddedPhoto => (from.includes(one.reading.state) ? { ...one, reading: { state: 'waiting' } } : one),
  );
  return { ...state, capture: { ...state.capture, photos } };
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
