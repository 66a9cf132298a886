// The step "Pieces": the list, and of the chosen piece its name, kind, cut list, edges and marks, all of which can be changed.
import { useEffect, useRef } from 'preact/hooks';
import { PIECE_KINDS, type Piece, type Shape } from '../../shared/pattern/model.ts';
import { shotsOfShape } from '../../shared/usecases/shots.ts';
import type { Actions } from '../app/actions.ts';
import { Choice, Fold, TextField } from '../app/Field.tsx';
import { changePiece, removePiece, setTracedLine } from '../state/edits/pieces.ts';
import { currentSet, type WindowState } from '../state/windowState.ts';
import { CutList } from './CutList.tsx';
import { EdgeList } from './EdgeList.tsx';
import { MarkList } from './MarkList.tsx';
import { RepairList } from './RepairList.tsx';

interface Props {
  readonly state: WindowState;
  readonly actions: Actions;
}

export function PiecesPanel({ state, actions }: Props) {
  const set = currentSet(state);
  const piece = set?.pieces.find(({ id }) => id === state.selection.piece);
  const sizes = set?.sizes ?? [];
  const chosen = useRef<HTMLLIElement>(null);
  useEffect(() => chosen.current?.scrollIntoView({ block: 'nearest' }), [piece?.id]);
  return (
    <aside class="panel" aria-label="Pieces">
      <h2>Pieces</h2>
      {sizes.length > 1 && (
        <Choice
          label="Size"
          value={state.size}
          choices={sizes.map((size) => [size, size] as const)}
          onChoose={(size) => actions.patch({ size })}
        />
      )}
      {set !== null && set.pieces.length === 0 && (
        <p>No piece yet. Read a photo in the step Photos, or take in a drawing in the step Archive.</p>
      )}
      <ul class={`list pieces-list ${piece === undefined ? '' : 'short'}`}>
        {set?.pieces.map((one) => (
          <li key={one.id} ref={one.id === piece?.id ? chosen : null}>
            <button
              type="button"
              class="item"
              aria-pressed={one.id === piece?.id}
              onClick={() => choose(actions, one.id === piece?.id ? null : one.id)}
            >
              <strong>{one.name}</strong>
              <small>
                {one.shapes[state.size] === undefined
                  ? 'not traced yet'
                  : one.kind === 'other'
                    ? 'what is it? say its kind'
                    : one.kind}
              </small>
            </button>
          </li>
        ))}
      </ul>
      {piece !== undefined && <PieceSheet key={piece.id} piece={piece} state={state} actions={actions} />}
      {set !== null && piece === undefined && set.pieces.length > 0 && (
        <button type="button" class="main wide" onClick={() => actions.show('seams')}>
          Go on to the seams
        </button>
      )}
    </aside>
  );
}

function choose(actions: Actions, piece: string | null): void {
  actions.select({ piece, edge: null, mark: null });
  actions.goTo(piece === null ? { kind: 'all' } : { kind: 'piece', piece });
}

function PieceSheet({ piece, state, actions }: Props & { readonly piece: Piece }) {
  const shape = piece.shapes[state.size];
  const change = (label: string, part: Parameters<typeof changePiece>[2]) =>
    actions.edit(label, (set) => changePiece(set, piece.id, part));
  return (
    <section class="sheet" aria-label={piece.name}>
      <h3>{piece.name}</h3>
      <TextField label="Name" value={piece.name} onDone={(name) => change(`Name a piece ${name}`, { name })} />
      <Choice
        label="Kind"
        value={piece.kind}
        choices={PIECE_KINDS.map((kind) => [kind, kind] as const)}
        onChoose={(kind) => change(`Call ${piece.name} a ${kind}`, { kind })}
      />
      <Origin piece={piece} shape={shape} state={state} actions={actions} />
      {shape !== undefined && <Underlay shape={shape} state={state} actions={actions} />}
      <Fold title="Cut list" open={piece.cut.length === 0}>
        <CutList piece={piece} actions={actions} />
      </Fold>
      {shape !== undefined && (
        <>
          <Fold title={`Edges (${shape.ring.length})`} open>
            <Choice
              label="The traced line is"
              value={shape.tracedLine}
              choices={[
                ['cutting', 'the cutting line, allowance included'],
                ['seam', 'the seamline, allowance to be added'],
              ]}
              onChoose={(line) =>
                actions.edit(`Say which line of ${piece.name} was traced`, (set) =>
                  setTracedLine(set, piece.id, state.size, line),
                )
              }
            />
            <EdgeList piece={piece} shape={shape} state={state} actions={actions} />
          </Fold>
          <Fold title={`Notches, darts, grain (${markCount(shape)})`} open>
            <MarkList piece={piece} shape={shape} state={state} actions={actions} />
          </Fold>
          <RepairList piece={piece} shape={shape} state={state} actions={actions} />
        </>
      )}
      <Fold title="More">
        <Choice
          label="Grain"
          value={piece.grainIntent}
          choices={[
            ['straight', 'straight grain'],
            ['cross', 'cross grain'],
            ['bias', 'bias'],
          ]}
          onChoose={(grainIntent) => change(`Set the grain of ${piece.name}`, { grainIntent })}
        />
        <Choice
          label="Nap"
          value={piece.nap}
          choices={[
            ['none', 'no nap'],
            ['one-way', 'one way only'],
          ]}
          onChoose={(nap) => change(`Set the nap of ${piece.name}`, { nap })}
        />
        <button
          type="button"
          class="danger"
          onClick={() => {
            actions.edit(`Take ${piece.name} out of the set`, (set) => removePiece(set, piece.id));
            choose(actions, null);
          }}
        >
          Take this piece out of the set
        </button>
      </Fold>
    </section>
  );
}

/** Which photos the piece came from, and the way to another photo of it. */
function Origin({
  piece,
  shape,
  state,
  actions,
}: Props & { readonly piece: Piece; readonly shape: Shape | undefined }) {
  const shots = shape === undefined ? [] : shotsOfShape(shape);
  const files = (currentSet(state)?.shots ?? []).filter(({ id }) => shots.includes(id)).map(({ file }) => file);
  if (shape === undefined || files.length === 0) return null;
  return (
    <div class="row origin">
      <small>{files.length === 1 ? `From ${files[0]}.` : `Joined from ${files.join(' and ')}.`}</small>
      <button
        type="button"
        onClick={() => {
          actions.changeCapture({ again: piece.id });
          actions.patch({ shown: null });
          actions.show('photos');
        }}
      >
        Photograph it again
      </button>
    </div>
  );
}

function Underlay({ shape, state, actions }: Props & { readonly shape: Shape }) {
  const shot = currentSet(state)?.shots.find(({ id }) => id === shape.placement?.shot);
  if (shot === undefined || !(state.open?.pictures.includes(shot.id) ?? false)) return null;
  return (
    <div class="field">
      <label for="underlay">Photo under the piece: {state.underlayPercent} %</label>
      <input
        id="underlay"
        type="range"
        min="0"
        max="100"
        step="5"
        value={state.underlayPercent}
        onInput={(event) => actions.patch({ underlayPercent: Number(event.currentTarget.value) })}
      />
    </div>
  );
}

function markCount(shape: Shape): number {
  return shape.notches.length + shape.darts.length + (shape.grainline === null ? 0 : 1);
}
