// The edges of a piece: what each is called, what it is for, how wide its allowance is, and how long it is where it is sewn.

import type { LengthText } from '../../shared/base/lengthText.ts';
import { COVERAGE_FACTOR } from '../../shared/base/measured.ts';
import { ASSUMED_ALLOWANCE_SIGMA } from '../../shared/limits/tolerances.ts';
import { sewnLength } from '../../shared/pattern/measure.ts';
import type { Edge, Piece, Shape } from '../../shared/pattern/model.ts';
import { unsureSpans, withoutUnsureEdge } from '../../shared/pattern/unsureSpans.ts';
import type { Actions } from '../app/actions.ts';
import { Choice, LengthField, TextField } from '../app/Field.tsx';
import { lengthsOf, unitsOf } from '../app/lengths.ts';
import { changeEdge, changeShape, setAllAllowances } from '../state/edits/pieces.ts';
import { joinWithNext } from '../state/edits/splitJoin.ts';
import type { WindowState } from '../state/windowState.ts';
import { unsureSentence } from './unsure.ts';

interface Props {
  readonly piece: Piece;
  readonly shape: Shape;
  readonly state: WindowState;
  readonly actions: Actions;
}

export function EdgeList({ piece, shape, state, actions }: Props) {
  const lengths = lengthsOf(state);
  const assumed = shape.ring.some((edge) => edge.allowanceAssumed && edge.role !== 'fold');
  return (
    <>
      {assumed && (
        <div class="note">
          <p>Nobody has said how wide the allowance of this piece is; curved seams stay unsure until then.</p>
          <LengthField
            label="Allowance all round"
            units={unitsOf(state)}
            least={0}
            valueMm={shape.ring.find(({ role }) => role !== 'fold')?.allowanceMm ?? 0}
            onDone={(mm) =>
              actions.edit(`Set the allowance of ${piece.name}`, (set) => setAllAllowances(set, piece.id, mm ?? 0))
            }
          />
          <button
            type="button"
            class="wide"
            onClick={() =>
              actions.edit(`Confirm the allowances of ${piece.name}`, (set) =>
                shape.ring.reduce((all, edge) => changeEdge(all, piece.id, edge.id, { allowanceAssumed: false }), set),
              )
            }
          >
            Yes, the allowances shown are right
          </button>
        </div>
      )}
      <ul class="list">
        {shape.ring.map((edge) => {
          const isOpen = state.selection.edge === edge.id;
          const unsure = unsureSpans(shape).filter((span) => span.edge === edge.id);
          return (
            <li key={edge.id}>
              <button
                type="button"
                class="item"
                aria-expanded={isOpen}
                onClick={() => actions.select({ edge: isOpen ? null : edge.id, mark: null })}
              >
                <strong>{edge.label}</strong>
                <small>
                  {edge.role} · {sewn(shape, edge, lengths)}
                </small>
                {unsure.map((span) => (
                  <small key={span.fromMm} class="unsure">
                    {unsureSentence(span, lengths)}
                  </small>
                ))}
              </button>
              {isOpen && unsure.length > 0 && (
                <div class="inset">
                  <p>Look at the line over its photo; redraw it where it runs wrong (tool Redraw, key R).</p>
                  <button
                    type="button"
                    class="wide"
                    onClick={() =>
                      actions.edit(`Confirm the line of ${edge.label}`, (set) =>
                        changeShape(set, piece.id, state.size, (before) => withoutUnsureEdge(before, edge.id)),
                      )
                    }
                  >
                    I looked: the line runs right
                  </button>
                </div>
              )}
              {isOpen && <EdgeSheet piece={piece} edge={edge} state={state} actions={actions} />}
            </li>
          );
        })}
      </ul>
    </>
  );
}

function EdgeSheet({ piece, edge, state, actions }: Omit<Props, 'shape'> & { readonly edge: Edge }) {
  const change = (label: string, part: Parameters<typeof changeEdge>[3]) =>
    actions.edit(label, (set) => changeEdge(set, piece.id, edge.id, part));
  return (
    <div class="inset">
      <TextField label="Name" value={edge.label} onDone={(label) => change(`Name an edge ${label}`, { label })} />
      <Choice
        label="It is a"
        value={edge.role}
        choices={[
          ['seam', 'seam'],
          ['fold', 'fold'],
          ['hem', 'hem'],
          ['opening', 'opening or finished edge'],
        ]}
        onChoose={(role) => change(`Make ${edge.label} a ${role}`, { role })}
      />
      {edge.role !== 'fold' && (
        <LengthField
          label={edge.allowanceAssumed ? 'Allowance (assumed)' : 'Allowance'}
          units={unitsOf(state)}
          least={0}
          valueMm={edge.allowanceMm}
          onDone={(mm) =>
            change(`Set the allowance of ${edge.label}`, { allowanceMm: mm ?? 0, allowanceAssumed: false })
          }
        />
      )}
      <div class="field">
        <label for="reach">A pull moves {lengthsOf(state).words(state.reachMm)} to each side</label>
        <input
          id="reach"
          type="range"
          min="10"
          max="200"
          step="10"
          value={state.reachMm}
          onInput={(event) => actions.patch({ reachMm: Number(event.currentTarget.value) })}
        />
      </div>
      <button
        type="button"
        class="wide"
        onClick={() =>
          actions.edit(`Join ${edge.label} with the next edge`, (set) => joinWithNext(set, piece.id, edge.id))
        }
      >
        Join with the next edge
      </button>
    </div>
  );
}

function sewn(shape: Shape, edge: Edge, lengths: LengthText): string {
  const { valueMm, sigmaMm } = sewnLength(shape, edge.id, null, {
    assumedAllowanceSigmaMm: ASSUMED_ALLOWANCE_SIGMA.valueMm,
  });
  return `${lengths.uncertain(valueMm, COVERAGE_FACTOR * sigmaMm)} sewn`;
}
