// The step "Alter": an alteration chosen, its amounts by slider, by number or by its handles on the canvas, the change shown there
// while it is chosen, what has to follow it, and one step of the history when it is applied.
import { useEffect } from 'preact/hooks';
import { ALTERATIONS, alterationById } from '../../shared/alter/alterations.ts';
import type { Grasp } from '../../shared/alter/grasp.ts';
import { amountGiven, type ParamSpec, type Params } from '../../shared/alter/params.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import type { Actions } from '../app/actions.ts';
import { Choice } from '../app/Field.tsx';
import { currentSet, type WindowState } from '../state/windowState.ts';
import { graspsOf } from '../tools/grasp/handles.ts';
import { AmountField } from './AmountField.tsx';
import { Outcome } from './Outcome.tsx';
import { ScopeFields } from './ScopeFields.tsx';
import { useAlteration } from './useAlteration.ts';

interface Props {
  readonly state: WindowState;
  readonly actions: Actions;
}

export function AlterPanel({ state, actions }: Props) {
  const set = currentSet(state);
  const { altering } = state;
  const chosen = alterationById(altering.id) ?? ALTERATIONS[0]!;
  const { given } = altering;
  const isComplete = chosen.params.every((spec) => isSaid(spec, given, chosen.params));
  const outcome = useAlteration(set, isComplete ? altering : null, actions);
  useEffect(() => () => actions.preview(null), [actions]);
  if (set === null) return <aside class="panel" aria-label="Alter" />;
  return (
    <aside class="panel" aria-label="Alter">
      <h2>Alter</h2>
      <Choice
        label="What to change"
        value={chosen.id}
        choices={ALTERATIONS.map((one) => [one.id, one.title] as const)}
        onChoose={actions.beginAltering}
      />
      <p>{chosen.sentence}</p>
      {namesFirst(chosen.params).map((spec) =>
        spec.unit === 'name' ? (
          <NameField key={spec.name} spec={spec} set={set} state={state} onDone={actions.say} />
        ) : (
          <AmountField
            key={`${chosen.id} ${spec.name}`}
            spec={spec}
            units={set.displayUnits}
            mostMm={mostOf(graspsOf(set, altering), spec.name)}
            value={amountGiven(chosen.params, given, spec.name)}
            onChange={actions.say}
          />
        ),
      )}
      <ScopeFields set={set} state={state} actions={actions} />
      <label class="check">
        <input
          type="checkbox"
          checked={altering.carry}
          onChange={(event) => actions.alterBy({ carry: event.currentTarget.checked })}
        />
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
          if (actions.keepProposed(proposed)) actions.beginAltering(chosen.id);
        }}
      />
      <Done set={set} />
    </aside>
  );
}

/** What the alteration is about comes before by how much. */
function namesFirst(specs: readonly ParamSpec[]): readonly ParamSpec[] {
  const isName = (spec: ParamSpec) => spec.unit === 'name';
  return [...specs.filter(isName), ...specs.filter((spec) => !isName(spec))];
}

/** The farthest that every handle of the amount can go; null = as far as the amount may be. */
function mostOf(grasps: readonly Grasp[], param: string): number | null {
  const most = grasps.flatMap((grasp) => (grasp.param === param && grasp.mostMm !== null ? [grasp.mostMm] : []));
  return most.length === 0 ? null : Math.min(...most);
}

function isSaid(spec: ParamSpec, given: Params, specs: readonly ParamSpec[]): boolean {
  if (spec.unit !== 'name') return amountGiven(specs, given, spec.name) !== null;
  return (given[spec.name] ?? spec.default ?? '') !== '';
}

interface NameProps {
  readonly spec: Extract<ParamSpec, { unit: 'name' }>;
  readonly set: PatternSet;
  readonly state: WindowState;
  readonly onDone: (name: string, value: string | null) => void;
}

/** A piece, or a dart or an edge of the piece that was chosen. */
function NameField({ spec, set, state, onDone }: NameProps) {
  const { given } = state.altering;
  const shape = set.pieces.find(({ id }) => id === given.piece)?.shapes[state.size];
  const edgeOf = (edge: string) => shape?.ring.find(({ id }) => id === edge)?.label ?? edge;
  const choices =
    spec.name === 'piece'
      ? set.pieces.filter(hasDart).map(({ id, name }) => [id, name] as const)
      : spec.name === 'dart'
        ? (shape?.darts ?? []).map(({ id, edge }) => [id, `dart on ${edgeOf(edge)}`] as const)
        : (shape?.ring ?? []).map(({ id, label }) => [id, label] as const);
  return (
    <Choice
      label={spec.sentence.replace(/\.$/, '')}
      value={String(given[spec.name] ?? '')}
      choices={[['', choices.length === 0 ? (NOTHING_WORDS[spec.name] ?? 'none') : 'choose'], ...choices]}
      onChoose={(value) => onDone(spec.name, value === '' ? null : value)}
    />
  );
}

const NOTHING_WORDS: Readonly<Record<string, string>> = {
  piece: 'no piece has a dart',
  dart: 'choose the piece first',
  toEdge: 'choose the piece first',
};

function hasDart({ shapes }: PatternSet['pieces'][number]): boolean {
  return Object.values(shapes).some(({ darts }) => darts.length > 0);
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
