// Seams proposed for a set: those confirmed stay as they are.
import type { PatternSet } from '../pattern/model.ts';

export function proposeFor(set: PatternSet): PatternSet {
  return set;
}
