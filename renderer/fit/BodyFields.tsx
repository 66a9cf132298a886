// One body as the tape gives it: a name, its measures with where the tape lies, the size that is sewn for it and how it is to
// fit. Every field is one step to undo.
import { useId, useState } from 'preact/hooks';
import type { Body, PatternSet } from '../../shared/pattern/model.ts';
import type { Actions } from '../app/actions.ts';
import { Choice, LengthField } from '../app/Field.tsx';
import type { FitNames } from '../app/fitActions.ts';

interface Props {
  readonly set: PatternSet;
  readonly chosen: string | null;
  readonly names: FitNames;
  readonly actions: Actions;
  readonly onNamed: (name: string) => void;
}

export function BodyFields({ set, chosen, names, actions, onNamed }: Props) {
  const body = set.bodies.find(({ name }) => name === chosen) ?? null;
  return (
    <>
      <NewBody actions={actions} onNamed={onNamed} />
      {body !== null && <Measures key={body.name} body={body} set={set} names={names} actions={actions} />}
    </>
  );
}

function NewBody({ actions, onNamed }: Pick<Props, 'actions' | 'onNamed'>) {
  const id = useId();
  const [name, setName] = useState('');
  const add = async () => {
    const given = name.trim();
    if (given === '') return;
    await actions.setBody({ name: given });
    setName('');
    onNamed(given);
  };
  return (
    <form
      class="field"
      onSubmit={(event) => {
        event.preventDefault();
        void add();
      }}
    >
      <label for={id}>Add a body by name</label>
      <span class="with-unit">
        <input id={id} value={name} onInput={(event) => setName(event.currentTarget.value)} />
        <button type="submit">Add</button>
      </span>
      <small>A body named as a size is the one that size was drafted for.</small>
    </form>
  );
}

function Measures({ body, set, names, actions }: Omit<Props, 'chosen' | 'onNamed'> & { readonly body: Body }) {
  const put = (change: Omit<Parameters<Actions['setBody']>[0], 'name'>) =>
    void actions.setBody({ name: body.name, ...change });
  return (
    <section aria-label={`Measures of ${body.name}`}>
      <h4>{body.name}</h4>
      <Choice
        label="Sews size"
        value={body.size ?? ''}
        choices={[['', 'not said'], ...set.sizes.map((size) => [size, size] as const)]}
        onChoose={(size) => put({ size: size === '' ? null : size })}
      />
      <Choice
        label="Is to fit"
        value={body.wanted ?? ''}
        choices={[['', 'as the pattern has it'], ...names.classes.map((one) => [one, one] as const)]}
        onChoose={(wanted) => put({ wanted: wanted === '' ? null : wanted })}
      />
      {names.measures.map(({ name, how }) => (
        <LengthField
          key={name}
          label={`${name}: ${how}`}
          units={set.displayUnits}
          empty="not taken"
          least={0}
          valueMm={body.measuresMm[name] ?? null}
          onDone={(value) => put({ measuresMm: { [name]: value } })}
        />
      ))}
      <button type="button" class="danger" onClick={() => void actions.removeBody(body.name)}>
        Remove this body
      </button>
    </section>
  );
}
