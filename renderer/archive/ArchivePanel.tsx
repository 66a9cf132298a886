// The step "Archive": keeping the set, handing it on at true scale, the report, and what was done to it.
import type { Actions } from '../app/actions.ts';
import { Fold, TextField } from '../app/Field.tsx';
import { FileButton } from '../app/FileButton.tsx';
import { currentSet, type WindowState } from '../state/windowState.ts';

interface Props {
  readonly state: WindowState;
  readonly actions: Actions;
}

export function ArchivePanel({ state, actions }: Props) {
  const set = currentSet(state);
  if (set === null) return <aside class="panel" aria-label="Archive" />;
  const canPick = state.host?.canPick === true;
  return (
    <aside class="panel" aria-label="Archive">
      <h2>Archive</h2>
      <TextField
        label="Name of the set"
        value={set.name}
        onDone={(name) => actions.edit(`Name the set ${name}`, (all) => ({ ...all, name }))}
      />
      <p>
        {state.open === null || state.open.savedAs === null
          ? 'Not saved as a file from here yet. Your changes are kept even if the program ends.'
          : `In ${state.open.savedAs}${state.open.unsaved ? ', with changes since.' : '.'}`}
      </p>
      <div class="row">
        <button type="button" class="main" onClick={() => void actions.save()}>
          Save
        </button>
        <button type="button" onClick={() => void actions.saveAs(set.name, canPick ? 'pick' : 'archive')}>
          {canPick ? 'Save as …' : 'Save under this name'}
        </button>
        <button type="button" onClick={() => void actions.saveAs(set.name, 'window')}>
          Give me a copy
        </button>
      </div>
      <div class="row">
        <FileButton actions={actions} sort="set">
          Open another set
        </FileButton>
        <button type="button" onClick={() => void actions.newSet('My pattern')}>
          Begin a new set
        </button>
      </div>
      <h3>Report</h3>
      <p>Every finding drawn on its piece, every seam as a ruler, on pages to print.</p>
      <button type="button" class="wide" onClick={() => void actions.report()}>
        Report as a web page
      </button>
      <h3>Pieces at true scale</h3>
      <div class="row">
        <button type="button" onClick={() => void actions.exportAs('pdf', 'a4')}>
          PDF on A4 pages
        </button>
        <button type="button" onClick={() => void actions.exportAs('pdf', 'letter')}>
          PDF on Letter pages
        </button>
        <button type="button" onClick={() => void actions.exportAs('pdf', 'one')}>
          PDF on one large page
        </button>
        <button type="button" onClick={() => void actions.exportAs('svg', 'one')}>
          SVG
        </button>
      </div>
      <FileButton actions={actions} sort="drawings">
        Take in pieces from an SVG
      </FileButton>
      <p class="care">
        Measure the test square of a printed page before you cut by it. Mind blades and pins, cut away from your hand;
        for children's clothes follow the local rules on cords and sleepwear.
      </p>
      <Fold title="What was done" open>
        <Done state={state} />
      </Fold>
    </aside>
  );
}

/** Newest first: steps of this sitting that undo can take back, then what the set itself remembers. */
function Done({ state }: { readonly state: WindowState }) {
  const set = currentSet(state);
  const past = state.open?.history.past ?? [];
  const kept = set?.history ?? [];
  if (past.length + kept.length === 0) return <p>Nothing yet.</p>;
  return (
    <ol class="done">
      {past
        .map((_, i) => past[past.length - 1 - i]!.label)
        .map((label, i) => (
          // Steps have no names of their own; counted from the first they keep their place.
          <li key={past.length - i}>{label}</li>
        ))}
      {kept.toReversed().map(({ sentence }, i) => (
        <li key={`kept ${kept.length - i}`}>{sentence}</li>
      ))}
    </ol>
  );
}
