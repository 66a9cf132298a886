// The photos that were taken in: how each was seen, which were joined, what would make it better, and reading one again.

import type { PatternSet, Shot } from '../../shared/pattern/model.ts';
import { shotsOfShape } from '../../shared/usecases/shots.ts';
import type { Actions } from '../app/actions.ts';
import { removeShot } from '../state/edits/shots.ts';
import { currentSet, type WindowState } from '../state/windowState.ts';
import { Advice } from './Advice.tsx';

interface Props {
  readonly state: WindowState;
  readonly actions: Actions;
}

export function ShotList({ state, actions }: Props) {
  const set = currentSet(state);
  if (set === null || set.shots.length === 0) return null;
  return (
    <>
      <h3>Taken in</h3>
      <ul class="list">
        {set.shots.map((shot) => (
          <li key={shot.id}>
            <button
              type="button"
              class="item"
              aria-pressed={state.shown?.kind === 'shot' && state.shown.shot === shot.id}
              onClick={() => {
                actions.patch({ shown: { kind: 'shot', shot: shot.id } });
                actions.goTo({ kind: 'all' });
              }}
            >
              <strong>{shot.file}</strong>
              <small>
                {shot.cards.length} cards, tilted {Math.round(shot.tiltDeg)}°,{' '}
                {pieceWords(pieceCount(set, shot, state))}
              </small>
              {joinedWith(set, shot).map((words) => (
                <small key={words}>{words}</small>
              ))}
            </button>
            {state.shown?.kind === 'shot' && state.shown.shot === shot.id && (
              <ShotSheet set={set} shot={shot} state={state} actions={actions} />
            )}
          </li>
        ))}
      </ul>
      <button type="button" class="wide main" onClick={() => actions.show('pieces')}>
        Go on to the pieces
      </button>
    </>
  );
}

function ShotSheet({ set, shot, state, actions }: Props & { readonly set: PatternSet; readonly shot: Shot }) {
  const kept = state.capture.kept.find(({ name }) => name === shot.file);
  const isBusy = state.capture.job !== null;
  const count = set.pieces.filter((piece) =>
    Object.values(piece.shapes).some((shape) => shotsOfShape(shape).includes(shot.id)),
  ).length;
  return (
    <div class="inset">
      {shot.quality !== undefined && (
        <Advice advice={shot.quality.advice} kind="shot" state={state} actions={actions} />
      )}
      <div class="row">
        {kept !== undefined && (
          <button type="button" disabled={isBusy} onClick={() => actions.takeUpAgain(kept.photo)}>
            Read it again
          </button>
        )}
        <button
          type="button"
          class="danger"
          disabled={isBusy}
          onClick={() => {
            actions.edit(`Take ${shot.file} out of the set`, (before) => removeShot(before, shot.id));
            actions.patch({ shown: null });
          }}
        >
          {count === 0 ? 'Take it out' : `Take it out with its ${count === 1 ? 'piece' : pieceWords(count)}`}
        </button>
      </div>
    </div>
  );
}

function pieceCount(set: PatternSet, shot: Shot, state: WindowState): number {
  return set.pieces.filter((piece) => piece.shapes[state.size]?.placement?.shot === shot.id).length;
}

/** A sentence for each piece that was joined from this photo and others. */
function joinedWith(set: PatternSet, shot: Shot): string[] {
  return set.pieces.flatMap((piece) =>
    Object.values(piece.shapes).flatMap((shape) => {
      const shots = shotsOfShape(shape);
      if (shots.length < 2 || !shots.includes(shot.id)) return [];
      const others = set.shots.filter(({ id }) => id !== shot.id && shots.includes(id)).map(({ file }) => file);
      return [`${piece.name} is joined with ${others.join(' and ')}`];
    }),
  );
}

function pieceWords(count: number): string {
  return `${count} ${count === 1 ? 'piece' : 'pieces'}`;
}
