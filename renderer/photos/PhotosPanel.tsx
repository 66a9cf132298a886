// The step "Photos": photos that wait, how they are to be read, the reading itself, and the shots that were taken in.
import { useEffect } from 'preact/hooks';
import type { Actions } from '../app/actions.ts';
import { Fold } from '../app/Field.tsx';
import { FileButton } from '../app/FileButton.tsx';
import { currentSet, type WindowState } from '../state/windowState.ts';
import { Advice } from './Advice.tsx';
import { HowToRead } from './HowToRead.tsx';
import { PhonesFold } from './PhonesFold.tsx';
import { PhotoRow } from './PhotoRow.tsx';
import { ShotList } from './ShotList.tsx';
import { TapePanel } from './TapePanel.tsx';

interface Props {
  readonly state: WindowState;
  readonly actions: Actions;
}

export function PhotosPanel({ state, actions }: Props) {
  const { capture, shown } = state;
  const isReading = capture.job !== null;
  const again = currentSet(state)?.pieces.find(({ id }) => id === capture.again);
  const waiting = capture.photos.filter(({ reading }) => reading.state === 'waiting').length;
  const photo = shown?.kind === 'photo' ? capture.photos.find((one) => one.photo === shown.photo) : undefined;
  useEffect(() => {
    void actions.lookAhead();
  }, [capture.photos.length, isReading]);
  return (
    <aside class="panel" aria-label="Photos">
      <h2>Photos</h2>
      <div class="row">
        <FileButton actions={actions} sort="photos" class={capture.photos.length === 0 ? 'main' : ''}>
          Add photos
        </FileButton>
        <FileButton actions={actions} sort="set">
          Open a set or plan
        </FileButton>
      </div>
      {again !== undefined && (
        <p class="note">Add the new photo of {again.name}: names, seams and corrections by hand are carried over.</p>
      )}
      {capture.refused.map(({ name, sentence }) => (
        <p key={name} class="refused" role="alert">
          {sentence.includes(name) ? sentence : `${name}: ${sentence}`}
        </p>
      ))}
      {capture.photos.length > 0 && (
        <>
          <h3>To be read</h3>
          <ul class="photos" aria-label="Photos to be read">
            {capture.photos.map((one) => (
              <PhotoRow key={one.photo} photo={one} state={state} actions={actions} />
            ))}
          </ul>
          {photo?.look?.state === 'seen' && (
            <Advice advice={photo.look.advice} kind="photo" state={state} actions={actions} />
          )}
          {!isReading && photo !== undefined && <TapePanel photo={photo} state={state} actions={actions} />}
          {!isReading && <HowToRead state={state} actions={actions} />}
          {!isReading && waiting > 0 && (
            <button type="button" class="main wide" onClick={() => void actions.readPhotos()}>
              {waiting === 1 ? 'Read this photo' : `Read ${waiting} photos`}
            </button>
          )}
        </>
      )}
      {capture.job !== null && (
        <div class="job" role="status">
          <progress value={capture.job.progress} max={1} aria-label="Reading" />
          <p>{capture.job.sentence}</p>
          <button type="button" class="wide" onClick={() => void actions.cancelReading()}>
            Cancel
          </button>
        </div>
      )}
      {capture.warnings.length > 0 && (
        <section aria-label="What the reading noticed">
          <h3>Noticed</h3>
          <ul class="notes">
            {capture.warnings.map((warning) => (
              <li key={warning}>{warning}</li>
            ))}
          </ul>
        </section>
      )}
      <ShotList state={state} actions={actions} />
      <PhonesFold state={state} actions={actions} />
      <Fold title="Print reference cards">
        <p>Print at 100 %, then measure both rulers and type their lengths above when you read photos.</p>
        <div class="row">
          <button type="button" onClick={() => void actions.printCards('a4')}>
            A4
          </button>
          <button type="button" onClick={() => void actions.printCards('letter')}>
            Letter
          </button>
        </div>
      </Fold>
    </aside>
  );
}
