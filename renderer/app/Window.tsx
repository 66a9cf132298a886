// The window: the tape with the steps of the job along the top, the canvas in the middle, the panel of the step on the right,
// the status line below.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { AlterPanel } from '../alter/AlterPanel.tsx';
import { ArchivePanel } from '../archive/ArchivePanel.tsx';
import { type CanvasHandle, CanvasView } from '../canvas/CanvasView.tsx';
import { FindingsPanel } from '../findings/FindingsPanel.tsx';
import { FitPanel } from '../fit/FitPanel.tsx';
import { PhotosPanel } from '../photos/PhotosPanel.tsx';
import { TrustLegend } from '../photos/TrustLegend.tsx';
import { Welcome } from '../photos/Welcome.tsx';
import { PiecesPanel } from '../pieces/PiecesPanel.tsx';
import { ToolRail } from '../pieces/ToolRail.tsx';
import { RulerStrip } from '../seams/RulerStrip.tsx';
import { SeamsPanel } from '../seams/SeamsPanel.tsx';
import { SizesPanel } from '../sizes/SizesPanel.tsx';
import type { Store } from '../state/store.ts';
import { useStore } from '../state/store.ts';
import { currentSet, type WindowState } from '../state/windowState.ts';
import { toolOf } from '../tools/registry.ts';
import type { Actions } from './actions.ts';
import { Messages } from './Messages.tsx';
import { Ribbon } from './Ribbon.tsx';
import { useWindowKeys } from './windowKeys.ts';

interface Props {
  readonly store: Store<WindowState>;
  readonly actions: Actions;
}

export function Window({ store, actions }: Props) {
  const state = useStore(store);
  const canvas = useRef<CanvasHandle | null>(null);
  const dropping = useDrop(actions);
  useWindowKeys(store, actions);
  useLeaveWarning(store);
  const isEmpty = state.open === null || (state.area === 'photos' && state.shown === null);

  return (
    <div class="window">
      <Ribbon state={state} actions={actions} />
      <main class="table">
        <div class="stage">
          <CanvasView state={state} actions={actions} handle={canvas} />
          {isEmpty && !state.starting && <Welcome state={state} actions={actions} />}
          {!isEmpty && <TrustLegend state={state} />}
          {state.area === 'pieces' && !isEmpty && <ToolRail state={state} actions={actions} />}
          {!isEmpty && (
            <fieldset class="zoom" aria-label="View">
              <button type="button" title="Nearer (+)" aria-label="Nearer" onClick={() => canvas.current?.zoom(1.4)}>
                +
              </button>
              <button
                type="button"
                title="Farther (−)"
                aria-label="Farther"
                onClick={() => canvas.current?.zoom(1 / 1.4)}
              >
                −
              </button>
              <button type="button" title="Everything in view (0)" onClick={() => canvas.current?.showAll()}>
                All
              </button>
            </fieldset>
          )}
          <Messages state={state} actions={actions} />
        </div>
        <RulerStrip state={state} />
        {dropping && <div class="drop">Let go to take the files in</div>}
        {(state.waiting !== null || state.starting) && (
          <div class="waiting" role="status">
            {state.waiting ?? 'Starting'} …
          </div>
        )}
      </main>
      <Panel state={state} actions={actions} />
      <StatusLine state={state} actions={actions} />
    </div>
  );
}

function Panel({ state, actions }: { readonly state: WindowState; readonly actions: Actions }) {
  switch (state.area) {
    case 'photos':
      return <PhotosPanel state={state} actions={actions} />;
    case 'pieces':
      return <PiecesPanel state={state} actions={actions} />;
    case 'seams':
      return <SeamsPanel state={state} actions={actions} />;
    case 'findings':
      return <FindingsPanel state={state} actions={actions} />;
    case 'sizes':
      return <SizesPanel state={state} actions={actions} />;
    case 'fit':
      return <FitPanel state={state} actions={actions} />;
    case 'alter':
      return <AlterPanel state={state} actions={actions} />;
    case 'archive':
      return <ArchivePanel state={state} actions={actions} />;
  }
}

function StatusLine({ state, actions }: { readonly state: WindowState; readonly actions: Actions }) {
  const set = currentSet(state);
  const saved = state.open === null ? '' : savedWords(state.open);
  return (
    <footer class="status">
      <span id="canvas-help">{hintOf(state)}</span>
      <span class="status-set">
        {set !== null && <Units set={set} actions={actions} />}
        {set === null ? 'No set open' : `${set.name} · size ${state.size}`}
        {saved !== '' && ` · ${saved}`}
      </span>
    </footer>
  );
}

function savedWords({ unsaved, savedAs }: NonNullable<WindowState['open']>): string {
  if (unsaved) return 'changes kept, not yet in a file';
  return savedAs === null ? 'nothing changed yet' : 'saved';
}

/** The units of every panel, sentence and report of this set. */
function Units({ set, actions }: { readonly set: PatternSet; readonly actions: Actions }) {
  return (
    <label class="units">
      Lengths in{' '}
      <select
        value={set.displayUnits}
        onChange={(event) => {
          const unit = UNITS.find((one) => one === event.currentTarget.value);
          if (unit !== undefined) actions.edit(`Show lengths in ${unit}`, (all) => ({ ...all, displayUnits: unit }));
        }}
      >
        {UNITS.map((unit) => (
          <option key={unit} value={unit}>
            {unit}
          </option>
        ))}
      </select>
    </label>
  );
}

const UNITS: readonly PatternSet['displayUnits'][] = ['mm', 'cm', 'in'];

function hintOf(state: WindowState): string {
  if (currentSet(state) === null) return 'Drop photos, a set or a plan anywhere on the window.';
  switch (state.area) {
    case 'photos':
      if (state.capture.job !== null) return 'Reading takes a few seconds a photo; corrections wait until it is done.';
      if (state.shown === null) return 'Drop photos, a set or a plan anywhere on the window.';
      if (state.shown.kind === 'photo' && state.capture.taping !== null)
        return 'Press two cards, or two points of a ruler. Keys: arrows move the view, Enter picks its middle, Escape ends.';
      if (state.shown.kind === 'photo')
        return 'Type what the rulers of your printed page measure, then read the photos.';
      return 'Look whether the drawn line follows the paper everywhere. Wheel zooms, dragging moves the view.';
    case 'pieces':
      return state.selection.piece === null
        ? 'Choose a piece in the list or on the canvas.'
        : `${toolOf(state.tool).hint} Keys: , and . choose a mark, arrows move it.`;
    case 'seams':
      if (state.walking !== null)
        return 'Arrow keys on the slider roll the seam a millimetre; Home and End go to its ends.';
      return state.selection.picking === null
        ? 'Point at a seam in the list to see its edges; solid is the first side, dashed the second.'
        : 'Press edges on the canvas to put them into this side or take them out; Escape ends picking.';
    case 'findings':
      return 'Choose a finding to go to its place; J and K go through the list.';
    case 'sizes':
      return 'Choose a cell to see that seam in that size; arrow keys go from cell to cell.';
    case 'fit':
      return 'Choose a measure to see where on the pieces it was taken.';
    case 'alter':
      return 'Drag a handle or push it with the arrow keys; Escape takes it back. Nothing changes until you apply it.';
    case 'archive':
      return 'Before good cloth is cut, cut a cheap test garment.';
  }
}

/** Files dropped anywhere on the window are taken in; true while some are held over it. */
function useDrop(actions: Actions): boolean {
  const [dropping, setDropping] = useState(false);
  useEffect(() => {
    const over = (event: DragEvent) => {
      event.preventDefault();
      setDropping(true);
    };
    const leave = (event: DragEvent) => {
      if (event.relatedTarget === null) setDropping(false);
    };
    const drop = (event: DragEvent) => {
      event.preventDefault();
      setDropping(false);
      void actions.takeFiles(event.dataTransfer?.files ?? []);
    };
    window.addEventListener('dragover', over);
    window.addEventListener('dragleave', leave);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragover', over);
      window.removeEventListener('dragleave', leave);
      window.removeEventListener('drop', drop);
    };
  }, [actions]);
  return dropping;
}

/** Asks before the window closes while photos are read; changes need no question, the host keeps them. */
function useLeaveWarning(store: Store<WindowState>): void {
  useEffect(() => {
    const leave = (event: BeforeUnloadEvent) => {
      if (store.get().capture.job !== null) event.preventDefault();
    };
    window.addEventListener('beforeunload', leave);
    return () => window.removeEventListener('beforeunload', leave);
  }, [store]);
}
