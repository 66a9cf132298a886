// A set in one size, as the finished measures read it: its outer pieces, its seams walked, and what stands for how much of the
// round.
import { groupedBy } from '../base/groupedBy.ts';
import { timesInRound } from '../pattern/cutList.ts';
import { bodySide, isSleeve } from '../pattern/kinds.ts';
import type { MeasureOptions } from '../pattern/measure.ts';
import type { EdgeSpan, PatternSet, Piece, Size } from '../pattern/model.ts';
import { type SeamWalk, walkSeam } from '../pattern/walk.ts';
import type { FitProblem } from './finishedMeasure.ts';
import { outerPieces, type Traced } from './frame.ts';

export interface Garment {
  readonly size: Size;
  readonly pieces: readonly Traced[];
  readonly walks: readonly SeamWalk[];
  /** By the id of every piece that they run along. */
  readonly walksOf: ReadonlyMap<string, readonly SeamWalk[]>;
  /** The stretches of each piece that are in any seam, walked or not, by its id. */
  readonly spansOf: ReadonlyMap<string, readonly EdgeSpan[]>;
  readonly measuring: MeasureOptions;
  /** How far below the waist the hip is measured, along the side. */
  readonly hipDepthMm: number;
}

export interface GarmentOptions {
  readonly measuring: MeasureOptions;
  readonly hipDepthMm: number;
  /** The seams of this size, where they were walked before. */
  readonly walks?: readonly SeamWalk[];
}

export function garmentIn(set: PatternSet, size: Size, options: GarmentOptions): Garment {
  const walks =
    options.walks ??
    set.seams.flatMap((seam) => {
      const walk = walkSeam(set, seam, size, options.measuring);
      return walk.ok ? [walk.value] : [];
    });
  const { measuring, hipDepthMm } = options;
  const spans = set.seams.flatMap(({ sides }) => sides.flat());
  return {
    size,
    pieces: outerPieces(set, size),
    walks,
    walksOf: byPiece(walks),
    spansOf: groupedBy(spans, ({ piece }) => [piece]),
    measuring,
    hipDepthMm,
  };
}

function byPiece(walks: readonly SeamWalk[]): ReadonlyMap<string, readonly SeamWalk[]> {
  return groupedBy(walks, ({ sides }) => sides.flatMap(({ spans }) => spans.map(({ piece }) => piece.id)));
}

/** How often a piece goes round the body; a pair unless its cut list says that it is single. */
export function timesRound(piece: Piece): 1 | 2 {
  return timesInRound(piece) === 1 ? 1 : 2;
}

/** How often a piece goes round one arm: a sleeve on the fold shows half. */
export function timesRoundArm({ piece, shape }: Traced): 1 | 2 {
  const isFolded = shape.ring.some(({ role }) => role === 'fold') || piece.cut.some(({ onFold }) => onFold);
  return isSleeve(piece.kind) && isFolded ? 2 : 1;
}

/** Front and back must both be there, or the girth is half of it. */
export function missingHalf(pieces: readonly Piece[]): FitProblem | null {
  const sides = pieces.map(bodySide);
  if (!sides.includes('front')) return { kind: 'one-half', missing: 'front' };
  return sides.includes('back') ? null : { kind: 'one-half', missing: 'back' };
}
