// Corrections by hand that the next trace of the piece will make again, and those that found no place in the last one.
import type { Piece, Shape } from '../../shared/pattern/model.ts';
import { repairName } from '../../shared/pattern/repairs.ts';
import type { Actions } from '../app/actions.ts';
import { Fold } from '../app/Field.tsx';
import { changeShape } from '../state/edits/pieces.ts';
import { forgetRepair } from '../state/edits/repairing.ts';
import type { WindowState } from '../state/windowState.ts';

interface Props {
  readonly piece: Piece;
  readonly shape: Shape;
  readonly state: WindowState;
  readonly actions: Actions;
}

export function RepairList({ piece, shape, state, actions }: Props) {
  const repairs = shape.repairs ?? [];
  if (repairs.length === 0) return null;
  const aside = repairs.filter(({ setAside }) => setAside);
  return (
    <Fold title={`Corrections by hand (${repairs.length})`} open={aside.length > 0}>
      <p>They are made again when this piece is traced from another photo.</p>
      <ul class="list">
        {repairs.map((repair) => (
          <li key={repair.id} class="tape-row">
            <p>
              <strong>{repairName(repair)}</strong>
              {repair.setAside && (
                <small class="unsure">Set aside: it found no place in the last photo. Make it again by hand.</small>
              )}
            </p>
            {repair.setAside && (
              <button
                type="button"
                aria-label={`Forget the ${repairName(repair)}`}
                onClick={() =>
                  actions.edit(`Forget a ${repairName(repair)} of ${piece.name}`, (set) =>
                    changeShape(set, piece.id, state.size, (before) => forgetRepair(before, repair.id)),
                  )
                }
              >
                Forget
              </button>
            )}
          </li>
        ))}
      </ul>
    </Fold>
  );
}
