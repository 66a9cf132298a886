// Walks a seam: a slider rolls the second side along the first on the canvas. Arrow keys go a millimetre, Page Up and Page Down
// further, Home and End to the ends; two buttons go from mark to mark.

import type { LengthText } from '../../shared/base/lengthText.ts';
import { COVERAGE_FACTOR } from '../../shared/base/measured.ts';
import type { MarkState } from '../../shared/checks/seams/walkMarks.ts';
import type { Seam } from '../../shared/pattern/model.ts';
import { meetingAngleDeg, partingPlace, type Rolling } from '../../shared/pattern/rollSeam.ts';
import { namesOf } from '../../shared/report/seamRuler.ts';
import type { Actions } from '../app/actions.ts';
import { Choice } from '../app/Field.tsx';
import { lengthsOf } from '../app/lengths.ts';
import { currentSet, type Walking, type WindowState } from '../state/windowState.ts';
import { MARK_COLOURS, MARK_SHAPES, markSentence } from './markWords.ts';
import { contextFor, type ShownWalk, shownWalk } from './seamWalks.ts';

interface Props {
  readonly seam: Seam;
  readonly state: WindowState;
  readonly actions: Actions;
}

export function WalkSlider({ seam, state, actions }: Props) {
  const shown = shownWalk(state);
  const { walking } = state;
  const start = () => {
    actions.patch({ walking: { seam: seam.id, alongMm: 0, rolling: 'even' } });
    actions.goTo({ kind: 'walk' });
  };
  const stop = () => {
    actions.patch({ walking: null });
    actions.goTo({ kind: 'seam', seam: seam.id });
  };
  if (shown === null || walking === null) {
    return (
      <button type="button" class="wide" onClick={start}>
        Walk this seam
      </button>
    );
  }
  return (
    <section class="walk" aria-label="Walk of the seam">
      <Slider shown={shown} walking={walking} lengths={lengthsOf(state)} actions={actions} />
      <p class="numbers" aria-live="polite">
        {runningWords(shown, lengthsOf(state))}
      </p>
      <Marks shown={shown} lengths={lengthsOf(state)} />
      <Parting shown={shown} walking={walking} state={state} actions={actions} />
      <Choice<Rolling>
        label="How it is rolled"
        value={walking.rolling}
        choices={[
          ['even', 'paper on paper: equal lengths touch'],
          ['eased', 'as sewn: notch to notch, the ease spread between'],
        ]}
        onChoose={(rolling) => actions.patch({ walking: { ...walking, rolling } })}
      />
      <button type="button" class="wide" onClick={stop}>
        End the walk
      </button>
    </section>
  );
}

interface PartProps {
  readonly shown: ShownWalk;
  readonly walking: Walking;
  readonly actions: Actions;
}

function Slider({ shown, walking, lengths, actions }: PartProps & { readonly lengths: LengthText }) {
  const { walk, rolled, marks } = shown;
  const totalMm = walk.sides[0].total.valueMm;
  const go = (alongMm: number) =>
    actions.patch({ walking: { ...walking, alongMm: Math.min(Math.max(alongMm, 0), totalMm) } });
  const stops = [0, ...marks.map(({ atMm }) => atMm[0] ?? atMm[1] ?? 0)].toSorted((a, b) => a - b);
  const [atMm] = rolled.atMm;
  const before = stops.findLast((mm) => mm < atMm - SAME_STOP_MM);
  const after = stops.find((mm) => mm > atMm + SAME_STOP_MM && mm <= totalMm);
  return (
    <>
      <div class="field">
        <label for="walk-slider">
          {namesOf(walk.sides[1])} rolled along {namesOf(walk.sides[0])}
        </label>
        <input
          id="walk-slider"
          type="range"
          min={0}
          max={Math.ceil(totalMm)}
          step={1}
          value={atMm}
          aria-valuetext={runningWords(shown, lengths)}
          onInput={(event) => go(Number(event.currentTarget.value))}
        />
      </div>
      <div class="row">
        <button type="button" disabled={before === undefined} onClick={() => go(before ?? 0)}>
          ◂ Mark before
        </button>
        <button type="button" disabled={after === undefined} onClick={() => go(after ?? totalMm)}>
          Next mark ▸
        </button>
      </div>
    </>
  );
}

/** Stops nearer than this are one: a slider's step cannot part them. */
const SAME_STOP_MM = 0.05;

function runningWords({ walk, rolled, running }: ShownWalk, lengths: LengthText): string {
  const [atMm] = rolled.atMm;
  const along = `${lengths.bare(atMm)} of ${lengths.words(walk.sides[0].total.valueMm)}`;
  if (lengths.bare(running.valueMm) === lengths.bare(0)) return `${along}: both sides are even so far`;
  const more = lengths.uncertain(Math.abs(running.valueMm), COVERAGE_FACTOR * running.sigmaMm);
  return `${along}: the second side is ${more} ${running.valueMm < 0 ? 'shorter' : 'longer'} so far`;
}

function Marks({ shown: { marks }, lengths }: { readonly shown: ShownWalk; readonly lengths: LengthText }) {
  return (
    <ol class="marks" aria-label="Marks along the seam" aria-live="polite">
      {marks.map((mark) => (
        <li key={`${mark.name} ${mark.atMm.join()}`} data-state={mark.state}>
          <MarkSign state={mark.state} />
          <span>{markSentence(mark, lengths)}</span>
        </li>
      ))}
    </ol>
  );
}

function MarkSign({ state }: { readonly state: MarkState }) {
  const { path, dash } = MARK_SHAPES[state];
  const colour = MARK_COLOURS[state];
  const look =
    dash === 'filled'
      ? { fill: colour }
      : { fill: 'none', stroke: colour, 'stroke-width': '3', 'stroke-dasharray': dash.join(' ') };
  return (
    <svg viewBox="0 0 24 24" width="16" height="16" aria-hidden="true">
      <path d={path} {...look} />
    </svg>
  );
}

/** Where the sides part when rolled evenly, and in which angle the edges beside them meet at both ends. */
function Parting({ shown: { walk, marks }, walking, state, actions }: PartProps & { readonly state: WindowState }) {
  const set = currentSet(state);
  if (set === null) return null;
  const lengths = lengthsOf(state);
  const { limits } = contextFor(set);
  const parting = partingPlace(walk, limits.notch.valueMm);
  const angles = (['start', 'end'] as const).map((end) => [end, meetingAngleDeg(walk, end)] as const);
  const isEased = walk.seam.join !== 'even' && walking.rolling === 'even';
  return (
    <>
      {isEased && (
        <p>This seam is {walk.seam.join}: what is off may be its ease. “As sewn” brings the notches together.</p>
      )}
      {parting === null ? (
        <p>Rolled evenly, every mark meets within {lengths.words(limits.notch.valueMm)}.</p>
      ) : (
        <p>
          Rolled evenly, they first part at the {marks.find(({ atMm }) => atMm[0] === parting.anchor.atMm[0])?.name} at{' '}
          {lengths.words(parting.anchor.atMm[0])}, by {lengths.words(Math.abs(parting.missMm))}.{' '}
          <button
            type="button"
            onClick={() => actions.patch({ walking: { ...walking, rolling: 'even', alongMm: parting.anchor.atMm[0] } })}
          >
            Go there
          </button>
        </p>
      )}
      {angles.map(
        ([end, deg]) =>
          deg !== null && (
            <p key={end}>
              At the {end} the edges beside the seam meet in {deg.toFixed(1)}° (180° runs straight on).
            </p>
          ),
      )}
    </>
  );
}
