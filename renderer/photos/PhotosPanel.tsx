// The step "Photos": photos that wait, how they are to be read, the reading itself, and the shots that were taken in.
import { useEffect } from 'preact/hooks';
import { RULER_MM } from '../../shared/vision/cards/pageDrawing.ts';
import type { Actions } from '../app/actions.ts';
import { Choice, Fold } from '../app/Field.tsx';
import { FileButton } from '../app/FileButton.tsx';
import { type AddedPhoto, type CaptureState, currentSet, type WindowState } from '../state/windowState.ts';

interface Props {
  readonly state: WindowState;
  readonly actions: Actions;
}

export function PhotosPanel({ state, actions }: Props) {
  const { capture } = state;
  const set = currentSet(state);
  const isReading = capture.job !== null;
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
      {capture.refused.map(({ name, sentence }) => (
        <p key={name} class="refused" role="alert">
          {sentence.includes(name) ? sentence : `${name}: ${sentence}`}
        </p>
      ))}
      {capture.photos.length > 0 && (
        <>
          <h3>To be read</h3>
          <ul class="photos">
            {capture.photos.map((photo) => (
              <PhotoRow key={photo.photo} photo={photo} state={state} actions={actions} />
            ))}
          </ul>
          {!isReading && <HowToRead capture={capture} actions={actions} />}
          {!isReading && (
            <button type="button" class="main wide" onClick={() => void actions.readPhotos()}>
              {capture.photos.length === 1 ? 'Read this photo' : `Read ${capture.photos.length} photos`}
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
      {set !== null && set.shots.length > 0 && (
        <>
          <h3>Taken in</h3>
          <ul class="list">
            {set.shots.map((shot) => (
              <li key={shot.id}>
                <button
                  type="button"
                  class="item"
                  aria-pressed={state.shown?.kind === 'shot' && state.shown.shot === shot.id}
                  onClick={() => actions.patch({ shown: { kind: 'shot', shot: shot.id } })}
                >
                  <strong>{shot.file}</strong>
                  <small>
                    {shot.cards.length} cards, tilted {Math.round(shot.tiltDeg)}°,{' '}
                    {set.pieces.filter((piece) => piece.shapes[state.size]?.placement?.shot === shot.id).length} pieces
                  </small>
                </button>
              </li>
            ))}
          </ul>
          <button type="button" class="wide main" onClick={() => actions.show('pieces')}>
            Go on to the pieces
          </button>
        </>
      )}
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

function PhotoRow({ photo, state, actions }: Props & { readonly photo: AddedPhoto }) {
  useEffect(() => {
    if (photo.thumbnail === null) void actions.thumbnail(photo.photo);
  }, [photo.photo]);
  return (
    <li>
      <button
        type="button"
        class="item photo"
        aria-pressed={state.shown?.kind === 'photo' && state.shown.photo === photo.photo}
        onClick={() => actions.patch({ shown: { kind: 'photo', photo: photo.photo } })}
      >
        {photo.thumbnail === null ? <span class="thumb" /> : <img class="thumb" src={photo.thumbnail} alt="" />}
        <span>
          <strong>{photo.name}</strong>
          <small>{Math.round((photo.widthPx * photo.heightPx) / 100_000) / 10} megapixels</small>
          {photo.notes.map((note) => (
            <small key={note}>{note}</small>
          ))}
        </span>
      </button>
      <button
        type="button"
        class="quiet"
        aria-label={`Leave ${photo.name} out`}
        disabled={state.capture.job !== null}
        onClick={() => actions.dropPhoto(photo.photo)}
      >
        ×
      </button>
    </li>
  );
}

function HowToRead({ capture, actions }: { readonly capture: CaptureState; readonly actions: Actions }) {
  const ruler = (axis: 'X' | 'Y', nominalMm: number, value: string, change: (typed: string) => void) => (
    <div class="field number">
      <label for={`ruler-${axis}`}>Ruler {axis}</label>
      <span class="with-unit">
        <input
          id={`ruler-${axis}`}
          inputMode="decimal"
          placeholder={`${nominalMm}`}
          value={value}
          onInput={(event) => change(event.currentTarget.value)}
        />
        <span>mm</span>
      </span>
    </div>
  );
  return (
    <>
      <h3>Your print</h3>
      <p>What do the two rulers on your printed page measure? Left empty, every length is less certain.</p>
      <div class="pair">
        {ruler('X', RULER_MM.x, capture.rulerX, (rulerX) => actions.changeCapture({ rulerX }))}
        {ruler('Y', RULER_MM.y, capture.rulerY, (rulerY) => actions.changeCapture({ rulerY }))}
      </div>
      <Choice
        label="The outline is"
        value={capture.outline}
        choices={[
          ['auto', 'whichever each piece shows'],
          ['paper', 'the edge of the cut paper'],
          ['drawn', 'a drawn line'],
        ]}
        onChoose={(outline) => actions.changeCapture({ outline })}
      />
      {capture.outline !== 'paper' && (
        <Choice
          label="Of a drawn line, follow"
          value={capture.line}
          choices={[
            ['centre', 'its middle'],
            ['inner', 'its inner edge'],
            ['outer', 'its outer edge'],
          ]}
          onChoose={(line) => actions.changeCapture({ line })}
        />
      )}
    </>
  );
}
