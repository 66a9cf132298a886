// The notches, darts and the grainline of a piece as a list: every mark can be chosen, put at a number and removed by keyboard.
import type { Notch, Piece, Shape } from '../../shared/pattern/model.ts';
import type { Actions } from '../app/actions.ts';
import { Choice, LengthField } from '../app/Field.tsx';
import { lengthsOf, unitsOf } from '../app/lengths.ts';
import { addDart, addNotch, setGrainline, setNotch } from '../state/edits/addMarks.ts';
import { type MarkRef, sameMark } from '../state/edits/marks.ts';
import { placesForNewMarks } from '../state/edits/newPlaces.ts';
import { changeShape, removeMarkFrom } from '../state/edits/pieces.ts';
import type { WindowState } from '../state/windowState.ts';

interface Props {
  readonly piece: Piece;
  readonly shape: Shape;
  readonly state: WindowState;
  readonly actions: Actions;
}

const COUNT_WORDS = { 1: 'single', 2: 'double', 3: 'triple' } as const;
const PURPOSES: readonly (readonly [Notch['purpose'], string])[] = [
  ['match', 'meets another notch'],
  ['dart', 'marks a dart leg'],
  ['pleat', 'marks a pleat'],
  ['hem-turn', 'marks the turn of the hem'],
  ['opening-stop', 'marks the end of an opening'],
  ['allowance', 'marks the allowance'],
];

export function MarkList({ piece, shape, state, actions }: Props) {
  const put = (label: string, change: (shape: Shape) => Shape) =>
    actions.edit(label, (set) => changeShape(set, piece.id, state.size, change));
  const remove = (label: string, ref: MarkRef) => {
    actions.edit(label, (set) => removeMarkFrom(set, piece.id, state.size, ref));
    actions.select({ mark: null });
  };
  const places = placesForNewMarks(shape, state.selection.edge);
  const row = (ref: MarkRef, title: string, detail: string) => (
    <button
      type="button"
      class="item"
      aria-pressed={sameMark(ref, state.selection.mark)}
      onClick={() => actions.select({ mark: sameMark(ref, state.selection.mark) ? null : ref })}
    >
      <strong>{title}</strong>
      <small>{detail}</small>
    </button>
  );
  return (
    <>
      <ul class="list">
        {shape.notches.map((notch) => {
          const ref: MarkRef = { kind: 'notch', id: notch.id };
          const edge = shape.ring.find(({ id }) => id === notch.edge)?.label ?? notch.edge;
          return (
            <li key={notch.id}>
              {row(
                ref,
                `${COUNT_WORDS[notch.count]} notch on ${edge}`,
                `${lengthsOf(state).words(notch.atMm)} from the start of the edge`,
              )}
              {sameMark(ref, state.selection.mark) && (
                <div class="inset">
                  <LengthField
                    label="From the start of the edge"
                    units={unitsOf(state)}
                    least={0}
                    valueMm={notch.atMm}
                    onDone={(mm) =>
                      put(`Move a notch of ${piece.name}`, (s) => setNotch(s, notch.id, { atMm: mm ?? 0 }))
                    }
                  />
                  <Choice
                    label="It is"
                    value={`${notch.count}` as '1' | '2' | '3'}
                    choices={[
                      ['1', 'single'],
                      ['2', 'double'],
                      ['3', 'triple'],
                    ]}
                    onChoose={(count) =>
                      put(`Change a notch of ${piece.name}`, (s) => setNotch(s, notch.id, { count: COUNTS[count] }))
                    }
                  />
                  <Choice
                    label="It"
                    value={notch.purpose}
                    choices={PURPOSES}
                    onChoose={(purpose) =>
                      put(`Say what a notch of ${piece.name} is for`, (s) => setNotch(s, notch.id, { purpose }))
                    }
                  />
                  <button type="button" class="danger" onClick={() => remove(`Remove a notch of ${piece.name}`, ref)}>
                    Remove this notch
                  </button>
                </div>
              )}
            </li>
          );
        })}
        {shape.darts.map((dart) => {
          const ref: MarkRef = { kind: 'dart-apex', id: dart.id };
          const edge = shape.ring.find(({ id }) => id === dart.edge)?.label ?? dart.edge;
          return (
            <li key={dart.id}>
              {row(ref, `dart on ${edge}`, 'choose, then move its point with the arrow keys')}
              {sameMark(ref, state.selection.mark) && (
                <div class="inset row">
                  <button
                    type="button"
                    onClick={() => actions.select({ mark: { kind: 'dart-leg', id: dart.id, leg: 0 } })}
                  >
                    First leg
                  </button>
                  <button
                    type="button"
                    onClick={() => actions.select({ mark: { kind: 'dart-leg', id: dart.id, leg: 1 } })}
                  >
                    Second leg
                  </button>
                  <button type="button" class="danger" onClick={() => remove(`Remove a dart of ${piece.name}`, ref)}>
                    Remove
                  </button>
                </div>
              )}
            </li>
          );
        })}
        {shape.grainline !== null && (
          <li>
            {row({ kind: 'grain', part: 'whole' }, 'grainline', 'choose, then move it with the arrow keys')}
            {state.selection.mark?.kind === 'grain' && (
              <div class="inset row">
                <button type="button" onClick={() => actions.select({ mark: { kind: 'grain', part: 'from' } })}>
                  One end
                </button>
                <button type="button" onClick={() => actions.select({ mark: { kind: 'grain', part: 'to' } })}>
                  Other end
                </button>
                <button
                  type="button"
                  class="danger"
                  onClick={() => remove(`Remove the grainline of ${piece.name}`, { kind: 'grain', part: 'whole' })}
                >
                  Remove
                </button>
              </div>
            )}
          </li>
        )}
      </ul>
      <div class="row">
        <button
          type="button"
          onClick={() => {
            put(`Put a notch on ${piece.name}`, (s) => addNotch(s, places.notch).shape);
            actions.select({ mark: addNotch(shape, places.notch).ref });
          }}
        >
          Add a notch
        </button>
        <button
          type="button"
          onClick={() => {
            put(`Put a dart on ${piece.name}`, (s) => addDart(s, places.notch, places.middle).shape);
            actions.select({ mark: addDart(shape, places.notch, places.middle).ref });
          }}
        >
          Add a dart
        </button>
        {shape.grainline === null && (
          <button
            type="button"
            onClick={() => put(`Draw the grainline of ${piece.name}`, (s) => setGrainline(s, ...places.grain))}
          >
            Add a grainline
          </button>
        )}
      </div>
    </>
  );
}

const COUNTS = { '1': 1, '2': 2, '3': 3 } as const;
