// What a change has left behind: seams of which one side was redrawn and the other did not follow. Compares a set with what
// it was; a piece remembers the shape it had before its alterations, so a set can also be compared with its own past.
import { COINCIDENT_MM } from '../geometry/tolerances.ts';
import type { EdgeSpan, PatternSet, Piece, Seam, Size } from './model.ts';
import { sortSeam } from './seamSort.ts';
import { type SeamWalk, walkSeam } from './walk.ts';

export interface LeftBehind {
  readonly seam: Seam;
  readonly size: Size;
  /** The side that changed more, and the one that did not follow. */
  readonly changed: 0 | 1;
  readonly follower: 0 | 1;
  /** Change of the sewn length of each side. */
  readonly changedByMm: readonly [number, number];
  /** Second side less first, as laid out, before and after. */
  readonly easeBeforeMm: number;
  readonly easeAfterMm: number;
  /** How much longer (shorter where negative) the follower must become to bring the ease back. */
  readonly missingMm: number;
  /** The same by section between the marks, from the seam's start; null when the marks changed in number. */
  readonly missingBySectionMm: readonly number[] | null;
  /** Edges of the follower that did not change at all. */
  readonly unchanged: readonly EdgeSpan[];
}

/** Lengths are compared with themselves: how sure an allowance is does not matter. */
const EXACT = { assumedAllowanceSigmaMm: 0 } as const;

/** The set with every piece in the shape that it had before its alterations. */
export function beforeAlterations(set: PatternSet): PatternSet {
  if (set.pieces.every((piece) => piece.before === undefined)) return set;
  return {
    ...set,
    pieces: set.pieces.map((piece): Piece => {
      return piece.before === undefined ? piece : { ...piece, shapes: { ...piece.shapes, ...piece.before } };
    }),
  };
}

/**
 * Every seam and size in which the sides no longer meet as they did: the ease, or the ease of one section, has changed by
 * more than leastMm and is not what the plan wants either.
 */
export function leftBehind(before: PatternSet, after: PatternSet, leastMm: number): readonly LeftBehind[] {
  const changedPieces = new Set(
    after.pieces
      .filter((piece) =>
        isChanged(
          before.pieces.find(({ id }) => id === piece.id),
          piece,
        ),
      )
      .map(({ id }) => id),
  );
  return after.seams.flatMap((seam) => {
    const { sort } = sortSeam(after, seam);
    const isTouched = seam.sides.flat().some((span) => changedPieces.has(span.piece));
    if (!isTouched || sort === 'mirror' || sort === 'rises') return [];
    const was = before.seams.find(({ id }) => id === seam.id) ?? seam;
    return sizesOf(after).flatMap((size) => {
      const old = walkSeam(before, was, size, EXACT);
      const now = walkSeam(after, seam, size, EXACT);
      if (!old.ok || !now.ok) return [];
      const found = compareWalks(old.value, now.value, leastMm);
      return found === null ? [] : [found];
    });
  });
}

function compareWalks(old: SeamWalk, now: SeamWalk, leastMm: number): LeftBehind | null {
  const totals = (walk: SeamWalk) => [walk.sides[0].total.valueMm, walk.sides[1].total.valueMm] as const;
  const [was, is] = [totals(old), totals(now)];
  const changedByMm = [is[0] - was[0], is[1] - was[1]] as const;
  const easeBeforeMm = was[1] - was[0];
  const easeAfterMm = is[1] - is[0];
  // Where both changed alike the first is named, whatever the last digits say.
  const changed = Math.abs(changedByMm[1]) - Math.abs(changedByMm[0]) > COINCIDENT_MM ? 1 : 0;
  const follower = changed === 0 ? 1 : 0;
  const sign = follower === 1 ? 1 : -1;
  const wantedMm = now.seam.wantedEaseMm;
  const isAsWanted = wantedMm !== null && Math.abs(easeAfterMm - wantedMm) <= leastMm;
  const missingMm = isAsWanted ? 0 : sign * (easeBeforeMm - easeAfterMm);
  const bySection = sectionsMissing(old, now, sign);
  // An ease that was brought to what the plan wants has other sections than before on purpose.
  const wasMended = isAsWanted && Math.abs(easeAfterMm - easeBeforeMm) > leastMm;
  const sectionOff = !wasMended && (bySection ?? []).some((mm) => Math.abs(mm) > leastMm);
  if (Math.abs(missingMm) <= leastMm && !sectionOff) return null;
  const unchanged = now.sides[follower].spans
    .filter(
      (walked, i) => Math.abs(walked.length.valueMm - (old.sides[follower].spans[i]?.length.valueMm ?? 0)) <= leastMm,
    )
    .map(({ span }) => span);
  return {
    seam: now.seam,
    size: now.size,
    changed,
    follower,
    changedByMm,
    easeBeforeMm,
    easeAfterMm,
    missingMm,
    missingBySectionMm: bySection,
    unchanged,
  };
}

function sectionsMissing(old: SeamWalk, now: SeamWalk, sign: 1 | -1): readonly number[] | null {
  if (old.sections.length !== now.sections.length) return null;
  return now.sections.map((section, i) => sign * (old.sections[i]!.difference.valueMm - section.difference.valueMm));
}

function isChanged(was: Piece | undefined, is: Piece): boolean {
  return was === undefined || was.shapes !== is.shapes;
}

function sizesOf(set: PatternSet): readonly Size[] {
  return [...new Set(set.pieces.flatMap((piece) => Object.keys(piece.shapes)))];
}
