// The seam ruler under the canvas: both sides of the chosen seam, or of the seam a finding is about, laid straight under one
// another with their notches.
import { useMemo } from 'preact/hooks';
import { lengthTextIn } from '../../shared/base/lengthText.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { seamRuler } from '../../shared/report/seamRuler.ts';
import { selectedFinding } from '../canvas/scene.ts';
import { currentSet, type WindowState } from '../state/windowState.ts';
import { walkOf } from './seamWalks.ts';

export function RulerStrip({ state }: { readonly state: WindowState }) {
  const set = state.preview?.set ?? currentSet(state);
  const id = seamShown(state);
  const drawing = useMemo(
    () => (set === null || id === null ? null : rulerOf(set, id, state.size)),
    [set, id, state.size],
  );
  if (drawing === null) return null;
  return (
    <figure class="ruler-strip" aria-label={state.preview === null ? 'Seam ruler' : 'Seam ruler after the change'}>
      {/* Our own drawing: every word in it is escaped where it is made. */}
      <div dangerouslySetInnerHTML={{ __html: drawing }} />
    </figure>
  );
}

function seamShown(state: WindowState): string | null {
  if (state.area === 'seams' || state.area === 'sizes') return state.selection.seam;
  if (state.area !== 'findings') return null;
  return selectedFinding(state)?.subjects.find(({ seam }) => seam !== undefined)?.seam ?? null;
}

function rulerOf(set: PatternSet, id: string, size: string): string | null {
  const walk = walkOf(set, id, size);
  return walk === null ? null : seamRuler(walk, lengthTextIn(set.displayUnits));
}
