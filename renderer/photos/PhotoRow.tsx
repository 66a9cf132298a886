// One photo that is not taken in yet: what a look at it found, how far its reading is, and what can be done with it.
import { useEffect } from 'preact/hooks';
import type { Actions } from '../app/actions.ts';
import type { AddedPhoto, WindowState } from '../state/windowState.ts';

interface Props {
  readonly photo: AddedPhoto;
  readonly state: WindowState;
  readonly actions: Actions;
}

/** Said by the panel for all photos at once. */
const SAID_ELSEWHERE = new Set(['print-unchecked', 'taped-distance-disagrees']);

export function PhotoRow({ photo, state, actions }: Props) {
  const { reading, look } = photo;
  const isBusy = state.capture.job !== null;
  const canRetry = reading.state === 'failed' || reading.state === 'cancelled';
  const isShown = state.shown?.kind === 'photo' && state.shown.photo === photo.photo;
  useEffect(() => {
    if (photo.thumbnail === null) void actions.thumbnail(photo.photo);
  }, [photo.photo]);
  const notes = [
    ...photo.notes,
    ...(look?.state === 'seen'
      ? look.warnings.filter(({ code }) => !SAID_ELSEWHERE.has(code)).map((w) => w.message)
      : []),
    ...(look?.state === 'seen' && look.phone === 'used'
      ? ['What earlier photos taught about this phone is used.']
      : []),
  ];
  return (
    <li data-state={reading.state}>
      <div class="photo-row">
        <button
          type="button"
          class="item photo"
          aria-pressed={isShown}
          onClick={() => {
            actions.patch({ shown: { kind: 'photo', photo: photo.photo } });
            actions.goTo({ kind: 'all' });
          }}
        >
          {photo.thumbnail === null ? <span class="thumb" /> : <img class="thumb" src={photo.thumbnail} alt="" />}
          <span>
            <strong>{photo.name}</strong>
            <small>
              {Math.round((photo.widthPx * photo.heightPx) / 100_000) / 10} megapixels, {stateWords(photo)}
            </small>
          </span>
        </button>
        {reading.state === 'reading' ? (
          <button
            type="button"
            aria-label={`Stop reading ${photo.name}`}
            onClick={() => void actions.cancelPhoto(photo.photo)}
          >
            Stop
          </button>
        ) : (
          <button
            type="button"
            class="quiet"
            aria-label={`Leave ${photo.name} out`}
            disabled={isBusy}
            onClick={() => actions.dropPhoto(photo.photo)}
          >
            ×
          </button>
        )}
      </div>
      {reading.state === 'reading' && (
        <progress value={reading.progress} max={1} aria-label={`How far ${photo.name} is`} />
      )}
      {reading.state === 'failed' && (
        <p class="refused" role="alert">
          {reading.sentence}
        </p>
      )}
      {look?.state === 'refused' && reading.state !== 'failed' && (
        <p class="refused" role="alert">
          {look.sentence}
        </p>
      )}
      {canRetry && (
        <button
          type="button"
          class="wide"
          disabled={isBusy}
          aria-label={`Read ${photo.name} again`}
          onClick={() => void actions.readOnePhoto(photo.photo)}
        >
          Try again
        </button>
      )}
      {notes.length > 0 && (
        <ul class="notes">
          {notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
      )}
    </li>
  );
}

function stateWords({ reading, look }: AddedPhoto): string {
  switch (reading.state) {
    case 'reading':
      return reading.progress === 0 ? 'waits in line' : `${Math.round(100 * reading.progress)} % read`;
    case 'failed':
      return 'could not be read';
    case 'cancelled':
      return 'stopped';
    case 'read':
      return 'read';
    case 'waiting':
      break;
  }
  if (look === null) return 'being looked at';
  if (look.state === 'refused') return 'no use as it is';
  return `${look.cards.length} ${look.cards.length === 1 ? 'card' : 'cards'} seen`;
}
