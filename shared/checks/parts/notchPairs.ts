// Notches that meet across a seam, pair by pair, for the rules about their number and their places.
import type { Pair } from '../../pattern/matchNotches.ts';
import type { SideNotch } from '../../pattern/spans.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import { inWalks, type Subjects } from '../subjects.ts';

export interface NotchPair {
  readonly walk: SeamWalk;
  readonly pair: Pair;
  readonly first: SideNotch;
  readonly second: SideNotch;
}

/** An edge that is sewn to its own mirror image meets its own notches and is left out. */
export const NOTCH_PAIRS: Subjects<NotchPair> = inWalks((walk) =>
  walk.sorted.sort === 'mirror'
    ? []
    : walk.matched.pairs.flatMap((pair) =>
        pair.first.kind === 'notch' && pair.second.kind === 'notch'
          ? [{ walk, pair, first: pair.first.notch, second: pair.second.notch }]
          : [],
      ),
);
