// A look at a photo, and what is known about phones: the requests of the capture that need no job.
import { fail, ok } from '../../shared/base/result.ts';
import type { Handlers, ParsedArgs } from '../../shared/contract/contract.ts';
import type { Taped } from '../../shared/usecases/captured.ts';
import { shotQuality } from '../../shared/usecases/shots.ts';
import { isSettled } from '../../shared/vision/plane/phoneProfile.ts';
import type { PhoneStore } from '../files/phoneStore.ts';
import type { WorkerPool } from '../imaging/workerPool.ts';
import type { PhotoShelf } from './photoShelf.ts';

type GivenTape = ParsedArgs<'photo.look'>['options']['taped'][number];

export function lookHandlers(
  pool: WorkerPool,
  photos: PhotoShelf,
  phones: PhoneStore,
): Pick<Handlers, 'photo.look' | 'phones.list' | 'phones.forget'> {
  return {
    'photo.look': async ({ photo, options }) => {
      const file = photos.get(photo);
      if (!file.ok) return file;
      const known = await phones.all();
      if (!known.ok) return known;
      const taped = tapesOf(options.taped, photos);
      const settled = known.value.phones.filter(isSettled);
      const task = { photo: file.value, options: { printScale: options.printScale, phones: settled, taped } };
      const looked = await pool.look(task, new AbortController().signal);
      if (!looked.ok) return looked;
      const { widthPx, heightPx, cards, tiltDeg, quality, phone, tapes, taping, warnings } = looked.value;
      const { columns, rows, sigmaRatios, advice } = shotQuality(quality);
      return ok({
        widthPx,
        heightPx,
        cards: cards.map(({ id, outlinePx, tapeEndPx }) => ({
          id,
          outlinePx: outlinePx.map(([x, y]): [number, number] => [x, y]),
          tapeEndPx: [tapeEndPx[0], tapeEndPx[1]],
        })),
        tiltDeg,
        map: { columns, rows, sigmaRatios: [...sigmaRatios] },
        advice: [...advice],
        phone,
        tapes: [...tapes],
        taping,
        warnings: [...warnings],
      });
    },
    'phones.list': async () => {
      const known = await phones.all();
      if (!known.ok) return known;
      return ok({
        phones: known.value.phones.map((phone) => ({
          key: phone.key,
          name: [phone.make, phone.model, phone.lens].filter((part) => part !== '').join(' '),
          focal35Mm: phone.focal35Mm,
          photos: phone.photos,
          conflicts: phone.conflicts,
          used: isSettled(phone),
          lastTaught: phone.lastTaught ?? null,
        })),
        warnings: [...known.value.warnings],
      });
    },
    'phones.forget': async ({ key }) => {
      const gone = await phones.forget(key);
      if (!gone.ok) return gone;
      return gone.value ? ok({}) : fail('phone-unknown', 'Nothing is known about this phone any more.');
    },
  };
}

/** Tapes as the capture knows them; one that was picked in a photo that is gone says nothing any more. */
export function tapesOf(given: readonly GivenTape[], photos: PhotoShelf): readonly Taped[] {
  return given.flatMap((tape): Taped[] => {
    if (!('photo' in tape)) return [tape];
    const file = photos.get(tape.photo);
    return file.ok ? [{ ...tape, photo: file.value.name }] : [];
  });
}
