// Seams proposed for a set, for the window's Seams step: those confirmed stay as they are.
import type { PatternSet } from '../pattern/model.ts';
import { withProposedSeams } from '../pattern/proposeSeams.ts';

export function proposeFor(set: PatternSet): PatternSet {
  return withProposedSeams(set);
}
