// A distance measured with a tape, as one more thing the photo is measured by: two cards or two points picked on the photo,
// the length typed, and what it makes of the scale.
import { useRef } from 'preact/hooks';
import type { PatternSet } from '../../shared/pattern/model.ts';
import type { Actions } from '../app/actions.ts';
import { Choice, Fold, LengthField } from '../app/Field.tsx';
import { lengthsOf, unitsOf } from '../app/lengths.ts';
import type { AddedPhoto, TapeEnd, WindowState } from '../state/windowState.ts';
import { endName, tapeSentence, tapesOfPhoto, tapingSentence } from './tapes.ts';

interface Props {
  readonly photo: AddedPhoto;
  readonly state: WindowState;
  readonly actions: Actions;
}

export function TapePanel({ photo, state, actions }: Props) {
  const { tapes, taping } = state.capture;
  const { look } = photo;
  const judged = look?.state === 'seen' ? look.tapes : [];
  const own = tapesOfPhoto(tapes, photo);
  const units = unitsOf(state);
  const lengths = lengthsOf(state);
  const isPicking = taping !== null && taping.photo === photo.photo;
  // Opened by use, and not shut again when the last distance is taken out.
  const wasUsed = useRef(false);
  wasUsed.current ||= isPicking || tapes.length > 0;
  return (
    <Fold title="Measured with a tape" open={wasUsed.current}>
      {tapes.length === 0 && !isPicking && (
        <p>
          One distance on the table that you measured with a tape makes every length surer: between two cards, or along
          a ruler that lies in the picture.
        </p>
      )}
      <ul class="list">
        {tapes.map((tape, index) => {
          const seen = judged[own.indexOf(tape)];
          return (
            <li key={index} class="tape-row">
              <p>
                <strong>
                  {endName(tape.from)} to {endName(tape.to)}: {lengths.words(tape.lengthMm)}
                </strong>
                {seen !== undefined && <small>{tapeSentence(seen, lengths)}</small>}
              </p>
              <button
                type="button"
                class="quiet"
                aria-label={`Take out the distance from ${endName(tape.from)} to ${endName(tape.to)}`}
                onClick={() => actions.removeTape(index)}
              >
                ×
              </button>
            </li>
          );
        })}
      </ul>
      {look?.state === 'seen' && look.taping !== null && judged.some(({ used }) => used) && (
        <p role="status">{tapingSentence(look.taping, lengths)}</p>
      )}
      {isPicking ? (
        <Picking photo={photo} ends={taping.ends} units={units} actions={actions} />
      ) : (
        <button
          type="button"
          class="wide"
          disabled={look?.state !== 'seen'}
          onClick={() => actions.startTape(photo.photo)}
        >
          Add a measured distance
        </button>
      )}
    </Fold>
  );
}

function Picking({
  photo,
  ends,
  units,
  actions,
}: {
  readonly photo: AddedPhoto;
  readonly ends: readonly TapeEnd[];
  readonly units: PatternSet['displayUnits'];
  readonly actions: Actions;
}) {
  const cards = photo.look?.state === 'seen' ? photo.look.cards : [];
  const choose = (index: 0 | 1, id: string): void => {
    const card = cards.find((one) => one.id === id);
    if (card === undefined) return;
    const next = [...ends];
    next[index] = { card: id, atPx: card.tapeEndPx };
    // Chosen out of order: the second end alone is the first for now.
    actions.tapeBetween(
      photo.photo,
      next.filter((end) => end !== undefined),
    );
  };
  const field = (index: 0 | 1, label: string) => {
    const end = ends[index];
    const words = end === undefined ? 'press it on the photo' : end.card === null ? 'the point you pressed' : '';
    return (
      <Choice
        label={label}
        value={end?.card ?? ''}
        choices={[
          ...(words === '' ? [] : [['', words] as const]),
          ...cards.map(({ id }) => [id, `card ${id}`] as const),
        ]}
        onChoose={(id) => choose(index, id)}
      />
    );
  };
  return (
    <div class="inset">
      <p>
        Press two cards on the photo, or the two ends of a ruler that lies in it. On a card, measure at the top left
        corner of its chequer (marked), as it looks when its number can be read.
      </p>
      <div class="pair">
        {field(0, 'From')}
        {field(1, 'To')}
      </div>
      {ends.length === 2 && (
        <LengthField
          label="You measured"
          units={units}
          valueMm={null}
          least={1}
          onDone={(mm) => {
            if (mm !== null) actions.addTape(mm);
          }}
        />
      )}
      <button type="button" class="wide" onClick={() => actions.changeCapture({ taping: null })}>
        Leave it
      </button>
    </div>
  );
}
