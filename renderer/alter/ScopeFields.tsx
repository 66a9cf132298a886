// Where an alteration is made: in every size or in some, on every piece that it fits or on some.
import { useMemo } from 'preact/hooks';
import { alterationById } from '../../shared/alter/alterations.ts';
import { EVERYWHERE } from '../../shared/alter/kernel/find.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import type { Actions } from '../app/actions.ts';
import { Choice } from '../app/Field.tsx';
import type { WindowState } from '../state/windowState.ts';

interface Props {
  readonly set: PatternSet;
  readonly state: WindowState;
  readonly actions: Actions;
}

export function ScopeFields({ set, state, actions }: Props) {
  const { id, given, sizes, pieces } = state.altering;
  const alteration = alterationById(id);
  const fits = useMemo(
    () => new Set(alteration?.grasps(set, given, EVERYWHERE).map(({ piece }) => piece)),
    [alteration, set, given],
  );
  if (alteration === undefined) return null;
  const fitting = set.pieces.filter((piece) => fits.has(piece.id));
  // Where the alteration asks for its piece, there is nothing to choose.
  const asksForPiece = alteration.params.some(({ name }) => name === 'piece');
  return (
    <div class="pair">
      {set.sizes.length > 1 && (
        <Some
          legend="In which sizes"
          every="in every size"
          shown={['only in the size shown', state.size]}
          of={set.sizes.map((size) => [size, size] as const)}
          chosen={sizes}
          onChoose={(next) => actions.alterBy({ sizes: next })}
        />
      )}
      {fitting.length > 1 && !asksForPiece && (
        <Some
          legend="On which pieces"
          every="all that fit"
          shown={null}
          of={fitting.map((piece) => [piece.id, piece.name] as const)}
          chosen={pieces}
          onChoose={(next) => actions.alterBy({ pieces: next })}
        />
      )}
    </div>
  );
}

interface SomeProps {
  readonly legend: string;
  readonly every: string;
  /** A choice of one that has words of its own. */
  readonly shown: readonly [words: string, value: string] | null;
  readonly of: readonly (readonly [value: string, words: string])[];
  readonly chosen: readonly string[] | null;
  readonly onChoose: (chosen: readonly string[] | null) => void;
}

function Some({ legend, every, shown, of, chosen, onChoose }: SomeProps) {
  const isShown = shown !== null && chosen?.length === 1 && chosen[0] === shown[1];
  return (
    <div>
      <Choice
        label={legend}
        value={chosen === null ? 'every' : isShown ? 'shown' : 'some'}
        choices={[
          ['every', every],
          ...(shown === null ? [] : [['shown', `${shown[0]} (${shown[1]})`] as const]),
          ['some', 'as ticked below'],
        ]}
        onChoose={(how) =>
          onChoose(how === 'every' ? null : how === 'shown' && shown !== null ? [shown[1]] : of.map(([value]) => value))
        }
      />
      {chosen !== null && !isShown && (
        <fieldset class="choices" aria-label={legend}>
          {of.map(([value, words]) => (
            <label key={value}>
              <input
                type="checkbox"
                checked={chosen.includes(value)}
                onChange={(event) =>
                  onChoose(
                    of
                      .map(([one]) => one)
                      .filter((one) => (one === value ? event.currentTarget.checked : chosen.includes(one))),
                  )
                }
              />
              <span>{words}</span>
            </label>
          ))}
        </fieldset>
      )}
    </div>
  );
}
