// Seams proposed from kinds, edge names, notches and lengths: what is usually sewn to what. The person confirms or changes
// them; nothing that is confirmed is touched. What fits nowhere is left open: a wrong seam is worse than none.
import type { PatternSet, Seam } from './model.ts';
import { type Layer, SeamBook } from './proposals/book.ts';
import {
  proposeArmholes,
  proposeInseams,
  proposeMirrors,
  proposeOneName,
  proposePrincess,
  proposeRaglans,
  proposeShoulders,
  proposeSides,
  proposeSleeveSeams,
  proposeYokes,
} from './proposals/panels.ts';
import {
  proposeCollars,
  proposeCuffs,
  proposeFacings,
  proposeLinings,
  proposeTiers,
  proposeWaists,
} from './proposals/trims.ts';

/** The set with its confirmed seams and fresh proposals for the edges that these leave free. */
export function withProposedSeams(set: PatternSet): PatternSet {
  return { ...set, seams: [...set.seams.filter((seam) => seam.status === 'confirmed'), ...proposeSeams(set)] };
}

/** Proposed seams only, for edges that no confirmed seam holds. */
export function proposeSeams(set: PatternSet): readonly Seam[] {
  const book = new SeamBook(set);
  const steps: Readonly<Record<Layer, readonly ((book: SeamBook) => void)[]>> = {
    outer: [...PANELS, ...TRIMS, proposeOneName, proposeMirrors],
    lining: [...PANELS, proposeMirrors, proposeLinings],
  };
  for (const layer of ['outer', 'lining'] as const) {
    book.layer = layer;
    for (const step of steps[layer]) step(book);
  }
  return book.seams;
}

/** In this order: what an earlier step has used is not free for a later one. */
const PANELS: readonly ((book: SeamBook) => void)[] = [
  proposeShoulders,
  proposeSides,
  proposePrincess,
  proposeYokes,
  proposeInseams,
  proposeSleeveSeams,
  proposeRaglans,
  proposeArmholes,
];

const TRIMS: readonly ((book: SeamBook) => void)[] = [
  proposeCollars,
  proposeWaists,
  proposeTiers,
  proposeCuffs,
  proposeFacings,
];
