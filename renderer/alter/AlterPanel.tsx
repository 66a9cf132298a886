// The step "Alter": an alteration chosen, its amounts by slider or number, the change shown on the canvas while it is chosen,
// what has to follow it, and one step of the history when it is applied.
import { useEffect, useState } from 'preact/hooks';
import type { Alteration } from '../../shared/alter/alteration.ts';
import { ALTERATIONS } from '../../shared/alter/alterations.ts';
import type { ParamSpec, Params } from '../../shared/alter/params.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import type { Actions } from '../app/actions.ts';
import { Choice } from '../app/Field.tsx';
import { currentSet, type WindowState } from '../state/windowState.ts';
import { AmountField } from './AmountField.tsx';
import { Outcome } from './Outcome.tsx';
import { useAlteration } from './useAlteration.ts';

interface Props {
  readonly state: WindowState;
  readonly actions: Actions;
}

export function AlterPanel({ state, actions }: Props) {
  const set = currentSet(state);
  const [id, setId] = useState(ALTERATIONS[0]!.id);
  const [given, setGiven] = useState<Params>({});
  const [carry, setCarry] = useState(true);
  const chosen = ALTERATIONS.find((one) => one.id === id)!;
  const isComplete = chosen.params.every((spec) => isSaid(spec, given));
  const outcome = useAlteration(set, isComplete ? { id, params: given, carry } : null, actions);
  useEffect(() => () => actions.preview(null), [actions]);
  if (set === null) return <aside class="panel" aria-label="Alter" />;
  const put = (name: string, value: number | string) => setGiven((before) => ({ ...before, [name]: value }));
  return (
    <aside class="panel" aria-label="Alter">
      <h2>Alter</h2>
      <Choice
        label="What to change"
        value={id}
        choices={ALTERATIONS.map((one) => [one.id, one.title] as const)}
        onChoose={(next) => {
          setId(next);
          setGiven({});
        }}
      />
      <p>{chosen.sentence}</p>
      {chosen.params.map((spec) =>
        spec.unit === 'name' ? (
          <NameField key={spec.name} spec={spec} set={set} state={state} given={given} onDone={put} />
        ) : (
          <AmountField key={`${id} ${spec.name}`} spec={spec} value={numberIn(given, spec.name)} onChange={put} />
        ),
      )}
      <label class="check">
        <input type="checkbox" checked={carry} onChange={(event) => setCarry(event.currentTarget.checked)} />
        <span>
          Carry through to what is sewn to it
          <small>Redraws what must follow, each seam to the ease it had or is planned to have.</small>
        </span>
      </label>
      <Outcome
        outcome={outcome}
        isComplete={isComplete}
        onShow={() => actions.goTo({ kind: 'preview' })}
        onApply={(proposed) => {
          if (actions.keepProposed(proposed)) setGiven({});
        }}
      />
      <Done set={set} />
    </aside>
  );
}

function isSaid(spec: Alteration['params'][number], given: Params): boolean {
  const value = given[spec.name];
  if (value !== undefined) return value !== '';
  return spec.default !== null || (spec.unit !== 'name' && spec.like !== undefined);
}

function numberIn(given: Params, name: string): number | null {
  const value = given[name];
  return typeof value === 'number' ? value : null;
}

interface NameProps {
  readonly spec: Extract<ParamSpec, { unit: 'name' }>;
  readonly set: PatternSet;
  readonly state: WindowState;
  readonly given: Params;
  readonly onDone: (name: string, value: string) => void;
}

/** A piece, or a dart or an edge of the piece that was chosen. */
function NameField({ spec, set, state, given, onDone }: NameProps) {
  const shape = set.pieces.find(({ id }) => id === given.piece)?.shapes[state.size];
  const edgeOf = (edge: string) => shape?.ring.find(({ id }) => id === edge)?.label ?? edge;
  const choices =
    spec.name === 'piece'
      ? set.pieces.map(({ id, name }) => [id, name] as const)
      : spec.name === 'dart'
        ? (shape?.darts ?? []).map(({ id, edge }) => [id, `dart on ${edgeOf(edge)}`] as const)
        : (shape?.ring ?? []).map(({ id, label }) => [id, label] as const);
  return (
    <Choice
      label={spec.sentence.replace(/\.$/, '')}
      value={String(given[spec.name] ?? '')}
      choices={[['', 'choose'], ...choices]}
      onChoose={(value) => onDone(spec.name, value)}
    />
  );
}

/** What was done to the set so far, so that it can be repeated on another. */
function Done({ set: { history } }: { readonly set: PatternSet }) {
  if (history.length === 0) return null;
  return (
    <>
      <h3>Done to this set</h3>
      <ol class="done" aria-label="History">
        {history.map((step, i) => (
          <li key={`${i} ${step.sentence}`}>{step.sentence}</li>
        ))}
      </ol>
    </>
  );
}
