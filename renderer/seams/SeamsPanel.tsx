// The step "Seams": what is sewn to what. Proposed seams are confirmed or changed; the chosen one shows its ruler.
import { useEffect, useRef } from 'preact/hooks';
import { lengthTextIn } from '../../shared/base/lengthText.ts';
import type { CheckContext } from '../../shared/checks/context.ts';
import { JOIN_KINDS, type PatternSet, type Seam, type SeamSide } from '../../shared/pattern/model.ts';
import { titleOf } from '../../shared/report/seamRuler.ts';
import type { Actions } from '../app/actions.ts';
import { Choice, LengthField, TextField } from '../app/Field.tsx';
import { addSeam, changeSeam, confirmAllSeams, removeSeam } from '../state/edits/pieces.ts';
import { currentSet, type WindowState } from '../state/windowState.ts';
import { contextFor } from './seamWalks.ts';
import { WalkSlider } from './WalkSlider.tsx';

interface Props {
  readonly state: WindowState;
  readonly actions: Actions;
}

export function SeamsPanel({ state, actions }: Props) {
  const set = currentSet(state);
  const chosen = useRef<HTMLLIElement>(null);
  useEffect(() => chosen.current?.scrollIntoView({ block: 'nearest' }), [state.selection.seam]);
  const context = set === null ? null : contextFor(set);
  if (set === null || context === null) return <aside class="panel" aria-label="Seams" />;
  const open = set.seams.filter(({ status }) => status === 'proposed').length;
  return (
    <aside class="panel" aria-label="Seams">
      <h2>Seams</h2>
      <p>
        {set.seams.length === 0
          ? 'Which edges are sewn together? Let seams be proposed from the kinds and edge names of the pieces, then look at each.'
          : open === 0
            ? 'All seams are confirmed.'
            : `${open} of ${set.seams.length} seams wait for your word.`}
      </p>
      <div class="row">
        <button type="button" class={set.seams.length === 0 ? 'main' : ''} onClick={() => void actions.proposeSeams()}>
          Propose seams
        </button>
        {open > 0 && (
          <button type="button" class="main" onClick={() => actions.edit(`Confirm ${open} seams`, confirmAllSeams)}>
            Confirm all
          </button>
        )}
        <button type="button" onClick={() => startSeam(set, state, actions)}>
          Add by hand
        </button>
      </div>
      <ul class="list" aria-label="Seams">
        {set.seams.map((seam) => {
          const isOpen = state.selection.seam === seam.id;
          return (
            <li key={seam.id} ref={isOpen ? chosen : null}>
              <button
                type="button"
                class="item"
                aria-expanded={isOpen}
                onPointerEnter={() => actions.patch({ hoveredSeam: seam.id })}
                onPointerLeave={() => actions.patch({ hoveredSeam: null })}
                onFocus={() => actions.patch({ hoveredSeam: seam.id })}
                onBlur={() => actions.patch({ hoveredSeam: null })}
                onClick={() => {
                  actions.patch({ walking: null });
                  actions.select({ seam: isOpen ? null : seam.id, picking: null });
                  actions.goTo(isOpen ? { kind: 'all' } : { kind: 'seam', seam: seam.id });
                }}
              >
                <strong>{seam.name}</strong>
                <small>
                  {seam.status === 'proposed' ? 'proposed · ' : ''}
                  {seam.join}
                </small>
              </button>
              {isOpen && <SeamSheet seam={seam} set={set} context={context} state={state} actions={actions} />}
            </li>
          );
        })}
      </ul>
      {set.seams.length > 0 && (
        <button type="button" class="main wide" onClick={() => actions.show('findings')}>
          Go on to the findings
        </button>
      )}
    </aside>
  );
}

interface SheetProps extends Props {
  readonly seam: Seam;
  readonly set: PatternSet;
  readonly context: CheckContext;
}

function SeamSheet({ seam, set, context, state, actions }: SheetProps) {
  const change = (label: string, part: Parameters<typeof changeSeam>[2]) =>
    actions.edit(label, (all) => changeSeam(all, seam.id, part));
  const walk = context.walk(seam, state.size);
  return (
    <div class="inset">
      {walk.ok ? (
        <p>{titleOf(walk.value, lengthTextIn(set.displayUnits))}</p>
      ) : (
        <p class="note">One side cannot be laid out yet: a piece of it is not traced in size {state.size}.</p>
      )}
      {walk.ok && <WalkSlider seam={seam} state={state} actions={actions} />}
      {seam.status === 'proposed' && (
        <button type="button" class="main wide" onClick={() => change(`Confirm ${seam.name}`, { status: 'confirmed' })}>
          Yes, these are sewn together
        </button>
      )}
      {([0, 1] as const).map((index) => (
        <SideRow
          key={index}
          index={index}
          side={seam.sides[index]}
          seam={seam}
          set={set}
          state={state}
          actions={actions}
        />
      ))}
      <TextField label="Name" value={seam.name} onDone={(name) => change(`Name a seam ${name}`, { name })} />
      <Choice
        label="How it is joined"
        value={seam.join}
        choices={JOIN_KINDS.map((kind) => [kind, kind] as const)}
        onChoose={(join) => change(`Join ${seam.name} ${join}`, { join })}
      />
      <LengthField
        label="Wanted ease of the second side"
        units={set.displayUnits}
        empty="usual"
        valueMm={seam.wantedEaseMm}
        onDone={(wantedEaseMm) => change(`Set the ease of ${seam.name}`, { wantedEaseMm })}
      />
      <button
        type="button"
        class="danger"
        onClick={() => {
          actions.edit(`Remove the seam ${seam.name}`, (all) => removeSeam(all, seam.id));
          actions.select({ seam: null, picking: null });
        }}
      >
        Not sewn together: remove
      </button>
    </div>
  );
}

interface SideProps extends Props {
  readonly index: 0 | 1;
  readonly side: SeamSide;
  readonly seam: Seam;
  readonly set: PatternSet;
}

function SideRow({ index, side, seam, set, state, actions }: SideProps) {
  const isPicking = state.selection.picking === index;
  const put = (next: SeamSide, label: string) => {
    const sides = index === 0 ? ([next, seam.sides[1]] as const) : ([seam.sides[0], next] as const);
    actions.edit(label, (all) => changeSeam(all, seam.id, { sides }));
  };
  return (
    <section class={`side side-${index}`} aria-label={index === 0 ? 'First side' : 'Second side'}>
      <h4>{index === 0 ? 'First side (solid)' : 'Second side (dashed), the fuller one'}</h4>
      <ol>
        {side.map((span, i) => (
          <li key={`${span.piece} ${span.edge}`}>
            <span>{spanName(set, span.piece, span.edge, state.size)}</span>
            <button
              type="button"
              class="quiet"
              title="Walk this edge from its other end"
              aria-label={`Walk ${spanName(set, span.piece, span.edge, state.size)} from its other end`}
              onClick={() =>
                put(
                  side.map((one, k) => (k === i ? { ...one, reversed: !one.reversed } : one)),
                  `Turn an edge of ${seam.name} round`,
                )
              }
            >
              ⇄
            </button>
          </li>
        ))}
      </ol>
      <button
        type="button"
        class="wide"
        aria-pressed={isPicking}
        onClick={() => actions.select({ picking: isPicking ? null : index })}
      >
        {isPicking ? 'Done picking' : 'Pick edges on the canvas'}
      </button>
      {isPicking && <PickList index={index} side={side} seam={seam} set={set} state={state} actions={actions} />}
    </section>
  );
}

/** The same picking without a mouse: every edge of the set as a choice. */
function PickList({ side, set, state, actions, seam, index }: SideProps) {
  const edges = set.pieces.flatMap((piece) =>
    (piece.shapes[state.size]?.ring ?? [])
      .filter((edge) => !side.some((span) => span.piece === piece.id && span.edge === edge.id))
      .map((edge) => ({ piece: piece.id, edge: edge.id, words: `${piece.name}: ${edge.label}` })),
  );
  return (
    <Choice
      label="Or add an edge from the list"
      value=""
      choices={[
        ['', 'choose an edge'],
        ...edges.map(({ piece, edge, words }) => [`${piece}\n${edge}`, words] as const),
      ]}
      onChoose={(value) => {
        const [piece, edge] = value.split('\n');
        if (piece === undefined || edge === undefined) return;
        const next = [...side, { piece, edge, reversed: false, stretch: null }];
        const sides = index === 0 ? ([next, seam.sides[1]] as const) : ([seam.sides[0], next] as const);
        actions.edit(`Pick edges for ${seam.name}`, (all) => changeSeam(all, seam.id, { sides }));
      }}
    />
  );
}

function spanName(set: PatternSet, pieceId: string, edgeId: string, size: string): string {
  const piece = set.pieces.find(({ id }) => id === pieceId);
  const edge = piece?.shapes[size]?.ring.find(({ id }) => id === edgeId);
  return `${piece?.name ?? pieceId}: ${edge?.label ?? edgeId}`;
}

/** A new seam between the first edges of two pieces, whose sides the person then picks. */
function startSeam(set: PatternSet, state: WindowState, actions: Actions): void {
  const traced = set.pieces.filter((piece) => piece.shapes[state.size] !== undefined);
  const [a, b] = [traced[0], traced[1] ?? traced[0]];
  if (a === undefined || b === undefined) {
    actions.tell('error', 'There is no traced piece yet whose edges could be joined; read a photo first.');
    return;
  }
  const sideOf = (piece: typeof a): SeamSide => [
    { piece: piece.id, edge: piece.shapes[state.size]!.ring[0]!.id, reversed: false, stretch: null },
  ];
  const made = addSeam(set, 'new seam', [sideOf(a), sideOf(b)]);
  actions.edit('Add a seam', () => made.set);
  actions.select({ seam: made.id, picking: 0 });
}
