// Bodies from a table: a file of the person, or a published one as an example, with its source and which of its columns stands
// for which size.
import { useRef, useState } from 'preact/hooks';
import type { PatternSet } from '../../shared/pattern/model.ts';
import type { Actions } from '../app/actions.ts';
import { Choice } from '../app/Field.tsx';
import type { FitNames } from '../app/fitActions.ts';

interface Props {
  readonly set: PatternSet;
  readonly names: FitNames;
  readonly actions: Actions;
}

export function TableImport({ set, names, actions }: Props) {
  const input = useRef<HTMLInputElement>(null);
  return (
    <>
      <button
        type="button"
        class="wide"
        onClick={() => {
          if (actions.now().host?.canPick === true) void actions.importBodies('pick');
          else input.current?.click();
        }}
      >
        Take bodies from a file …
      </button>
      <input
        ref={input}
        type="file"
        hidden
        aria-label="Table of bodies"
        accept=".csv,.tsv,.txt,.json"
        onChange={(event) => {
          const { files } = event.currentTarget;
          if (files !== null && files.length > 0) void actions.importBodies([...files]);
          event.currentTarget.value = '';
        }}
      />
      <p>
        <small>CSV with a row for each body or for each measure, or JSON; bodies of the same name are replaced.</small>
      </p>
      <Published set={set} names={names} actions={actions} />
    </>
  );
}

function Published({ set, names, actions }: Props) {
  const [id, setId] = useState(names.tables[0]?.id ?? '');
  const [columns, setColumns] = useState<Readonly<Record<string, string>>>({});
  const table = names.tables.find((one) => one.id === id);
  if (table === undefined) return null;
  const columnOf = (size: string) => columns[size] ?? (table.sizes.includes(size) ? size : '');
  const chosen = Object.fromEntries(
    set.sizes.map((size) => [size, columnOf(size)] as const).filter(([, column]) => column !== ''),
  );
  return (
    <section aria-label="Published table">
      <h4>A published table, as an example</h4>
      <Choice
        label="Table"
        value={id}
        choices={names.tables.map((one) => [one.id, one.title] as const)}
        onChoose={(next) => {
          setId(next);
          setColumns({});
        }}
      />
      <p class="source">Source: {table.source}. Nobody's body is exactly a column of a table.</p>
      {set.sizes.map((size) => (
        <Choice
          key={`${id} ${size}`}
          label={`Size ${size} of this set is the table's`}
          value={columnOf(size)}
          choices={[['', 'none'], ...table.sizes.map((column) => [column, column] as const)]}
          onChoose={(column) => setColumns((before) => ({ ...before, [size]: column }))}
        />
      ))}
      <button
        type="button"
        class="wide"
        disabled={Object.keys(chosen).length === 0}
        onClick={() => void actions.useTable(id, chosen)}
      >
        Take these bodies
      </button>
    </section>
  );
}
