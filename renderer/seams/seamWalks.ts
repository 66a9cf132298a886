// Seams walked for the window, each worked out once for a set: the panel, the ruler and the canvas show the same walk while a
// slider asks for it many times a second.
import { type CheckContext, contextOf } from '../../shared/checks/context.ts';
import { runningDifference, type WalkMark, walkMarks } from '../../shared/checks/seams/walkMarks.ts';
import type { Length } from '../../shared/pattern/measure.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { type RolledSeam, rollSeam } from '../../shared/pattern/rollSeam.ts';
import type { SeamWalk } from '../../shared/pattern/walk.ts';
import { currentSet, type WindowState } from '../state/windowState.ts';

const contexts = new WeakMap<PatternSet, CheckContext>();

export function contextFor(set: PatternSet): CheckContext {
  const known = contexts.get(set);
  if (known !== undefined) return known;
  const context = contextOf(set);
  contexts.set(set, context);
  return context;
}

export function walkOf(set: PatternSet, seam: string, size: string): SeamWalk | null {
  const found = set.seams.find(({ id }) => id === seam);
  const walked = found && contextFor(set).walk(found, size);
  return walked?.ok === true ? walked.value : null;
}

export interface ShownWalk {
  readonly walk: SeamWalk;
  readonly rolled: RolledSeam;
  readonly marks: readonly WalkMark[];
  /** The second side's length so far less the first's. */
  readonly running: Length;
}

/** The walk that is being shown; null = none is, or the chosen seam cannot be walked. */
export function shownWalk(state: WindowState): ShownWalk | null {
  const set = currentSet(state);
  const { walking, selection, area, size } = state;
  if (set === null || walking === null || area !== 'seams' || walking.seam !== selection.seam) return null;
  const walk = walkOf(set, walking.seam, size);
  if (walk === null) return null;
  const context = contextFor(set);
  const rolled = rollSeam(walk, walking.alongMm, walking.rolling);
  return {
    walk,
    rolled,
    marks: walkMarks(walk, rolled, walking.rolling, context),
    running: runningDifference(walk, rolled, context),
  };
}
