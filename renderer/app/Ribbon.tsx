// The tape along the top: the steps of the job as numbered marks, what is open, undo and redo, and how many findings wait.

import { redoLabel, undoLabel } from '../state/history.ts';
import { AREAS, type Area, currentSet, type WindowState } from '../state/windowState.ts';
import type { Actions } from './actions.ts';

const NAMES: Readonly<Record<Area, string>> = {
  photos: 'Photos',
  pieces: 'Pieces',
  seams: 'Seams',
  findings: 'Findings',
  sizes: 'Sizes',
  fit: 'Fit',
  alter: 'Alter',
  archive: 'Archive',
};

interface Props {
  readonly state: WindowState;
  readonly actions: Actions;
}

export function Ribbon({ state, actions }: Props) {
  const history = state.open?.history;
  const undoing = history === undefined ? null : undoLabel(history);
  const redoing = history === undefined ? null : redoLabel(history);
  return (
    <header class="tape">
      <h1 class="brand">Notchwise</h1>
      <nav aria-label="Steps">
        <ol class="steps">
          {AREAS.map((area, i) => (
            <li key={area}>
              <button
                type="button"
                class="step"
                aria-current={state.area === area ? 'step' : undefined}
                disabled={state.open === null && area !== 'photos'}
                onClick={() => actions.show(area)}
              >
                <span class="step-number" aria-hidden="true">
                  {i + 1}
                </span>
                <span class="step-name">{NAMES[area]}</span>
                <span class="step-count">{countOf(area, state)}</span>
              </button>
            </li>
          ))}
        </ol>
      </nav>
      <fieldset class="tape-tools" aria-label="Undo, redo, save">
        <button
          type="button"
          disabled={undoing === null}
          title={undoing === null ? 'Nothing to undo' : `Undo: ${undoing} (Ctrl+Z)`}
          onClick={actions.undo}
        >
          Undo
        </button>
        <button
          type="button"
          disabled={redoing === null}
          title={redoing === null ? 'Nothing to redo' : `Redo: ${redoing} (Shift+Ctrl+Z)`}
          onClick={actions.redo}
        >
          Redo
        </button>
        <button
          type="button"
          class="main"
          disabled={state.open === null}
          title="Save (Ctrl+S)"
          onClick={() => void actions.save()}
        >
          Save
        </button>
      </fieldset>
    </header>
  );
}

function countOf(area: Area, state: WindowState): string {
  const set = currentSet(state);
  if (set === null) return '';
  switch (area) {
    case 'photos':
      return set.shots.length === 0 ? '' : `${set.shots.length}`;
    case 'pieces': {
      const traced = set.pieces.filter((piece) => piece.shapes[state.size] !== undefined).length;
      return set.pieces.length === 0 ? '' : `${traced} of ${set.pieces.length}`;
    }
    case 'seams': {
      const open = set.seams.filter(({ status }) => status === 'proposed').length;
      if (set.seams.length === 0) return '';
      return open === 0 ? `${set.seams.length}` : `${open} to confirm`;
    }
    case 'findings':
      return state.findings === null ? '' : summary(state.findings.counts);
    case 'sizes':
      return `${set.sizes.length}`;
    case 'fit':
      if (set.bodies.length === 0) return '';
      return set.bodies.length === 1 ? '1 body' : `${set.bodies.length} bodies`;
    case 'alter':
      return set.history.length === 0 ? '' : `${set.history.length} done`;
    case 'archive':
      return state.open?.unsaved === true ? 'unsaved' : '';
  }
}

function summary({ stop, mend, look, note, unsure }: NonNullable<WindowState['findings']>['counts']): string {
  const parts = [
    stop > 0 ? `${stop} stop` : '',
    mend > 0 ? `${mend} mend` : '',
    look + note > 0 ? `${look + note} look` : '',
    unsure > 0 ? `${unsure} unsure` : '',
  ].filter((part) => part !== '');
  return parts.length === 0 ? 'all clear' : parts.slice(0, 2).join(', ');
}
