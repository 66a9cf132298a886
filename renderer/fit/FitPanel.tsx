// The step "Fit": what the finished garment measures beside a body, the ease between them and what is usual; which size to start
// from, region by region; and the bodies themselves, typed in, from a file, or from a published table.
import { useEffect, useState } from 'preact/hooks';
import type { FindingJson } from '../../shared/checks/toFindingsJson.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { signOf } from '../../shared/report/gravitySign.ts';
import type { Actions } from '../app/actions.ts';
import { Choice, Fold, LengthField } from '../app/Field.tsx';
import type { FitNames, FitTable } from '../app/fitActions.ts';
import { Sign } from '../findings/Sign.tsx';
import { currentSet, type WindowState } from '../state/windowState.ts';
import { BodyFields } from './BodyFields.tsx';
import { FitLines } from './FitLines.tsx';
import { TableImport } from './TableImport.tsx';

interface Props {
  readonly state: WindowState;
  readonly actions: Actions;
}

export function FitPanel({ state, actions }: Props) {
  const set = currentSet(state);
  const [body, setBody] = useState<string | null>(null);
  const [size, setSize] = useState<string | null>(null);
  const names = useNames(actions);
  const known = set?.bodies.some(({ name }) => name === body) === true ? body : null;
  const read = useFit(set, known, size, actions);
  const judged = read?.ok === true ? read.value.size : null;
  useEffect(() => {
    if (judged !== null) actions.patch({ size: judged });
  }, [judged, actions]);
  if (set === null) return <aside class="panel" aria-label="Fit" />;
  return (
    <aside class="panel" aria-label="Fit">
      <h2>Fit</h2>
      <Cautions findings={state.findings?.findings ?? []} />
      {set.bodies.length > 0 && (
        <Choice
          label="Body"
          value={known ?? ''}
          choices={[['', 'chosen for you'], ...set.bodies.map(({ name }) => [name, name] as const)]}
          onChoose={(name) => setBody(name === '' ? null : name)}
        />
      )}
      {set.sizes.length > 1 && (
        <Choice
          label="Size of the garment"
          value={size ?? ''}
          choices={[['', 'the size that this body sews'], ...set.sizes.map((one) => [one, one] as const)]}
          onChoose={(one) => setSize(one === '' ? null : one)}
        />
      )}
      {read === null && <p role="status">Measuring the pieces …</p>}
      {read !== null && !read.ok && <p class="note">{read.error.sentence}</p>}
      {read?.ok === true && <Read table={read.value} state={state} actions={actions} />}
      <Bodies
        set={set}
        chosen={read?.ok === true ? (read.value.body?.name ?? null) : known}
        names={names}
        actions={actions}
        onNamed={setBody}
      />
      <p class="care">
        Paper tells how much room there is, not how it hangs or moves: cut a cheap test garment before good cloth. For
        children's clothes the local rules on cords and sleepwear come first.
      </p>
    </aside>
  );
}

function Read({ table, state, actions }: Props & { readonly table: FitTable }) {
  const { body, size, advice, findings } = table;
  const raised = findings.filter(({ verdict }) => verdict !== 'clear');
  return (
    <>
      <p role="status">
        {body === null
          ? `Size ${size}, finished. No body is known yet: type one in below, or take a table.`
          : `Size ${size} on "${body.name}".`}
      </p>
      {advice !== null && (
        <section class="advice" aria-label="Which size to start from">
          <h3>Which size to start from</h3>
          <p>{advice.sentence}</p>
        </section>
      )}
      <FitLines table={table} state={state} actions={actions} />
      {raised.length > 0 && (
        <ul class="list" aria-label="Findings about fit">
          {raised.map((finding) => (
            <Said key={`${finding.rule} ${finding.sentence}`} finding={finding} />
          ))}
        </ul>
      )}
    </>
  );
}

function Said({ finding }: { readonly finding: Pick<FindingJson, 'verdict' | 'gravity' | 'sentence'> }) {
  const sign = signOf(finding);
  return (
    <li class="finding">
      <Sign sign={sign} />
      <span>
        <strong style={{ color: sign.colour }}>{sign.word}</strong>
        <span class="sentence">{finding.sentence}</span>
      </span>
    </li>
  );
}

/** What may harm a wearer, always in sight here. */
const CAUTION_RULES: readonly string[] = ['child-cord', 'child-sleepwear', 'head-opening'];

function Cautions({ findings }: { readonly findings: readonly FindingJson[] }) {
  const raised = findings.filter(({ rule, verdict }) => CAUTION_RULES.includes(rule) && verdict === 'fault');
  if (raised.length === 0) return null;
  return (
    <ul class="list" aria-label="Cautions">
      {raised.map((finding) => (
        <Said key={finding.sentence} finding={finding} />
      ))}
    </ul>
  );
}

interface BodiesProps {
  readonly set: PatternSet;
  readonly chosen: string | null;
  readonly names: FitNames | null;
  readonly actions: Actions;
  readonly onNamed: (name: string) => void;
}

function Bodies({ set, chosen, names, actions, onNamed }: BodiesProps) {
  const [startsOpen] = useState(set.bodies.length === 0);
  if (names === null) return null;
  return (
    <>
      <Fold title="The body" open={startsOpen}>
        <BodyFields set={set} chosen={chosen} names={names} actions={actions} onNamed={onNamed} />
      </Fold>
      <Fold title="Bodies from a table">
        <TableImport set={set} names={names} actions={actions} />
      </Fold>
      <Fold title="The cloth">
        <LengthField
          label="Width between the selvages"
          units={set.displayUnits}
          empty="not said"
          least={0}
          valueMm={set.fabric?.widthMm ?? null}
          onDone={(widthMm) => void actions.setFabric(widthMm)}
        />
      </Fold>
    </>
  );
}

function useNames(actions: Actions): FitNames | null {
  const [names, setNames] = useState<FitNames | null>(null);
  useEffect(() => void actions.fitNames().then(setNames), [actions]);
  return names;
}

/** Read anew whenever the set, the body or the size is another; an answer that comes late is dropped. */
function useFit(set: PatternSet | null, body: string | null, size: string | null, actions: Actions) {
  const [read, setRead] = useState<Awaited<ReturnType<Actions['readFit']>> | null>(null);
  useEffect(() => {
    if (set === null) return;
    let isWanted = true;
    void actions.readFit(set, body, size).then((reply) => {
      if (isWanted) setRead(reply);
    });
    return () => {
      isWanted = false;
    };
  }, [set, body, size, actions]);
  return read;
}
