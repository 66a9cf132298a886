// How photos are to be read: the rulers of the print, whether the photos belong together, which piece they show, which line.
import type { Actions } from '../app/actions.ts';
import { Choice } from '../app/Field.tsx';
import { unitsOf } from '../app/lengths.ts';
import { currentSet, type WindowState } from '../state/windowState.ts';
import { rulerNumber } from './printScale.ts';

export function HowToRead({ state, actions }: { readonly state: WindowState; readonly actions: Actions }) {
  const { capture } = state;
  const units = unitsOf(state);
  const traced = (currentSet(state)?.pieces ?? []).filter((piece) => piece.shapes[state.size] !== undefined);
  const ruler = (axis: 'X' | 'Y', nominal: string, value: string, change: (typed: string) => void) => (
    <div class="field number">
      <label for={`ruler-${axis}`}>Ruler {axis}</label>
      <span class="with-unit">
        <input
          id={`ruler-${axis}`}
          inputMode="decimal"
          placeholder={nominal}
          value={value}
          onInput={(event) => change(event.currentTarget.value)}
          onChange={() => actions.lookAgain()}
        />
        <span>{units}</span>
      </span>
    </div>
  );
  return (
    <>
      {capture.photos.length > 1 && (
        <fieldset class="choices">
          <legend>These {capture.photos.length} photos show</legend>
          <label>
            <input
              type="radio"
              name="arrangement"
              checked={capture.arrangement === 'one-table'}
              onChange={() => actions.changeCapture({ arrangement: 'one-table' })}
            />
            <span>
              one table, or one long piece
              <small>
                Joined wherever two photos show the same two cards lying unmoved; other photos stay by themselves.
              </small>
            </span>
          </label>
          <label>
            <input
              type="radio"
              name="arrangement"
              checked={capture.arrangement === 'separate'}
              onChange={() => actions.changeCapture({ arrangement: 'separate' })}
            />
            <span>
              each a table of its own
              <small>Nothing is joined, even where cards happen to lie alike.</small>
            </span>
          </label>
        </fieldset>
      )}
      <h3>Your print</h3>
      <p>What do the two rulers on your printed page measure? Left empty, every length is less certain.</p>
      <div class="pair">
        {ruler('X', rulerNumber('x', units), capture.rulerX, (rulerX) => actions.changeCapture({ rulerX }))}
        {ruler('Y', rulerNumber('y', units), capture.rulerY, (rulerY) => actions.changeCapture({ rulerY }))}
      </div>
      {traced.length > 0 && (
        <Choice
          label="The piece is"
          value={capture.again ?? ''}
          choices={[
            ['', 'whichever it turns out to be'],
            ...traced.map(({ id, name }) => [id, `${name}, photographed again`] as const),
          ]}
          onChoose={(piece) => actions.changeCapture({ again: piece === '' ? null : piece })}
        />
      )}
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
