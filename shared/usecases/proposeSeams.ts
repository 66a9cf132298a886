// Seams proposed for a set: for the window's Seams step, where those confirmed stay as they are, and for judging a set in which
// nobody has written any seam yet.
import type { PatternSet } from '../pattern/model.ts';
import { withProposedSeams } from '../pattern/proposeSeams.ts';

export function proposeFor(set: PatternSet): PatternSet {
  return withProposedSeams(set);
}

export interface JudgedSet {
  readonly set: PatternSet;
  /** Says that the seams are our proposal; null where the set has seams of its own. */
  readonly note: string | null;
}

/** A set without a single seam would be judged on nothing: it is judged on the seams that we would propose, and that is said. */
export function withSeamsToJudge(set: PatternSet): JudgedSet {
  if (set.seams.length > 0) return { set, note: null };
  const proposed = withProposedSeams(set);
  if (proposed.seams.length === 0) return { set, note: null };
  const names = proposed.seams.map((seam) => seam.name).join(', ');
  return {
    set: proposed,
    note: `This set holds no seams, so it was judged on those proposed from kinds, edge names and notches: ${names}. Confirm or change them in the window.`,
  };
}
